"""Readings and removal as tables: what was read, what came off, and how sure that is."""

from __future__ import annotations

from academy.domain.practical.outcome import Measured
from academy.domain.practical.record import Practical
from academy.domain.practical.steps import Readings
from academy.web.formats import ramp_step
from academy.web.language import gettext as _
from academy.web.parts import Cell, Column, Fact, ReadingsTable, Row


def readings_tables(practical: Practical, shown: Measured | None) -> tuple[ReadingsTable, ...]:
    """Return the readings round by round, and what came off at each spot."""
    tables = [
        _readings_table(caption, readings)
        for caption, readings in (
            (_("Readings before, in µm"), practical.before),
            *((_("Readings between steps, in µm"), read) for read in practical.between),
            (_("Readings after, in µm"), practical.after),
        )
        if readings is not None
    ]
    return (*tables, *([_removal_table(shown)] if shown else []))


def _readings_table(caption: str, readings: Readings) -> ReadingsTable:
    rows = []
    for spot in readings.spots:
        mean = sum(spot.readings_um) / len(spot.readings_um)
        dropped = ", ".join(f"{value:f}" for value in spot.dropped_um)
        if spot.dropped_reason:
            dropped += f" ({spot.dropped_reason})"
        rows.append(
            Row(
                _("Spot %(number)d", number=spot.spot),
                (
                    Cell(", ".join(f"{value:f}" for value in spot.readings_um)),
                    Cell(f"{mean:.1f}"),
                    Cell(dropped or "–"),
                ),
            )
        )
    columns = (
        Column(_("Spot")),
        Column(_("Readings"), words=True),
        Column(_("Mean")),
        Column(_("Dropped, read again")),
    )
    return ReadingsTable(caption, columns, tuple(rows))


def _removal_table(shown: Measured) -> ReadingsTable:
    largest = max(shown.removal.max_removed_um, 0.1)
    rows = tuple(
        Row(
            _("Spot %(number)d", number=number),
            (
                Cell(_um(spot.removed_um), ramp_step(max(spot.removed_um, 0), largest)),
                Cell(_um(spot.lower_um)),
                Cell(_um(spot.upper_um)),
            ),
        )
        for number, spot in enumerate(shown.removal.per_spot, 1)
    )
    columns = (
        Column(_("Spot")),
        Column(_("Removed")),
        Column(_("At least")),
        Column(_("At most")),
    )
    return ReadingsTable(_("Removed at each spot, in µm, with its 95 % interval"), columns, rows)


def removal_facts(practical: Practical, shown: Measured | None) -> tuple[Fact, ...]:
    """Return the mean removal with its uncertainty, beside what the trainee expected."""
    if shown is None:
        return ()
    removal = shown.removal
    facts = [
        Fact(
            _("Mean removal"),
            _(
                "%(removed).2f µm, give or take %(expanded).2f µm (95 %%, %(spots)d spots)",
                removed=removal.removed_um,
                expanded=removal.expanded_um,
                spots=len(removal.per_spot),
            ),
        )
    ]
    if removal.unevenness_um is not None:
        facts.append(
            Fact(_("Unevenness beyond the gauge's scatter"), f"{removal.unevenness_um:.2f} µm")
        )
    plan = practical.plan
    if plan is not None and plan.expected_um is not None:
        expected = f"{plan.expected_um} ± {plan.give_or_take_um} µm"
        facts.append(Fact(_("The trainee expected"), expected))
    return tuple(facts)


def _um(value: float | None) -> str:
    """Return micrometres with two places and a true minus sign, or a dash."""
    if value is None:
        return "–"
    return f"{round(value, 2) + 0.0:.2f}".replace("-", "\N{MINUS SIGN}")
