"""An answer as a page shows it: plain names, sensible digits, the unit the reader chose."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from markupsafe import Markup, escape

from academy.calculations.labels import choice_label, result_label
from academy.calculations.registry import Answer
from academy.web.calculators.measures import UnitSystem, measure
from academy.web.calculators.numbers import plain_number, rounded_number, share_number
from academy.web.formats import NO_BREAK, length_text
from academy.web.language import gettext as _
from academy.web.language import locale
from academy.web.parts import Cell, Column, ReadingsTable, Row

SHARES = frozenset({"probability", "wilson", "clopper_pearson", "jeffreys"})
FINE_BELOW_UM = 10.0


@dataclass(frozen=True, slots=True)
class ShownResult:
    """One result: its plain name and its finished text."""

    name: str
    value: Markup


def shown_results(answer: Answer, system: UnitSystem) -> tuple[ShownResult, ...]:
    """Return the results that have a value; what these inputs do not ask for is left out."""
    return tuple(
        ShownResult(_(result_label(answer.name, key)), shown)
        for key, value in answer.result.items()
        if (shown := _shown(answer, key, value, system)) is not None
    )


def spot_table(answer: Answer) -> ReadingsTable | None:
    """Return the removal spot by spot, where the calculation has it."""
    spots = answer.result.get("per_spot")
    if not isinstance(spots, Sequence) or not spots:
        return None
    keys = ("removed_um", "u_um", "lower_um", "upper_um")
    columns = [Column(_(result_label("spot", key))) for key in keys]
    rows = tuple(
        Row(
            _("Spot %(number)s", number=number),
            tuple(Cell(_spot_text(spot[key])) for key in keys),
        )
        for number, spot in enumerate(spots, 1)
    )
    return ReadingsTable(_("Spot by spot, in µm"), (Column(_("Spot")), *columns), rows)


def _spot_text(value: float | None) -> str:
    return _("not known") if value is None else plain_number(Decimal(f"{value:.2f}"))


def _shown(answer: Answer, key: str, value: object, system: UnitSystem) -> Markup | None:
    if (words := _words(answer, key, value)) is not None:
        return escape(words)
    if value is None or isinstance(value, Mapping) or key == "per_spot":
        return None
    unit = answer.units.get(key, "")
    if isinstance(value, (list, tuple)):
        return escape(
            _("%(low)s to %(high)s", low=share_number(value[0]), high=share_number(value[1]))
        )
    if not isinstance(value, (int, float)):
        return escape(str(value))
    if key in SHARES or unit.startswith("share"):
        return escape(share_number(value))
    if unit == "µm":
        return length_text(value, 2 if abs(value) < FINE_BELOW_UM else 1, locale=locale())
    return _quantity(value, _unit(answer, unit), system)


def _quantity(value: float, unit: str, system: UnitSystem) -> Markup:
    with_measure = measure(unit, system)
    shown = with_measure.shown(value) if with_measure.converts else value
    gap = NO_BREAK if with_measure.unit else ""
    text = Markup('<span class="quantity">{}{}{}</span>')
    return text.format(
        rounded_number(shown), gap, _(with_measure.unit) if with_measure.unit else ""
    )


def _unit(answer: Answer, unit: str) -> str:
    """Return the unit to print: a conversion has the one asked for, a count of readings none."""
    if answer.name == "convert":
        return choice_label(str(answer.inputs["to"]))
    return "" if unit.startswith("per side") or unit in {"points", "panels"} else unit


def _words(answer: Answer, key: str, value: object) -> str | None:
    """Return the words for what is true, false or left open."""
    if key == "allowed":
        return _("ask the owner first") if value is None else _("yes") if value else _("no")
    if key == "passed" and isinstance(value, bool):
        return _("passed") if value else _("failed")
    if key == "df" and value is None and answer.result.get("u_um") is not None:
        return _("infinitely many")
    if isinstance(value, bool):
        return _("yes") if value else _("no")
    return None
