"""Installing locked packages with pip, told in short lines and failing in sentences."""

from __future__ import annotations

import ast
import os
import re
import subprocess
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path

from machine import NEWEST_WITH_PACKAGES
from sentences import FULL_DISK, CannotGoOn

# Where and how packages are fetched is the user's to say.  Everything else in pip's
# configuration (constraints, targets, --user, formats) could only break a locked install.
KEPT = frozenset(
    {
        *("index-url", "extra-index-url", "no-index", "find-links", "trusted-host", "proxy"),
        *("cert", "client-cert", "keyring-provider", "cache-dir", "no-cache-dir"),
        *("timeout", "default-timeout", "retries", "resume-retries"),
    }
)


def install(python: Path, lock: Path) -> None:
    """Install what ``lock`` pins, each file checked against its hash, nothing compiled."""
    options = ["--require-hashes", "--only-binary", ":all:", "--no-compile", "-r", str(lock)]
    _pip(python, options, Progress(lock.read_text(encoding="utf-8")))


def install_project(python: Path, root: Path) -> None:
    """Make the project's own command known to the environment, from where it lies."""
    options = ["--no-deps", "--no-build-isolation", "--no-index", "-e", str(root)]
    _pip(python, options, None)


class Progress:
    """Turns pip's lines into 'Installing 23 of 45: numpy'."""

    def __init__(self, lock: str) -> None:
        self.total = len(re.findall(r"^[A-Za-z0-9]", lock, re.MULTILINE))
        self.count = 0

    def line(self, said: str) -> str | None:
        """Return what to show for one line of pip's, or None."""
        first, _, rest = said.partition(" ")
        if first == "Ignoring":
            self.total -= 1
        elif first in {"Collecting", "Processing"}:
            # pip 'collects' from an index and 'processes' a file that lies on a disk.
            self.count += 1
            file = re.split(r"[/\\]", rest.partition(" (from ")[0].strip())[-1]
            name = re.split(r"[=<>~!\[; ]|-\d", file)[0]
            return f"Installing {self.count} of {max(self.total, self.count)}: {name}"
        elif said.startswith("Installing collected packages:"):
            return f"Unpacking all {self.count}"
        return None


def kept_configuration(listing: str) -> dict[str, str]:
    """Return, as environment variables, what ``pip config list`` says about fetching.

    pip lists weaker sources first: 'global' before 'install' before the environment.
    """
    kept: dict[str, str] = {}
    for said in listing.splitlines():
        name, separator, value = said.partition("=")
        section, _, option = name.rpartition(".")
        if separator and option in KEPT and section in {"global", "install", ":env:"}:
            kept["PIP_" + option.upper().replace("-", "_")] = str(ast.literal_eval(value))
    return kept


def plain_environment(given: Mapping[str, str]) -> dict[str, str]:
    """Return the environment without what would make our Python load other code."""
    foreign = {"PYTHONHOME", "PYTHONPATH", "PYTHONSTARTUP", "__PYVENV_LAUNCHER__"}
    return {name: value for name, value in given.items() if name not in foreign}


def _pip_environment(python: Path) -> dict[str, str]:
    plain = plain_environment(os.environ)
    fetching = {
        name: value
        for name, value in plain.items()
        if not name.startswith("PIP_")
        or name == "PIP_CONFIG_FILE"
        or name[4:].lower().replace("_", "-") in KEPT
    }
    listed = subprocess.run(
        [python, "-m", "pip", "config", "list"],
        env=fetching, stdin=subprocess.DEVNULL, capture_output=True, text=True, check=False,
    )  # fmt: skip
    if listed.returncode:
        raise CannotGoOn(f"pip's own configuration cannot be read: {_last(listed.stderr)}")
    others = {name: value for name, value in plain.items() if not name.startswith("PIP_")}
    kept = kept_configuration(listed.stdout)
    if kept.get("PIP_RETRIES") == "0":
        kept["PIP_RETRIES"] = "1"  # pip speaks of a dead network only when it tries again
    # The file that holds nothing makes pip read no configuration file at all.
    return {
        **others,
        **kept,
        "PIP_CONFIG_FILE": os.devnull,
        "PIP_DISABLE_PIP_VERSION_CHECK": "1",
        "PIP_NO_INPUT": "1",
        "PIP_ROOT_USER_ACTION": "ignore",
        "PYTHONIOENCODING": "utf-8",
        "PYTHONUNBUFFERED": "1",
    }


def _pip(python: Path, options: Sequence[str], progress: Progress | None) -> None:
    command = [str(python), "-m", "pip", "install", "--progress-bar", "off", *options]
    lines: list[str] = []
    with subprocess.Popen(
        command, env=_pip_environment(python), stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE, stderr=subprocess.STDOUT, encoding="utf-8", errors="replace",
    ) as pip:  # fmt: skip
        try:
            for said in pip.stdout or ():
                lines.append(said.rstrip())
                _show(progress.line(said) if progress else None)
        except BaseException:
            pip.terminate()
            raise
    _show("")
    if pip.returncode:
        raise CannotGoOn(failure("\n".join(lines)))


def _show(line: str | None) -> None:
    """Rewrite one line on a terminal; print line after line into a file."""
    if line is None:
        return
    if sys.stdout.isatty():
        print(f"\r{line:<60}", end="\r" if not line else "", flush=True)
    elif line:
        print(line, flush=True)


def failure(output: str) -> str:
    """Return one sentence for what pip said when it failed."""
    for pattern, sentence in FAILURES:
        found = re.search(pattern, output)
        if found:
            return sentence.format(*found.groups())
    return f"The packages could not be installed: {_last(output)}"


def _last(output: str) -> str:
    errors = [line for line in output.splitlines() if line.startswith("ERROR:")]
    spoken = errors or [line for line in output.splitlines() if line.strip()] or ["no reason given"]
    return spoken[-1].removeprefix("ERROR:").strip().rstrip(".") + "."


FAILURES = (
    (
        r"No space left on device|There is not enough space on the disk",
        FULL_DISK,
    ),
    (
        r"CERTIFICATE_VERIFY_FAILED",
        "The package index shows a certificate that this machine does not trust; set PIP_CERT to "
        "your organisation's certificate file and run the same command again.",
    ),
    (
        r"DO NOT MATCH THE HASHES",
        "A package arrived damaged or altered, so nothing of it was installed; run the same command "
        "again, and if it happens again tell whoever runs your package index.",
    ),
    (
        r"connection broken by|NewConnectionError|Could not fetch URL|ReadTimeoutError"
        r"|ConnectTimeoutError|ProxyError|Max retries exceeded|Connection aborted"
        r"|Read timed out|Connection refused|Temporary failure in name resolution"
        r"|Name or service not known|getaddrinfo failed|nodename nor servname",
        "The packages cannot be fetched: the package index does not answer; connect to the network "
        "(or set PIP_INDEX_URL or PIP_PROXY as your network needs) and run the same command again.",
    ),
    (
        r"No matching distribution found for ([^\s=;]+)",
        "There is no ready-made package of {0} for this system and this Python; use Python 3.11 to "
        + "{}.{}".format(*NEWEST_WITH_PACKAGES)
        + " on 64-bit Linux, Windows (x64) or a Mac with Apple silicon, and look whether your pip "
        "configuration names a package index that has it.",
    ),
)
