"""What starting the site takes with it."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from academy.settings import PROJECT

CREATE = """
import sys
from academy.settings import PROJECT, read_settings
from academy.web.app import create_app
create_app(read_settings({"ACADEMY_INSTANCE": sys.argv[1]}, demo=True))
print(PROJECT)
print([name for name in ("numpy", "scipy") if name in sys.modules])
"""


def test_the_site_is_created_without_a_library_of_numbers(tmp_path: Path) -> None:
    """A page that computes imports numpy when it is asked for; no trainee waits for it at start."""
    printed = subprocess.run(
        [sys.executable, "-c", CREATE, str(tmp_path)],
        cwd=PROJECT,
        capture_output=True,
        text=True,
        check=True,
    )
    assert printed.stdout.splitlines() == [str(PROJECT), "[]"]
