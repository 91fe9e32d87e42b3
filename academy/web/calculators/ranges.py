"""The range of a number in words, in the units the reader chose."""

from __future__ import annotations

from academy.calculations.described import Bounds
from academy.web.calculators.fields import Field, Kind
from academy.web.calculators.measures import Measure, UnitSystem, least_shown, measure, most_shown
from academy.web.calculators.numbers import plain_number
from academy.web.formats import NO_BREAK
from academy.web.language import gettext as _


def range_text(field: Field, system: UnitSystem) -> str:
    """Return ``5 to 500 mm``; empty where any number will do."""
    with_measure = measure(field.described.unit, system)
    return _range(field.described.bounds, with_measure)


def numbers_allowed(field: Field, system: UnitSystem) -> str:
    """Return ``a number, 5 to 500 mm``: the end of a sentence that says what to write."""
    if field.kind is Kind.NUMBERS:
        kind = _("numbers with a space between them")
    elif field.described.whole:
        kind = _("a whole number")
    else:
        kind = _("a number")
    allowed = range_text(field, system)
    return f"{kind}, {allowed}" if allowed else kind


def _range(bounds: Bounds, with_measure: Measure) -> str:
    least = bounds.above if bounds.least is None else bounds.least
    most = bounds.below if bounds.most is None else bounds.most
    low = None if least is None else plain_number(least_shown(least, with_measure))
    high = None if most is None else plain_number(most_shown(most, with_measure))
    unit = f"{NO_BREAK}{with_measure.unit}" if with_measure.unit else ""
    if low is not None and high is not None:
        return _two_ends(bounds, low, high) + unit
    if low is not None:
        text = _("above %(low)s") if bounds.least is None else _("%(low)s or more")
        return text % {"low": low} + unit
    if high is not None:
        text = _("below %(high)s") if bounds.most is None else _("%(high)s or less")
        return text % {"high": high} + unit
    return ""


def _two_ends(bounds: Bounds, low: str, high: str) -> str:
    if bounds.least is None and bounds.most is None:
        return _("above %(low)s and below %(high)s", low=low, high=high)
    if bounds.least is None:
        return _("above %(low)s, at most %(high)s", low=low, high=high)
    if bounds.most is None:
        return _("%(low)s or more, below %(high)s", low=low, high=high)
    return _("%(low)s to %(high)s", low=low, high=high)
