"""A pasted column is understood or refused in a sentence, whatever gauge wrote it."""

from __future__ import annotations

import pytest

from academy.domain.metrology.columns import (
    Column,
    NoColumn,
    ReadingUnit,
    SeveralColumns,
    TooManyReadings,
    column_of,
)
from academy.domain.metrology.readings import unlike_the_spot

UM, MIL = ReadingUnit.UM, ReadingUnit.MIL


@pytest.mark.parametrize(
    ("pasted", "unit", "readings"),
    [
        ("112.4\n110.2\n108.0", UM, ("112.4", "110.2", "108.0")),
        ("112,4\r\n110,2\r\n", UM, ("112,4", "110,2")),
        ("Thickness\n112.4\n110.2", UM, ("112.4", "110.2")),
        ("112,4; 110,2; 108,0", UM, ("112,4", "110,2", "108,0")),
        ("112 110 108", UM, ("112", "110", "108")),
        ("112.4 µm\n110.2 µm", UM, ("112.4µm", "110.2µm")),
        ("4.41\n4,35", MIL, ("112.0", "110.5")),
        ("4.41 mil\n4.35 mil", UM, ("4.41mil", "4.35mil")),
        ("\n\n 112.4 \n\n", UM, ("112.4",)),
    ],
)
def test_a_column_is_taken_apart(pasted: str, unit: ReadingUnit, readings: tuple[str, ...]) -> None:
    """4.41 mil is 112.0 µm: 25.4 µm to the mil exactly (international inch of 25.4 mm)."""
    assert column_of(pasted, unit, 40) == Column(readings)


@pytest.mark.parametrize("pasted", ["", "  \n ", "Thickness", "☃"])
def test_what_holds_no_number_is_no_column(pasted: str) -> None:
    assert column_of(pasted, UM, 40) == NoColumn()


@pytest.mark.parametrize("pasted", ["1\t112.4\n2\t110.2", "1;112,4\n2;110,2", "No;um\n1;112"])
def test_a_table_is_refused_before_a_line_number_becomes_a_reading(pasted: str) -> None:
    if pasted.startswith("No"):
        pasted += "\n2;110"
    assert column_of(pasted, UM, 40) == SeveralColumns()


def test_more_readings_than_boxes_fill_in_nothing() -> None:
    assert column_of("112\n111\n110", UM, 2) == TooManyReadings(3, 2)


@pytest.mark.parametrize(
    ("value", "spot", "sd", "asked"),
    [
        (121.4, [112.4, 112.1, 121.4], 0.4, True),
        (112.4, [112.4, 112.1, 121.4], 0.4, False),
        (114.9, [112.4, 112.1, 114.9], 0.4, False),
        (121.4, [112.4, 121.4], 0.4, False),
        (117.0, [112.0, 112.1, 117.0], 1.5, False),
        (119.0, [112.0, 112.1, 119.0], 1.5, True),
        (116.0, [112.0, 112.1, 116.0], None, True),
    ],
)
def test_a_reading_its_own_spot_does_not_bear_out_is_asked_about(
    value: float, spot: list[float], sd: float | None, asked: bool
) -> None:
    assert (unlike_the_spot(value, spot, sd) is not None) is asked
