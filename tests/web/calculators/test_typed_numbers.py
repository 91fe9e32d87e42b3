"""Numbers and lists of numbers as people type them."""

from __future__ import annotations

import contextlib
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from academy.web.calculators.typed import NotANumber, TwoReadings, number_typed, pieces_typed


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("150", "150"),
        (" 150.5 ", "150.5"),
        ("150,5", "150.5"),
        ("0,125", "0.125"),
        (",5", "0.5"),
        ("5.", "5"),
        ("−4", "-4"),
        ("+4", "4"),
        ("1e3", "1000"),
        ("12,3456", "12.3456"),
        ("1234,567", "1234.567"),
    ],
)
def test_a_number_is_read_exactly(text: str, number: str) -> None:
    assert number_typed(text) == Decimal(number)


@pytest.mark.parametrize("text", ["4,200", "12,000", "-1,234", "999,999"])
def test_a_comma_before_three_digits_is_not_guessed_at(text: str) -> None:
    with pytest.raises(TwoReadings):
        number_typed(text)


@pytest.mark.parametrize("text", ["", "x", "1,2,3", "1.2,3", "1 2", "0x10", "1__0", "1e99999", "²", "1" * 41])  # fmt: skip
def test_what_is_no_number_is_not_read_as_one(text: str) -> None:
    with pytest.raises(NotANumber):
        number_typed(text)


@pytest.mark.parametrize(
    ("text", "pieces"),
    [
        ("118,2 116,4", ["118,2", "116,4"]),
        ("118.2,116.4", ["118.2", "116.4"]),
        ("118.2, 116.4,\n117", ["118.2", "116.4", "117"]),
        ("118,116,104", ["118", "116", "104"]),
        ("118;116/104|99\t98", ["118", "116", "104", "99", "98"]),
        ("118,2,116,4", ["118,2,116,4"]),  # two readings or four: refused as one piece
        ("1,2,3", ["1,2,3"]),
        ("   ", []),
        (", ; ,", []),
    ],
)
def test_a_list_is_parted_where_there_is_no_doubt(text: str, pieces: list[str]) -> None:
    assert pieces_typed(text) == pieces


@given(st.lists(st.decimals(-9999, 9999, places=2), min_size=1), st.sampled_from([" ", "; ", "\n", " / "]))  # fmt: skip
def test_readings_with_decimal_commas_are_read_back(numbers: list[Decimal], between: str) -> None:
    text = between.join(str(number).replace(".", ",") for number in numbers)
    assert [number_typed(piece) for piece in pieces_typed(text)] == numbers


@given(st.text())
def test_no_text_breaks_the_reader(text: str) -> None:
    for piece in pieces_typed(text):
        with contextlib.suppress(NotANumber, TwoReadings):
            assert number_typed(piece).is_finite()
