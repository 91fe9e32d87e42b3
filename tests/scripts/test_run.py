"""scripts/run.py, started as a person starts it, in a tiny project of its own."""

from __future__ import annotations

import ast
import signal
import socket
import subprocess
import sys
from pathlib import Path

import pytest

from tests.support.tiny_project import ROOT, FirstStart, TinyProject, a_free_port

# Nothing listens on the discard port, so a connection is refused at once.
NO_INDEX = {"PIP_NO_INDEX": "0", "PIP_FIND_LINKS": "", "PIP_INDEX_URL": "http://127.0.0.1:9/simple"}
HOSTILE = {
    "PIP_CONSTRAINT": "/nowhere/constraints.txt",
    "PIP_NO_BINARY": ":all:",
    "PIP_REQUIREMENT": "/nowhere/requirements.txt",
    "PIP_TARGET": "/nowhere/target",
    "PIP_USER": "1",
}


def one_sentence(ended: subprocess.CompletedProcess[str]) -> str:
    """Return what a failed start said, having made sure that it was one sentence."""
    lines = ended.stderr.strip().splitlines()
    assert ended.returncode != 0
    assert len(lines) == 1, ended.stderr
    assert lines[0].endswith(".")
    return lines[0]


def test_a_first_start_installs_from_the_lock_and_serves(first_start: FirstStart) -> None:
    assert first_start.ended.returncode == 0, first_start.ended.stderr
    making, installing, unpacking, serving = first_start.ended.stdout.splitlines()
    assert making.startswith("Making the environment")
    assert installing == "Installing 1 of 1: tiny"
    assert unpacking == "Unpacking all 1"
    asked = ["serve", "--host", "127.0.0.1", "--port", str(first_start.port)]
    assert serving == f"serving here {asked}"


def test_a_second_start_installs_nothing(standing: TinyProject, tmp_path: Path) -> None:
    nothing_to_be_had = {"PIP_FIND_LINKS": str(tmp_path)}
    ended = standing.run("--port", str(a_free_port()), **nothing_to_be_had)
    assert ended.returncode == 0, ended.stderr
    assert ended.stdout.startswith("serving here")


def test_pip_configuration_that_would_break_the_installation_is_left_out(tiny: TinyProject) -> None:
    links = {"PIP_FIND_LINKS": f"/nowhere/wheels {tiny.wheels.as_uri()}"}
    (tiny.wheels / "tiny.py").write_text("raise SystemExit('the wrong tiny')", "utf-8")
    foreign = {"PYTHONPATH": str(tiny.wheels), **HOSTILE, **links}
    ended = tiny.run("--port", str(a_free_port()), **foreign)
    assert ended.returncode == 0, ended.stderr
    assert "serving here" in ended.stdout


def test_what_was_asked_is_handed_on_and_the_exit_status_comes_back(standing: TinyProject) -> None:
    ended = standing.run("--empty", "--host", "0.0.0.0", "--port", str(a_free_port()))
    assert ended.returncode == 7
    assert "'--host', '0.0.0.0'" in ended.stdout
    assert "'--empty']" in ended.stdout


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        pytest.param(["--port", "0"], "from 1 to 65535", id="port 0"),
        pytest.param(["--port", "65536"], "from 1 to 65535", id="port 65536"),
        pytest.param(["--port", "http"], "from 1 to 65535", id="a port in words"),
        pytest.param(["--port"], "expected one argument", id="no port"),
        pytest.param(["--quick"], "--quick", id="an option there is not"),
        pytest.param(["--empty", "--demo"], "not allowed with", id="two shops at once"),
        pytest.param(["--host", "192.0.2.7", "--demo"], "192.0.2.7", id="an address elsewhere"),
        pytest.param(["--lan", "--empty", "--port", "65535"], "next port", id="no port after it"),
    ],
)
def test_nonsense_on_the_command_line_gets_one_sentence(
    tiny: TinyProject, arguments: list[str], said: str
) -> None:
    assert said in one_sentence(tiny.run(*arguments))
    assert not (tiny.folder / ".venv").exists()


def test_a_taken_port_stops_before_anything_is_installed(tiny: TinyProject) -> None:
    with socket.create_server(("127.0.0.1", 0)) as other_program:
        port = other_program.getsockname()[1]
        assert f"Port {port}" in one_sentence(tiny.run("--port", str(port)))
    assert not (tiny.folder / ".venv").exists()


def test_on_the_network_the_page_for_new_phones_needs_the_next_port(tiny: TinyProject) -> None:
    with socket.create_server(("127.0.0.1", 0)) as other_program:
        port = other_program.getsockname()[1]
        here = ("--lan", "--empty", "--host", "127.0.0.1", "--port", str(port - 1))
        assert f"Port {port}" in one_sentence(tiny.run(*here))
    assert not (tiny.folder / ".venv").exists()


def test_the_network_is_served_over_https_when_it_is_asked_for(standing: TinyProject) -> None:
    ended = standing.run("--lan", "--empty", "--port", str(a_free_port()))
    assert "'--host', '0.0.0.0'" in ended.stdout
    assert "'--lan', '--empty']" in ended.stdout


def test_a_demo_shop_stays_on_this_machine_unless_it_is_asked_out(tiny: TinyProject) -> None:
    port = str(a_free_port())
    for outside in (("--host", "0.0.0.0"), ("--lan",)):
        assert "--demo" in one_sentence(tiny.run(*outside, "--port", port))
    assert not (tiny.folder / ".venv").exists()


@pytest.mark.parametrize("asked", ["--demo", "--empty"])
def test_the_network_is_served_when_it_is_asked_for(standing: TinyProject, asked: str) -> None:
    ended = standing.run("--host", "0.0.0.0", "--port", str(a_free_port()), asked)
    assert "serving here" in ended.stdout


def test_data_that_cannot_be_written_stops_before_anything_is_installed(tiny: TinyProject) -> None:
    # A file where the folder should be: permission bits do not hold root back.
    (tiny.folder / "instance").write_text("not a folder", "utf-8")
    said = one_sentence(tiny.run("--port", str(a_free_port())))
    assert f"{tiny.folder / 'instance'}, where the data lies, cannot be written to" in said
    assert not (tiny.folder / ".venv").exists()


def test_a_python_without_venv_names_the_package_that_adds_it(tiny: TinyProject) -> None:
    ended = tiny.run("--port", str(a_free_port()), before="sys.modules['ensurepip'] = None")
    assert "apt install python3-venv" in one_sentence(ended)


@pytest.mark.parametrize("script", ["run.py", "test.py"])
def test_an_old_python_can_read_the_scripts_and_is_told_its_age(script: str) -> None:
    path = ROOT / "scripts" / script
    tree = ast.parse(path.read_text("utf-8"), feature_version=(3, 7))
    # Nothing that an old Python lacks may be imported before the gate.
    assert [type(part).__name__ for part in tree.body[:3]] == ["Expr", "Import", "If"]
    old = "sys.version_info = (3, 6, 15, 'final', 0); sys.version = '3.6.15 (old)'"
    code = f"import runpy, sys; {old}; runpy.run_path({str(path)!r}, run_name='__main__')"
    ended = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=False
    )
    assert one_sentence(ended) == "Python 3.11 or newer is needed, and this is 3.6.15."


def test_without_a_network_the_first_start_says_so(tiny: TinyProject) -> None:
    ended = tiny.run("--port", str(a_free_port()), **NO_INDEX)
    assert "the package index does not answer" in one_sentence(ended)


def test_a_damaged_package_is_refused(tiny: TinyProject) -> None:
    with next(tiny.wheels.glob("*.whl")).open("ab") as wheel:
        wheel.write(b"one bit more")
    assert "damaged or altered" in one_sentence(tiny.run("--port", str(a_free_port())))


@pytest.mark.parametrize("stop", ["SIGINT", "SIGKILL"])
@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no such signals")
def test_an_installation_stopped_half_way_is_done_again(tiny: TinyProject, stop: str) -> None:
    port = str(a_free_port())
    with socket.create_server(("127.0.0.1", 0)) as silent:
        index = f"http://127.0.0.1:{silent.getsockname()[1]}/simple"
        with tiny.start("--port", port, **{**NO_INDEX, "PIP_INDEX_URL": index}) as started:
            silent.settimeout(30)
            asking, _ = silent.accept()
            started.send_signal(signal.Signals[stop])
            said = "" if stop == "SIGKILL" else started.communicate(timeout=30)[1]
            asking.close()
    assert said.strip() == (
        "" if stop == "SIGKILL" else "Stopped. Run the same command again to go on."
    )
    again = tiny.run("--port", port)
    assert again.returncode == 0, again.stderr
    assert "Installing 1 of 1: tiny" in again.stdout


def test_two_first_starts_at_once_make_one_environment(tiny: TinyProject) -> None:
    ports = [str(a_free_port()), str(a_free_port())]
    with tiny.start("--port", ports[0]) as one, tiny.start("--port", ports[1]) as other:
        said = [started.communicate(timeout=60) for started in (one, other)]
    assert (one.returncode, other.returncode) == (0, 0), said
    assert sum("Installing 1 of 1: tiny" in out for out, _ in said) == 1
    assert all("serving here" in out for out, _ in said)


def test_a_folder_that_is_no_environment_is_not_deleted(tiny: TinyProject) -> None:
    diary = tiny.folder / ".venv" / "diary.txt"
    diary.parent.mkdir()
    diary.write_text("dear diary", "utf-8")
    assert "is in the way" in one_sentence(tiny.run("--port", str(a_free_port())))
    assert diary.read_text("utf-8") == "dear diary"
