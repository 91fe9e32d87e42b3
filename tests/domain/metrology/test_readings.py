"""One typed reading, and many pasted ones."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from academy.domain.metrology.readings import Accepted, Asked, Refused, read_reading, read_readings

AROUND = [110.0, 112.0, 111.0]


@pytest.mark.parametrize(
    ("typed", "value"),
    [
        ("112", 112.0),
        ("112.4", 112.4),
        ("112,4", 112.4),
        (" 112 ", 112.0),
        ("+112", 112.0),
        ("112.", 112.0),
        ("112 µm", 112.0),
        ("112um", 112.0),
        ("112,40", 112.4),
        ("1.1e2", None),
    ],
)
def test_a_reading_is_understood_as_people_type_it(typed: str, value: float | None) -> None:
    for neighbours in ([], AROUND):
        parsed = read_reading(typed, neighbours)
        if value is None:
            assert isinstance(parsed, Refused)
        else:
            assert parsed == Accepted(typed, value)


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ("", "No reading"),
        ("   ", "No reading"),
        ("abc", "not a number"),
        ("nan", "not a number"),
        ("inf", "not a number"),
        (".", "not a number"),
        ("µm", "not a number"),
        ("１１２", "not a number"),
        ("-4", "not above 0"),
        ("−4", "not above 0"),
        ("0", "not above 0"),
        ("0,0", "not above 0"),
        ("2000.1", "above 2000"),
        ("99999999999", "above 2000"),
        ("90 mil", "above 2000"),
        ("1,112", "two ways"),
        ("1.112,5", "two ways"),
        ("112,4,5", "two ways"),
    ],
)
def test_what_cannot_be_a_reading_is_refused_in_a_sentence(typed: str, why: str) -> None:
    parsed = read_reading(typed, AROUND)
    assert isinstance(parsed, Refused)
    assert why in str(parsed.sentence)
    assert parsed.typed == typed


@pytest.mark.parametrize("neighbours", [[], AROUND])
def test_a_mil_typed_for_a_micrometre_is_asked_about(neighbours: list[float]) -> None:
    parsed = read_reading("4.4", neighbours)
    assert isinstance(parsed, Asked)
    assert parsed.value_um == 4.4
    assert parsed.instead_um == pytest.approx(111.76)
    assert "4.4 mil would be 111.8 µm" in str(parsed.sentence)


def test_a_reading_given_in_mils_is_converted_and_asked_about() -> None:
    parsed = read_reading("4.4 mil")
    assert isinstance(parsed, Asked)
    assert parsed.value_um == pytest.approx(111.76)


def test_hardly_any_paint_is_asked_about_where_mils_do_not_explain_it() -> None:
    parsed = read_reading("1", AROUND)
    assert isinstance(parsed, Asked)
    assert parsed.instead_um is None


@pytest.mark.parametrize(
    ("typed", "asked"),
    [
        ("332", False),
        ("333", True),
        ("450", True),
        ("1124", True),
        ("37.1", False),
        ("37", True),
        ("20", True),
    ],
)
def test_a_reading_three_times_its_neighbours_is_asked_about(typed: str, asked: bool) -> None:
    parsed = read_reading(typed, AROUND)
    assert isinstance(parsed, Asked if asked else Accepted)
    assert parsed.value_um == float(typed)


def test_a_first_reading_of_filler_is_asked_about_and_the_next_one_is_not() -> None:
    assert isinstance(read_reading("900"), Asked)
    assert isinstance(read_reading("880", [900.0]), Accepted)


@pytest.mark.parametrize(
    ("pasted", "values"),
    [
        ("112 113.4 111", [112, 113.4, 111]),
        ("112,4 113,4;111\n110\t109", [112.4, 113.4, 111, 110, 109]),
        ("112, 113, 111", [112, 113, 111]),
        ("112,113,111", [112, 113, 111]),
        ("112.4,111.8", [112.4, 111.8]),
        ("112 µm\n113 µm", [112, 113]),
        ("112;\r\n113;\r\n", [112, 113]),
        ("", []),
    ],
)
def test_a_paste_is_split_into_its_readings(pasted: str, values: list[float]) -> None:
    parsed = read_readings(pasted)
    assert all(isinstance(reading, Accepted) for reading in parsed)
    assert [reading.value_um for reading in parsed if isinstance(reading, Accepted)] == values


def test_nothing_in_a_paste_is_silently_dropped() -> None:
    parsed = read_readings("112 x 4,4 1120 -3 111")
    kinds = [type(reading) for reading in parsed]
    assert kinds == [Accepted, Refused, Asked, Asked, Refused, Accepted]


def test_a_paste_all_in_mils_is_asked_about_reading_by_reading() -> None:
    parsed = read_readings("4.4 4.5 4.3 4.4")
    assert all(isinstance(reading, Asked) for reading in parsed)


@given(st.text(max_size=40))
def test_whatever_is_typed_gets_an_answer(typed: str) -> None:
    parsed = read_reading(typed, AROUND)
    assert parsed.typed == typed
    if not isinstance(parsed, Refused):
        assert 0 < parsed.value_um <= 2000
    if not isinstance(parsed, Accepted):
        assert str(parsed.sentence)


@given(st.text(alphabet="0123456789.,; \t\n-mil", max_size=60))
def test_whatever_is_pasted_gets_answers(pasted: str) -> None:
    for parsed in read_readings(pasted, AROUND):
        assert isinstance(parsed, Accepted | Refused | Asked)
