"""What the calculators page and the boxes in lessons say about each calculation."""

from __future__ import annotations

import pytest

from academy.calculations import CALCULATIONS, CATALOGUE, run
from academy.calculations.described import Bounds, described_inputs
from academy.calculations.examples import EXAMPLES
from academy.calculations.labels import INPUTS, RESULTS
from academy.calculations.offered import GROUPS, OFFERED
from academy.calculations.query import flat_name, flat_texts


def test_each_calculator_stands_in_one_group_and_is_in_the_catalogue() -> None:
    names = [name for group in GROUPS for name in group.calculations]
    assert len(names) == len(set(names))
    assert set(names) <= set(CATALOGUE)


def test_each_calculator_has_an_example() -> None:
    assert set(EXAMPLES) == set(OFFERED)


@pytest.mark.parametrize("name", OFFERED)
def test_every_input_and_result_has_a_plain_name(name: str) -> None:
    last_names = {field.path.rpartition(".")[2] for field in described_inputs(CALCULATIONS[name])}
    assert last_names <= set(INPUTS)
    assert set(run(name, EXAMPLES[name]).result) <= set(RESULTS)


def test_the_bounds_of_an_input_are_known_as_numbers() -> None:
    fields = {field.path: field for field in described_inputs(CALCULATIONS["removal"])}
    assert fields["spots[].before_um"].bounds == Bounds(above=0, most=10_000)
    assert fields["resolution_um"].bounds == Bounds(least=0, most=100)
    passes = {field.path: field for field in described_inputs(CALCULATIONS["dwell"])}["passes"]
    assert passes.whole
    assert passes.bounds == Bounds(least=1, most=100)


def test_inputs_are_flat_names_and_texts_in_a_link() -> None:
    inputs = {
        "reference": {"force_n": 40.5},
        "exposures": [{"hours": 1}, {"hours": 2}],
        "values": [1, 2.5],
        "paired": True,
        "absent": None,
    }
    assert flat_texts(inputs) == {
        "reference-force_n": "40.5",
        "exposures-1-hours": "1",
        "exposures-2-hours": "2",
        "values": "1 2.5",
        "paired": "yes",
    }


@pytest.mark.parametrize(
    ("location", "name"),
    [
        (("pad_mm",), "pad_mm"),
        (("spots", 0, "before_um", 2), "spots-1-before_um"),
        (("values", 3), "values"),
        (("gauge_tolerance", "percent"), "gauge_tolerance-percent"),
    ],
)
def test_a_place_in_the_inputs_has_the_name_of_its_control(
    location: tuple[int | str, ...], name: str
) -> None:
    assert flat_name(location) == name
