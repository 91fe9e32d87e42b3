#!/usr/bin/env python3
"""Start the academy: make its environment, then serve the site on this machine.

    python3 scripts/run.py            a demo shop, on 127.0.0.1:8000
    python3 scripts/run.py --empty    a real shop; prints the owner's invitation link
    python3 scripts/run.py --lan      over HTTPS for the phones and tablets on this network

This file is written so that an old Python can read it and say that it is too old.
"""

import sys

if sys.version_info < (3, 11):
    sys.exit(f"Python 3.11 or newer is needed, and this is {sys.version.split()[0]}.")

import argparse
import os
import tempfile
from pathlib import Path
from typing import List, NoReturn

from address import check_address, is_loopback
from environment import ROOT, Environment, run_in
from sentences import CannotGoOn, in_one_sentence


class Options(argparse.ArgumentParser):
    """Says what is wrong with an option in one sentence."""

    def error(self, message: str) -> NoReturn:
        raise CannotGoOn(f"{message.capitalize()}; --help lists the options.")


def port_number(text: str) -> int:
    """Return ``text`` as a port."""
    if text.isascii() and text.isdecimal() and 1 <= int(text) <= 65535:
        return int(text)
    raise argparse.ArgumentTypeError(f"a port is a whole number from 1 to 65535, not {text!r}")


def options(arguments: List[str]) -> argparse.Namespace:
    """Return what was asked on the command line."""
    parser = Options(description="Start the academy on this machine.", allow_abbrev=False)
    parser.add_argument(
        "--host", help="address to listen on (127.0.0.1; with --lan the whole network)"
    )
    parser.add_argument("--port", default=8000, type=port_number, help="port (%(default)s)")
    parser.add_argument(
        "--lan", action="store_true", help="serve phones and tablets on this network over HTTPS"
    )
    shop = parser.add_mutually_exclusive_group()
    shop.add_argument("--empty", action="store_true", help="start a real shop instead of the demo")
    shop.add_argument(
        "--demo",
        action="store_true",
        help="allow the demo shop beyond this machine (--host, --lan)",
    )
    asked = parser.parse_args(arguments)
    asked.host = asked.host or ("0.0.0.0" if asked.lan else "127.0.0.1")
    return asked


def instance_folder() -> Path:
    """Return where the database, photographs and keys lie."""
    return Path(os.environ.get("ACADEMY_INSTANCE") or ROOT / "instance").absolute()


def check_demo(asked: argparse.Namespace, instance: Path) -> None:
    """Refuse to put the demo shop's known passwords on a network unasked.

    Once something has been made, ``academy serve`` knows which shop it is and decides.
    """
    if asked.empty or asked.demo or is_loopback(asked.host):
        return
    if os.environ.get("ACADEMY_DATABASE_URL") or any(instance.glob("*.sqlite3")):
        return
    raise CannotGoOn(
        "The demo shop's passwords are known to everybody, so it stays on this machine; start a "
        "real shop with --empty, or add --demo if the whole network may use the demo."
    )


def next_port(port: int) -> int:
    """Return the port of the page from which a phone comes to trust the site."""
    if port == 65535:
        raise CannotGoOn("With --lan the next port is needed as well; choose a lower --port.")
    return port + 1


def check_writable(instance: Path) -> None:
    """Refuse a folder in which no database can be made."""
    try:
        instance.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryFile(dir=str(instance)):
            pass
    except OSError as problem:
        raise CannotGoOn(
            f"The folder {instance}, where the data lies, cannot be written to ({problem.strerror}); "
            "make it writable or name another folder in ACADEMY_INSTANCE."
        ) from None


def main() -> int:
    """Check, make, serve."""
    asked = options(sys.argv[1:])
    instance = instance_folder()
    check_demo(asked, instance)
    check_address(asked.host, asked.port)
    if asked.lan:
        check_address(asked.host, next_port(asked.port))
    check_writable(instance)
    python = Environment(ROOT / ".venv", ROOT / "requirements.lock").make()
    serve = ["-m", "academy", "serve", "--host", asked.host, "--port", str(asked.port)]
    serve += ["--lan"] if asked.lan else []
    serve += ["--empty"] if asked.empty else []
    serve += ["--demo"] if asked.demo else []
    return run_in(python, serve, ROOT)


if __name__ == "__main__":
    sys.exit(in_one_sentence(main))
