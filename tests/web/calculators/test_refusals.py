"""What the calculators refuse: a sentence at the field, naming it and what is allowed."""

from __future__ import annotations

import pytest

from academy.calculations import CALCULATIONS
from academy.calculations.described import described_inputs
from academy.calculations.examples import EXAMPLES
from academy.calculations.offered import OFFERED
from academy.calculations.query import flat_texts
from tests.web.calculators.shown import Reader

NONSENSE = ["abc", "nan", "inf", "-inf", "1e999", "1_000", "6 in", "4.2.1", "--5", "٥", "9" * 400, "<b>1</b>"]  # fmt: skip
PAD = "dwell"


def dwell(**changed: str) -> dict[str, str]:
    return flat_texts(EXAMPLES[PAD]) | changed


@pytest.mark.parametrize("text", NONSENSE)
def test_what_is_no_number_is_refused_with_field_and_range(reader: Reader, text: str) -> None:
    page = reader.open(PAD, dwell(pad_mm=text))
    assert page.status == 422
    assert list(page.faults) == ["pad_mm"]
    assert page.faults["pad_mm"].startswith("Diameter of the pad: “")
    assert page.faults["pad_mm"].endswith("Write a number, 5 to 500 mm.")
    assert page.typed["pad_mm"] == text
    assert page.results == {}


@pytest.mark.parametrize("text", ["-150", "−150", "0", "4.999", "500.1", "1e9"])
def test_what_is_out_of_range_is_refused_with_field_and_range(reader: Reader, text: str) -> None:
    page = reader.open(PAD, dwell(pad_mm=text))
    assert page.status == 422
    said = f"Diameter of the pad: “{text}” is not allowed. Write a number, 5 to 500 mm."
    assert page.faults == {"pad_mm": said}
    assert page.typed["pad_mm"] == text


def test_the_range_is_told_in_the_units_that_were_chosen(reader: Reader) -> None:
    page = reader.open(PAD, {"units": "us", "pad_mm": "150"})
    # 500 mm is 19.685 in: rounded down, so that what is shown is allowed
    assert page.faults["pad_mm"].endswith(
        "“150” is not allowed. Write a number, 0.1969 to 19.68 in."
    )
    for end in ("0.1969", "19.68"):
        assert "pad_mm" not in reader.open(PAD, {"units": "us", "pad_mm": end}).faults


@pytest.mark.parametrize("name", OFFERED)
def test_a_field_that_is_needed_is_asked_for_where_it_stands(reader: Reader, name: str) -> None:
    example = flat_texts(EXAMPLES[name])
    needed = {field.path for field in described_inputs(CALCULATIONS[name]) if field.required}
    for missing in example:
        page = reader.open(name, {key: text for key, text in example.items() if key != missing})
        if page.status == 200:
            assert (
                missing not in needed or len(example) == 1
            )  # with nothing sent, the page is fresh
            assert page.results or len(example) == 1
        else:
            assert page.status == 422
            # of two limits one is enough: the rule names the first
            assert list(page.faults) == [
                missing if name != "conformity" or missing != "upper" else "lower"
            ]


def test_a_missing_number_is_named_with_its_range(reader: Reader) -> None:
    page = reader.open(PAD, {"pad_mm": "150"})
    assert page.status == 422
    assert page.faults["arm_speed_mm_s"] == (
        "Speed of the arm is missing; write a number, 0.1 to 1000 mm/s"
    )
    assert page.faults["passes"] == "Passes is missing; write a whole number, 1 to 100"
    assert "mean_m_s" not in page.faults


def test_one_bad_entry_of_a_list_is_named_by_its_place(reader: Reader) -> None:
    page = reader.open("statistics", {"values": "112.4 113.1 1l1.8 112"})
    assert page.faults == {
        "values": "Readings, number 3: “1l1.8” is not a number. Write numbers with a space between them."
    }
    assert page.typed["values"] == "112.4 113.1 1l1.8 112"
    given = {"spots-2-before_um": "118 117", "spots-2-after_um": "116 -4"}
    page = reader.open("removal", given)
    assert page.faults == {
        "spots-2-after_um": "Spot 2, Readings after, number 2: “-4” is not allowed. "
        "Write numbers with a space between them, above 0, at most 10000 µm."
    }


def test_a_fault_in_a_row_stands_in_that_row(reader: Reader) -> None:
    given = {"exposures-1-m_s2": "3", "exposures-1-hours": "1", "exposures-3-m_s2": "5"}
    page = reader.open("vibration", given)
    assert page.faults == {
        "exposures-3-hours": "Machine 3, Time is missing; write a number, 0 to 24 h"
    }


def test_a_day_has_twenty_four_hours(reader: Reader) -> None:
    given = {f"exposures-{row}-{name}": text for row in (1, 2) for name, text in (("m_s2", "3"), ("hours", "13"))}  # fmt: skip
    page = reader.open("vibration", given)
    assert page.faults["exposures-1-m_s2"].startswith("Exposures: the hours add up to 26")


@pytest.mark.parametrize("text", ["4,200", "1,234", "-1,000"])
def test_what_can_be_read_in_two_ways_is_not_guessed(reader: Reader, text: str) -> None:
    page = reader.open("machine-speed", {"kind": "rotary", "pad_mm": "150", "rpm": text})
    assert page.status == 422
    assert "can be read in two ways" in page.faults["rpm"]


def test_a_choice_that_is_not_in_the_list_is_refused(reader: Reader) -> None:
    page = reader.open("machine-speed", {"kind": "planer", "pad_mm": "150"})
    assert page.faults["kind"] == "Kind of machine: choose one from the list"
    page = reader.open("machine-speed", {"pad_mm": "150"})
    assert page.faults["kind"] == "Kind of machine is missing; choose one of: rotary, dual action"


def test_rules_about_several_fields_speak_of_them_in_plain_names(reader: Reader) -> None:
    page = reader.open("dilution", {"ratio": "5", "stock_percent": "3"})
    assert page.faults["stock_percent"] == (
        "Strength of the stock: give “Parts of water to one of concentrate” alone, or “Strength of the stock”, "
        "“Strength wanted” and “Volume wanted” without it"
    )
    page = reader.open("proportion", {"passed": "3", "tried": "2"})
    assert page.faults["passed"] == "Passed: 3 is not at most “Tried”, 2"
    page = reader.open("contact-pressure", {"units": "us", "force_n": "9", "pad_mm": "6", "overhang_mm": "5"})  # fmt: skip
    assert page.faults["overhang_mm"].endswith("(in metric units)")


def test_units_that_do_not_exist_or_do_not_fit_are_refused(reader: Reader) -> None:
    page = reader.open("late-reading", {"heated_s": "20", "waited_s": "5", "units": "imperial"})
    assert page.status == 422
    assert page.whole_form_faults == ["Units are metric or us, not “imperial”"]
    page = reader.open("convert", {"value": "5", "from": "C", "to": "um"})
    assert page.faults["to"].startswith("Unit wanted: C is a temperature and um a length")
    page = reader.open("convert", {"value": "-500", "from": "C", "to": "F"})
    assert "below absolute zero" in page.faults["value"]


def test_a_misspelled_field_is_not_passed_over_in_silence(reader: Reader) -> None:
    page = reader.open("late-reading", {"heated_s": "20", "waited_s": "5", "_scheme": "x"})
    assert page.status == 422
    assert page.whole_form_faults == ["This calculator has no field “_scheme”"]


def test_what_has_no_answer_says_why(reader: Reader) -> None:
    page = reader.open("removal", {"spots-1-before_um": "118", "spots-1-after_um": "116"})
    assert page.status == 422
    assert page.results == {}
    assert page.whole_form_faults[0].startswith(
        "This cannot be computed: one spot with single readings has no uncertainty of its own"
    )
    assert "gauge_sd_um" not in page.whole_form_faults[0]
    assert page.typed["spots-1-before_um"] == "118"
