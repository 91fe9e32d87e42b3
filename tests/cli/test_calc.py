"""``academy calc`` from the shell."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from academy.calculations import CATALOGUE
from academy.cli import main

GOOD = '{"value": 1, "from": "mil", "to": "um"}'


def calc(*arguments: str, standard_input: str | bytes | None = None) -> Result:
    """Run ``academy calc`` with these arguments."""
    return CliRunner().invoke(main, ["calc", *arguments], input=standard_input)


def test_without_a_name_every_calculation_is_listed_in_one_line() -> None:
    listed = calc()
    assert listed.exit_code == 0
    lines = listed.stdout.splitlines()
    assert [line.split()[0] for line in lines] == list(CATALOGUE)
    assert all(CATALOGUE[line.split()[0]].says in line for line in lines)


@pytest.mark.parametrize("source", ["--json", "--file", "--file -", "--json -", "-"])
def test_inputs_come_from_the_line_a_file_or_standard_input(source: str, tmp_path: Path) -> None:
    file = tmp_path / "input.json"
    file.write_text("\ufeff" + GOOD, encoding="utf-8")
    arguments = {"--json": ["--json", GOOD], "--file": ["--file", str(file)]}.get(
        source, source.split()
    )
    answered = calc("convert", *arguments, standard_input=GOOD)
    assert answered.exit_code == 0
    assert answered.stderr == ""
    assert json.loads(answered.stdout)["result"] == {"value": 25.4}


@pytest.mark.parametrize("name", list(CATALOGUE))
def test_the_help_shows_inputs_formula_source_and_caution(name: str) -> None:
    helped = calc(name, "--help")
    assert helped.exit_code == 0
    for title in ("Inputs:", "Formula:", "Source:", "Caution:"):
        assert title in helped.stdout


def test_the_help_shows_units_ranges_choices_and_defaults() -> None:
    helped = calc("may-cut-again", "--help").stdout
    assert "baseline_um [µm]" in helped
    assert "(above 0, to 10000)" in helped
    assert 'one of known, unknown, repaint; default "known"' in helped


REFUSED: list[tuple[list[str], str]] = [
        (["nonsense"], "there is no calculation named nonsense"),
        (["convert"], "give the inputs once"),
        (["convert", "--json", GOOD, "-"], "give the inputs once"),
        (["convert", "x"], "give the inputs once"),
        (["convert", "--json", "{"], "not JSON: "),
        (["convert", "--json", ""], "not JSON: "),
        (["convert", "--json", "[1]"], "one JSON object"),
        (["convert", "--json", "3"], "one JSON object"),
        (["convert", "--json", '{"value": NaN, "from": "mil", "to": "um"}'], "NaN is not a number"),
        (["convert", "--json", '{"value": 1, "value": 2}'], "value is given twice"),
        (["convert", "--json", '{"value": 1e999, "from": "mil", "to": "um"}'], "value: Infinity is not"),
        (["convert", "--json", "[" * 100_000], "not JSON that can be read"),
        (["convert", "--file", "/no/such/file"], "/no/such/file: No such file"),
        (["convert", "--file", "/"], "/: Is a directory"),
        (["removal", "--json", '{"spots": [{"before_um": [1], "after_um": -4}]}'], "spots[0].after_um: -4 is not above 0"),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("arguments", "sentence"), REFUSED, ids=[" ".join(given)[:45] for given, _ in REFUSED]
)
def test_bad_input_ends_with_2_and_one_line_on_standard_error(
    arguments: list[str], sentence: str
) -> None:
    refused = calc(*arguments)
    assert refused.exit_code == 2
    assert refused.stdout == ""
    assert sentence in refused.stderr
    assert len(refused.stderr.splitlines()) == 1


def test_every_fault_has_its_line() -> None:
    refused = calc("convert", "--json", '{"valu": 1, "from": "ell"}')
    assert refused.exit_code == 2
    assert [line.split(":")[0] for line in refused.stderr.splitlines()] == [
        "value", "from", "to", "valu",
    ]  # fmt: skip


def test_standard_input_that_is_not_utf_8_is_refused() -> None:
    refused = calc("convert", "-", standard_input=b"\xff\xfe{")
    assert (refused.exit_code, refused.stdout) == (2, "")
    assert "standard input: is not UTF-8 text" in refused.stderr


def test_what_cannot_be_computed_ends_with_3_and_the_reason() -> None:
    refused = calc("removal", "--json", '{"spots": [{"before_um": [112], "after_um": [110]}]}')
    assert (refused.exit_code, refused.stdout) == (3, "")
    assert "no uncertainty of its own" in refused.stderr


def test_numbers_are_not_rounded() -> None:
    answered = calc("convert", "--json", '{"value": 1, "from": "um", "to": "mil"}')
    assert json.loads(answered.stdout)["result"]["value"] == 1 / 25.4
    assert "0.03937007874015748" in answered.stdout
