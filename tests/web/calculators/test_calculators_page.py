"""The calculators page: what it lists, computes and keeps."""

from __future__ import annotations

import json
import shlex

import pytest
from click.testing import CliRunner
from flask import Flask

from academy.calculations import CATALOGUE, run
from academy.calculations.examples import EXAMPLES
from academy.calculations.offered import GROUPS, OFFERED
from academy.calculations.query import flat_texts
from academy.cli.calc import command as calc
from tests.web.calculators.shown import Reader, query_of

MACHINE = {"kind": "dual-action", "pad_mm": "150", "throw_mm": "15", "orbits_per_min": "4200"}


def test_the_page_lists_every_calculator_in_its_group_and_names_the_others(reader: Reader) -> None:
    page = reader.follow("/calculators/")
    assert page.status == 200
    for group in GROUPS:
        assert group.title in page.text
        for name, title in group.calculations.items():
            assert page.link(title.replace("'", "&#39;")) == f"/calculators/{name}"
    for name in set(CATALOGUE) - set(OFFERED):
        assert f"academy calc {name}" in page.text


def test_nobody_reads_the_calculators_without_signing_in(site: Flask) -> None:
    stranger = site.test_client()
    for address in ("/calculators/", "/calculators/dwell?pad_mm=150"):
        answer = stranger.get(address)
        assert answer.status_code == 303
        assert answer.headers["Location"].startswith("/sign-in?next=/calculators/")


@pytest.mark.parametrize("name", ["nothing", "cut-score", "..", "machine-speed%00"])
def test_there_is_no_page_for_another_name(reader: Reader, name: str) -> None:
    assert reader.follow(f"/calculators/{name}").status == 404


@pytest.mark.parametrize("name", OFFERED)
def test_a_fresh_page_shows_form_formula_source_and_caution_without_a_result(
    reader: Reader, name: str
) -> None:
    page = reader.open(name)
    answer = run(name, EXAMPLES[name])
    assert page.status == 200
    assert page.faults == {}
    assert page.results == {}
    for text in (answer.formula, answer.source, answer.caution):
        assert " ".join(text.split()) in page.text


@pytest.mark.parametrize("name", OFFERED)
def test_every_calculator_computes_its_example_as_the_command_line_does(
    reader: Reader, name: str
) -> None:
    page = reader.follow(reader.open(name).link("Fill in an example"))
    assert page.status == 200
    assert page.results
    assert " ".join(run(name, EXAMPLES[name]).caution.split()) in page.text
    academy, verb, *arguments = shlex.split(page.command)
    assert (academy, verb) == ("academy", "calc")
    printed = CliRunner().invoke(calc, arguments)
    assert printed.exit_code == 0
    assert json.loads(printed.output) == page.unrounded
    assert page.unrounded["result"] == json.loads(json.dumps(run(name, EXAMPLES[name]).result))


@pytest.mark.parametrize("name", OFFERED)
def test_the_link_keeps_the_inputs(reader: Reader, name: str) -> None:
    example = flat_texts(EXAMPLES[name])
    page = reader.open(name, example)
    again = reader.follow(page.link("A link that keeps these inputs"))
    assert query_of(page.link("A link that keeps these inputs")) == example
    assert again.results == page.results
    assert {
        key: again.typed[key] for key in example if key in again.typed
    }.items() <= example.items()


@pytest.mark.parametrize("name", OFFERED)
def test_the_example_gives_the_same_in_the_other_units(reader: Reader, name: str) -> None:
    metric = reader.open(name, flat_texts(EXAMPLES[name]))
    other = reader.follow(metric.link("US units"))
    assert other.status == 200
    for key, value in metric.unrounded["result"].items():
        if isinstance(value, float):
            assert other.unrounded["result"][key] == pytest.approx(value, rel=1e-7), key
        elif not isinstance(value, (list, str)):
            assert other.unrounded["result"][key] == value, key
    # and back: what was typed stands there again
    assert query_of(other.link("Metric units")) == flat_texts(EXAMPLES[name])


def test_numbers_are_rounded_on_the_page_and_whole_in_the_json(reader: Reader) -> None:
    page = reader.open("machine-speed", MACHINE)
    # pi x 0.015 m x 4200 / 60 s
    assert page.results["Speed along the orbit"] == "3.299 m/s"
    assert page.unrounded["result"]["orbit_m_s"] == pytest.approx(3.2986722862692827, rel=1e-15)


def test_us_units_are_taken_and_printed(reader: Reader) -> None:
    given = {"kind": "rotary", "pad_mm": "6", "rpm": "1200", "units": "us"}
    page = reader.open("machine-speed", given)
    assert page.unrounded["inputs"]["pad_mm"] == 152.4
    # pi x 6 in x 1200 a minute / 12 in a foot
    assert page.results["Speed of the rim by turning"] == "1885 ft/min"
    assert page.typed["pad_mm"] == "6"


def test_temperatures_and_their_differences_turn_differently(reader: Reader) -> None:
    page = reader.open("dew-point", {"air_c": "71.6", "rh_percent": "65", "panel_c": "66.2", "units": "us"})  # fmt: skip
    assert page.unrounded["inputs"] == {"air_c": 22, "rh_percent": 65, "panel_c": 19}
    assert page.results["Dew point"] == "59.21 °F"  # 15.12 °C
    assert page.results["Panel above the dew point"] == "6.986 °F"  # 3.881 K


def test_a_length_of_paint_is_in_micrometres_with_mils_in_both_systems(reader: Reader) -> None:
    example = flat_texts(EXAMPLES["may-cut-again"])
    for units in ("metric", "us"):
        page = reader.open("may-cut-again", {**example, "units": units})
        assert page.results["Used of the budget"] == "3.50 µm (0.1378 mil)"


def test_the_answer_about_cutting_again_is_a_word(reader: Reader) -> None:
    example = flat_texts(EXAMPLES["may-cut-again"])
    words = {
        "known": "yes",
        "repaint": "ask the owner first",
    }
    for history, word in words.items():
        page = reader.open("may-cut-again", {**example, "history": history})
        assert page.results["May be cut again"] == word
    thin = reader.open("may-cut-again", {**example, "minimum_now_um": "81"})
    assert thin.results["May be cut again"] == "no"


def test_what_was_left_empty_is_shown_with_the_value_it_was_computed_with(reader: Reader) -> None:
    given = {
        "baseline_um": "118",
        "now_um": "116",
        "planned_um": "1",
        "planned_uncertainty_um": "1",
    }
    page = reader.open("may-cut-again", given | {"cap_um": ""})
    assert page.status == 200
    assert page.typed["cap_um"] == "8"
    assert page.typed["history"] == "known"


def test_a_decimal_comma_is_a_decimal_comma(reader: Reader) -> None:
    page = reader.open("late-reading", {"heated_s": "20,5", "waited_s": "0"})
    assert page.unrounded["inputs"]["heated_s"] == 20.5
    assert page.typed["heated_s"] == "20,5"


@pytest.mark.parametrize(
    "text", ["112,4 113,1 111,8", "112.4, 113.1, 111.8", "112.4;113.1;111.8", "112.4\n113.1\n111.8", "112.4 | 113.1\t111.8,", "112.4,113.1,111.8"]
)  # fmt: skip
def test_readings_are_taken_whatever_stands_between_them(reader: Reader, text: str) -> None:
    page = reader.open("statistics", {"values": text})
    assert page.unrounded["inputs"]["values"] == [112.4, 113.1, 111.8]


def test_empty_rows_do_not_count_and_a_row_keeps_its_place(reader: Reader) -> None:
    given = {"exposures-1-m_s2": "", "exposures-4-m_s2": "5", "exposures-4-hours": "2"}
    page = reader.open("vibration", given)
    assert page.unrounded["inputs"]["exposures"] == [{"m_s2": 5, "hours": 2}]
    assert page.typed["exposures-4-m_s2"] == "5"
    # 8 h x (2.5/5)^2
    assert page.results["Time until the action value"] == "2 h"


def test_more_rows_come_without_computing_or_losing_what_was_typed(reader: Reader) -> None:
    page = reader.open("vibration", {"exposures-1-m_s2": "5", "more": "6"})
    assert page.status == 200
    assert page.results == {}
    assert page.typed["exposures-1-m_s2"] == "5"
    assert "exposures-6-hours" in page.typed
    assert "exposures-7-hours" not in page.typed
    assert len(reader.open("vibration", {"more": "99999999999"}).typed) == 6


def test_a_tick_is_kept(reader: Reader) -> None:
    given = {"sd_um": "0.8", "resolve_um": "1"}
    assert reader.open("readings-needed", given).unrounded["inputs"]["paired"] is False
    ticked = reader.open("readings-needed", given | {"paired": "yes"})
    assert ticked.unrounded["inputs"]["paired"] is True
    assert 'value="yes" checked' in ticked.html


def test_what_does_not_apply_is_left_out(reader: Reader) -> None:
    shown = reader.open("noise", flat_texts(EXAMPLES["noise"])).results
    assert list(shown) == ["Dose of the day", "Time-weighted average"]
    shown = reader.open("noise", flat_texts(EXAMPLES["noise"]) | {"rule": "eu"}).results
    assert list(shown) == ["Daily noise exposure level"]


def test_spots_are_shown_one_by_one(reader: Reader) -> None:
    page = reader.open("removal", flat_texts(EXAMPLES["removal"]))
    assert page.results["Removed, mean of the spots"] == "1.84 µm (0.0726 mil)"
    assert "Spot 2 2.07 0.19 1.54 2.59" in page.text


def test_a_chance_that_is_nearly_certain_is_not_called_certain(reader: Reader) -> None:
    page = reader.open("conformity", {"value": "1", "u": "0.4", "upper": "4"})
    assert page.results["Chance that it keeps to the limits"] == "more than 99.99 %"
