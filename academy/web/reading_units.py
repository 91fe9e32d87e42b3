"""Quantities in a lesson, in the reader's units.

The compiler marks each quantity with its unit and values.  Paint stays in
micrometres with mils beside in both systems; for a reader of US units other
lengths, speeds, temperatures, forces, volumes and pressures come first in
theirs, with the metric ones, which the course was checked in, behind.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from flask import session
from markupsafe import Markup, escape

from academy.domain.units import UNITS

CHOICE = "units"
_QUANTITY = re.compile(
    r'<span class="quantity"(?P<notes>[^>]*) data-unit="(?P<unit>[^"]+)"'
    r' data-values="(?P<values>[^"]+)">(?P<text>[^<]*)</span>'
)
_MOST_DIGITS = 3


class System(StrEnum):
    """The two systems a reader may choose."""

    METRIC = "metric"
    US = "us"


@dataclass(frozen=True, slots=True)
class _Target:
    """A unit for readers of US units: theirs = metric times ``ratio`` plus ``offset``."""

    word: str
    ratio: Fraction
    offset: Fraction = Fraction(0)


def _length(metric_um: int, us: str, word: str) -> _Target:
    return _Target(word, Fraction(metric_um) / UNITS[us].ratio)


_PSI_KPA = Fraction("0.45359237") * Fraction("9.80665") / Fraction("0.0254") ** 2 / 1000
_TARGETS = {
    "mm": _length(1000, "in", "in"),
    "cm": _length(10_000, "in", "in"),
    "m": _Target("ft", 1 / Fraction("0.3048")),
    "mm/s": _length(1000, "in", "in/s"),
    "m/s": _Target("ft/min", 1 / UNITS["ft/min"].ratio),
    "C": _Target("°F", 1 / UNITS["F"].ratio, -UNITS["F"].offset / UNITS["F"].ratio),
    "K": _Target("°F", 1 / UNITS["F"].ratio),
    "N": _Target("lbf", 1 / UNITS["lbf"].ratio),
    "ml": _Target("fl oz", 1 / UNITS["fl_oz"].ratio),
    "kPa": _Target("psi", 1 / _PSI_KPA),
}


def chosen_system() -> System:
    """Return the reader's choice on this device; metric before there is one."""
    return System.US if session.get(CHOICE) == System.US else System.METRIC


def choose_system(system: System) -> None:
    """Remember the reader's choice on this device."""
    session[CHOICE] = system.value


def in_system(html: str, system: System) -> Markup:
    """Return rendered course text with its quantities in the reader's units."""
    if system is System.METRIC:
        return Markup(html)
    return Markup(_QUANTITY.sub(_in_us_units, html))


def _in_us_units(match: re.Match[str]) -> str:
    target = _TARGETS.get(match["unit"])
    if target is None:
        return match[0]
    try:
        values = [Fraction(value) for value in match["values"].split()]
    except ValueError:
        return match[0]
    said = _range_text(values, match["text"], target)
    return (
        f'<span class="quantity"{match["notes"]}>{escape(said)}</span>'
        f' <span class="quantity">({match["text"]})</span>'
    )


def _range_text(values: list[Fraction], metric_text: str, target: _Target) -> str:
    digits = _significant(metric_text)
    numbers = [_rounded(value * target.ratio + target.offset, digits) for value in values]
    joined = " to ".join(dict.fromkeys(numbers))
    return f"{joined}\N{NO-BREAK SPACE}{target.word}"


def _significant(text: str) -> int:
    """Return how many digits the metric figure was written with, two or three."""
    written = re.findall(r"\d[\d.,]*", text)
    most = max((len(re.sub(r"\D", "", one).lstrip("0")) for one in written), default=2)
    return min(max(most, 2), _MOST_DIGITS)


def _rounded(value: Fraction, digits: int) -> str:
    if value == 0:
        return "0"
    whole = len(str(int(abs(value)))) if abs(value) >= 1 else 0
    places = max(digits - whole, 0)
    text = f"{float(round(value, places)):.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
