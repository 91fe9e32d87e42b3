"""Units as the facts files code them, as pages print them and as authors write them."""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType

MIL_PER_UM = 1 / 25.4

PRINTED: Mapping[str, str] = MappingProxyType(
    {
        "um": "µm",
        "C": "°C",
        "percent": "%",
        "m/s2": "m/s²",
        "min": "minutes",
        "s": "seconds",
        "h": "hours",
    }
)

_SPELLINGS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "um": ("µm", "μm", "um", "micrometre", "micrometres", "micron", "microns"),
        "mil": ("mil", "mils"),
        "nm": ("nm",),
        "mm": ("mm", "millimetre", "millimetres"),
        "cm": ("cm", "centimetre", "centimetres"),
        "m": ("m", "metre", "metres"),
        "m/s": ("m/s", "metres per second", "metres a second"),
        "mm/s": ("mm/s", "millimetres per second", "millimetres a second"),
        "m/s2": ("m/s²", "m/s2", "m/s^2"),
        "rpm": ("rpm", "turns a minute", "turns per minute", "revolutions per minute"),
        "/min": ("/min", "a minute", "per minute", "orbits a minute", "orbits per minute"),
        "C": ("°C", "degrees Celsius"),
        "K": ("K", "kelvin"),
        "N": ("N", "newton", "newtons"),
        "kPa": ("kPa",),
        "dB": ("dB",),
        "dB(A)": ("dB(A)", "dBA"),
        "percent": ("%", "percent", "per cent"),
        "ml": ("ml", "mL", "millilitre", "millilitres"),
        "mg/m3": ("mg/m³", "mg/m3"),
        "mA": ("mA",),
        "V": ("V", "volt", "volts"),
        "W": ("W", "watt", "watts"),
        "W/m2": ("W/m²", "W/m2"),
        "g": ("g", "gram", "grams"),
        "kg": ("kg",),
        "s": ("s", "second", "seconds"),
        "min": ("min", "minute", "minutes"),
        "h": ("h", "hour", "hours"),
        "days": ("day", "days"),
        "weeks": ("week", "weeks"),
        "months": ("month", "months"),
        "years": ("year", "years"),
    }
)

# Time is exempt: a lesson says 'wait two minutes', and the word carries no hidden precision.
_REFUSED_BARE = (
    *("um", "mil", "nm", "mm", "cm", "m/s", "mm/s", "m/s2", "rpm", "C", "K", "N", "kPa"),
    *("dB", "dB(A)", "percent", "ml", "V", "W", "g", "kg", "mg/m3", "mA"),
)

_CODES = {spelling: code for code, names in _SPELLINGS.items() for spelling in names}


def _pattern(names: list[str]) -> str:
    return "|".join(re.escape(name) for name in sorted(names, key=len, reverse=True))


_END = r"(?![\w²³]|/\w)"
_NUMBER = r"\d+(?:[.,]\d+|[ \u00a0\u202f]\d{3})*"
_JOINED = r"(?:\s*(?:to|and|or|by|×|x|-|–|/)\s*)"
_BARE_UNITS = _pattern([name for code in _REFUSED_BARE for name in _SPELLINGS[code]] + ["°F"])
_BARE = re.compile(rf"(?<![\w.])(?:{_NUMBER}{_JOINED})?{_NUMBER}[-\s]?(?:{_BARE_UNITS}){_END}")
_UNIT_AT = re.compile(rf"[\s-]*({_pattern([*_CODES, 'degrees'])}){_END}")


def bare_quantities(text: str) -> list[str]:
    """Return every number with a unit that stands in the text as plain words."""
    return [match[0] for match in _BARE.finditer(text)]


def printed_unit(code: str) -> str:
    """Return what a page prints for a unit's code."""
    return PRINTED.get(code, code)


def unit_written(text: str, start: int) -> re.Match[str] | None:
    """Return the unit that follows a number, ``start`` being just behind it."""
    return _UNIT_AT.match(text, start)


def unit_agrees(written: str, code: str) -> bool:
    """Return whether a written unit is the one of this code."""
    if written == "degrees":  # of temperature or of a difference: the fact tells which
        return code in ("C", "K")
    return _CODES[written] == _CODES.get(code, code)


def unit_code(written: str) -> str:
    """Return the code of a written unit; plain degrees are degrees Celsius."""
    return _CODES.get(written, "C")


def with_unit(number: str, code: str) -> str:
    """Return a number with its printed unit, kept on one line."""
    unit = printed_unit(code)
    glue = "" if unit in ("", "%") or unit.startswith("/") else "\u00a0"
    return f"{number}{glue}{unit}"
