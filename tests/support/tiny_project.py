"""A tiny project beside the real one: the same scripts, a lock of one small package."""

from __future__ import annotations

import hashlib
import os
import shutil
import socket
import subprocess
import sys
import zipfile
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
SHOW_ARGUMENTS = """\
import sys
import tiny
print("serving", tiny.WORD, sys.argv[1:])
sys.exit(7 if "--empty" in sys.argv else 0)
"""
METADATA = "Metadata-Version: 2.1\nName: {}\nVersion: 1.0\n"
WHEEL = "Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-any\n"
PYPROJECT = """\
[build-system]
requires = []
build-backend = "backend"
backend-path = ["."]

[project]
name = "academy"
version = "1.0"
"""
# What setuptools does for the real project: a wheel that only points back to the folder.
BACKEND = f"""\
import os, zipfile

def build_editable(folder, config_settings=None, metadata_directory=None):
    name = "academy-1.0-py3-none-any.whl"
    with zipfile.ZipFile(os.path.join(folder, name), "w") as wheel:
        wheel.writestr("academy.pth", os.getcwd())
        wheel.writestr("academy-1.0.dist-info/METADATA", {METADATA.format("academy")!r})
        wheel.writestr("academy-1.0.dist-info/WHEEL", {WHEEL!r})
        wheel.writestr("academy-1.0.dist-info/RECORD", "")
    return name

build_wheel = build_editable
"""


@dataclass(frozen=True, slots=True)
class TinyProject:
    """A folder with the scripts in it; ``wheels`` is where its one package lies."""

    folder: Path
    wheels: Path

    def surroundings(self, **settings: str) -> dict[str, str]:
        """Return this process's environment, with the tiny package as the only one to be had."""
        plain = {
            name: value
            for name, value in os.environ.items()
            if not name.startswith(("PIP_", "ACADEMY_"))
        }
        sources = {"PIP_NO_INDEX": "1", "PIP_FIND_LINKS": str(self.wheels), "PIP_RETRIES": "0"}
        return {**plain, "PIP_CONFIG_FILE": os.devnull, **sources, **settings}

    def start(self, *arguments: str, before: str = "", **settings: str) -> subprocess.Popen[str]:
        """Start scripts/run.py here; ``before`` is run first, in the same Python."""
        script = self.folder / "scripts" / "run.py"
        code = (
            f"import runpy, sys; {before or 'pass'}\nsys.path.insert(0, {str(script.parent)!r})\n"
        )
        code += f"sys.argv = {[str(script), *arguments]!r}\n"
        code += f"runpy.run_path({str(script)!r}, run_name='__main__')"
        return subprocess.Popen(
            [sys.executable, "-c", code],
            cwd=self.wheels, env=self.surroundings(**settings), stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        )  # fmt: skip

    def run(
        self, *arguments: str, before: str = "", **settings: str
    ) -> subprocess.CompletedProcess[str]:
        """Run scripts/run.py here to its end."""
        with self.start(*arguments, before=before, **settings) as started:
            out, err = started.communicate(timeout=60)
        return subprocess.CompletedProcess(started.args, started.returncode, out, err)


@dataclass(frozen=True, slots=True)
class FirstStart:
    """A project after scripts/run.py ran in it once."""

    project: TinyProject
    port: int
    ended: subprocess.CompletedProcess[str]


def a_tiny_project(folder: Path) -> TinyProject:
    """Return a project whose only package lies on the disk, and whose academy says what it is told."""
    root, wheels = folder / "a tiny project", folder / "wheels"
    scripts = ROOT / "scripts"
    shutil.copytree(scripts, root / "scripts", ignore=shutil.ignore_patterns("__pycache__"))
    (root / "academy").mkdir()
    (root / "academy" / "__main__.py").write_text(SHOW_ARGUMENTS, "utf-8")
    (root / "backend.py").write_text(BACKEND, "utf-8")
    (root / "pyproject.toml").write_text(PYPROJECT, "utf-8")
    wheels.mkdir()
    wheel = wheels / "tiny-1.0-py3-none-any.whl"
    with zipfile.ZipFile(wheel, "w") as archive:
        archive.writestr("tiny.py", "WORD = 'here'\n")
        archive.writestr("tiny-1.0.dist-info/METADATA", METADATA.format("tiny"))
        archive.writestr("tiny-1.0.dist-info/WHEEL", WHEEL)
        archive.writestr("tiny-1.0.dist-info/RECORD", "")
    digest = hashlib.sha256(wheel.read_bytes()).hexdigest()
    (root / "requirements.lock").write_text(f"tiny==1.0 --hash=sha256:{digest}\n", "utf-8")
    return TinyProject(root, wheels)


def a_free_port() -> int:
    """Return a port that nobody uses just now."""
    with socket.create_server(("127.0.0.1", 0)) as passing:
        port: int = passing.getsockname()[1]
    return port
