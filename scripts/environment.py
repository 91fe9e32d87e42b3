"""A virtual environment that is made once, whole or not at all, from a lock."""

from __future__ import annotations

import hashlib
import importlib.util
import os
import shutil
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from machine import refusal, this_machine
from packages import install, install_project, plain_environment
from sentences import FULL_DISK, CannotGoOn
from turns import in_turn

ROOT = Path(__file__).resolve().parent.parent


@dataclass(frozen=True, slots=True)
class Environment:
    """``folder`` is made from ``lock``; ``root`` is the project installed into it, if any."""

    folder: Path
    lock: Path
    root: Path | None = ROOT

    @property
    def python(self) -> Path:
        """Where this environment's Python lies."""
        if os.name == "nt":
            return self.folder / "Scripts" / "python.exe"
        return self.folder / "bin" / "python"

    @property
    def stamp(self) -> Path:
        """The file that is written last: with it the environment is whole."""
        return self.folder / "made-from"

    def digest(self) -> str:
        """Return what the environment depends on, in one number."""
        parts = (sys.version, sys.base_prefix, str(self.folder.absolute()), str(self.root))
        made_from = hashlib.sha256(self.lock.read_bytes())
        made_from.update("\n".join(parts).encode())
        return made_from.hexdigest()

    def is_whole(self) -> bool:
        """Return whether the environment stands and was made from today's lock and Python."""
        try:
            return self.python.exists() and self.stamp.read_text("ascii") == self.digest()
        except (OSError, ValueError):
            return False

    def make(self) -> Path:
        """Return the environment's Python, making the environment where it is not whole."""
        if not self.is_whole():
            _check_this_python()
            with in_turn(self.lock):
                # Whoever had the turn before may have made it.
                if not self.is_whole():
                    self._make_anew()
        return self.python

    def _make_anew(self) -> None:
        _clear(self.folder)
        print(f"Making the environment in {self.folder} (a few minutes, once)", flush=True)
        _create(self.folder)
        install(self.python, self.lock)
        if self.root:
            install_project(self.python, self.root)
        self.stamp.write_text(self.digest(), "ascii")


def run_in(python: Path, arguments: Sequence[str], folder: Path) -> int:
    """Return the exit status of ``python`` run in ``folder``; elsewhere than on Windows it
    takes this process's place and nothing returns.
    """
    sys.stdout.flush()
    command = [str(python), *arguments]
    surroundings = plain_environment(os.environ)
    os.chdir(folder)
    if os.name != "nt":
        os.execve(python, command, surroundings)
    with subprocess.Popen(command, env=surroundings) as program:
        while True:
            try:
                return program.wait()
            except KeyboardInterrupt:
                # Ctrl-C reaches the program as well; it says goodbye by itself.
                continue


def _check_this_python() -> None:
    reason = refusal(this_machine())
    if reason:
        raise CannotGoOn(reason)
    if not (importlib.util.find_spec("venv") and importlib.util.find_spec("ensurepip")):
        raise CannotGoOn(NO_VENV)


def _clear(folder: Path) -> None:
    """Remove what is left of an environment, and nothing that is not one."""
    marker = folder / "pyvenv.cfg"
    try:
        if not folder.exists() and not folder.is_symlink():
            return
        if not folder.is_dir() or (any(folder.iterdir()) and not marker.exists()):
            raise CannotGoOn(
                f"{folder} is in the way and is not an environment; move it elsewhere."
            )
        # The marker goes last, so that a removal that was interrupted is taken up again.
        for entry in sorted(folder.iterdir(), key=lambda entry: entry == marker):
            if entry.is_dir() and not entry.is_symlink():
                shutil.rmtree(entry)
            else:
                entry.unlink()
    except OSError as problem:
        raise CannotGoOn(
            f"The old environment in {folder} cannot be removed ({problem.strerror}); "
            "stop the programs that use it and run the same command again."
        ) from None


def _create(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as problem:
        raise CannotGoOn(
            f"The folder {folder.parent} cannot be written to ({problem.strerror}); copy the "
            "project into a folder of your own and run the same command there."
        ) from None
    # The base Python, not one of an environment: this script may run inside the one it replaces.
    base = getattr(sys, "_base_executable", None) or sys.executable
    made = subprocess.run(
        [base, "-I", "-m", "venv", str(folder)],
        env=plain_environment(os.environ), stdin=subprocess.DEVNULL,
        capture_output=True, text=True, errors="replace", check=False,
    )  # fmt: skip
    if made.returncode:
        raise CannotGoOn(_no_environment(made.stdout + made.stderr, folder))


def _no_environment(said: str, folder: Path) -> str:
    # venv does not hand on why its ensurepip part failed, and on a full disk that part fails.
    if shutil.disk_usage(folder).free < ROOM_FOR_PIP_BYTES:
        return FULL_DISK
    if "ensurepip is not available" in said:
        return NO_VENV
    lines = said.strip().splitlines() or ["no reason given"]
    return f"Python could not make an environment: {lines[-1].rstrip('.')}."


ROOM_FOR_PIP_BYTES = 50_000_000
NO_VENV = (
    "This Python cannot make environments (its venv or ensurepip part is missing); on Debian and "
    "Ubuntu 'sudo apt install python3-venv' adds it, elsewhere install a complete Python."
)
