#!/usr/bin/env python3
"""Run every test; further arguments go to pytest, as in scripts/test.py -k removal.

Style, types and layers are tests too (tests/architecture/test_checks.py), so
this is the whole check.  Where the environment variable CI is set, a test that
would be skipped fails.

This file is written so that an old Python can read it and say that it is too old.
"""

import sys

if sys.version_info < (3, 11):
    sys.exit(f"Python 3.11 or newer is needed, and this is {sys.version.split()[0]}.")

from environment import ROOT, Environment, run_in
from sentences import in_one_sentence

# One browser and one PostgreSQL serve all their tests, so those stay on one of the two workers.
PYTEST = ["-m", "pytest", "-p", "tests.support.skips", "-n", "2", "--dist", "loadgroup"]


def main() -> int:
    """Make the environment, then let pytest take over."""
    python = Environment(ROOT / ".venv-test", ROOT / "tests" / "requirements.lock").make()
    return run_in(python, PYTEST + sys.argv[1:], ROOT)


if __name__ == "__main__":
    sys.exit(in_one_sentence(main))
