#!/usr/bin/env python3
"""Measure the academy against its floors and peers; each benchmark runs both in the same run.

    python3 scripts/bench.py                                 all of them
    python3 scripts/bench.py quiz-fairness --json out.json   some, and a file with the results
    python3 scripts/bench.py --list                          their names

Ends with 1 where a limit is missed, with 2 where a name is unknown or a peer is not installed.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from environment import ROOT, Environment, run_in
from sentences import in_one_sentence


def options(arguments: list[str]) -> argparse.Namespace:
    """Return what was asked on the command line."""
    parser = argparse.ArgumentParser(
        description="Measure the academy against its floors and peers.", allow_abbrev=False
    )
    parser.add_argument("names", nargs="*", metavar="NAME", help="benchmarks to run; all if none")
    parser.add_argument("--json", type=Path, metavar="FILE", help="write the results there")
    parser.add_argument("--list", action="store_true", help="print the names and stop")
    return parser.parse_args(arguments)


def main() -> int:
    """Step into the tests' environment, where the peers are, and run the benchmarks."""
    asked = options(sys.argv[1:])
    environment = Environment(ROOT / ".venv-test", ROOT / "tests" / "requirements.lock")
    if Path(sys.prefix).resolve() != environment.folder.resolve():
        return run_in(environment.make(), [__file__, *sys.argv[1:]], Path.cwd())
    from benchmarks.running import list_them, run_them

    return list_them() if asked.list else run_them(asked.names, asked.json)


if __name__ == "__main__":
    sys.exit(in_one_sentence(main))
