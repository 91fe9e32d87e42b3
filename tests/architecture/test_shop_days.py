"""A moment becomes a day in one place a layer, so that every day is one of the shop's."""

from __future__ import annotations

import re
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
# The domain is handed moments on the shop's clock; the demonstration invents its own due dates.
ALLOWED = {"services/shop_clock.py", "services/demo_workshop.py", "web/formats.py"}


def test_no_day_is_cut_from_a_moment_anywhere_else() -> None:
    """Ask services.shop_clock or web.times for the day instead; a UTC day is nobody's day."""
    cut = {
        f"{path.relative_to(ROOT / 'academy').as_posix()}:{number}"
        for layer in ("services", "web", "cli", "store")
        for path in sorted((ROOT / "academy" / layer).rglob("*"))
        if path.suffix in {".py", ".html"}
        for number, line in enumerate(path.read_text("utf-8").splitlines(), 1)
        if re.search(r"(_at|now|clock\(\)|moment|\bat)\.date\(\)", line)
    }
    assert {place for place in cut if place.rsplit(":", 1)[0] not in ALLOWED} == set()
