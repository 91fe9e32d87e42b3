"""Dwell, pressure and removal ratio as calculations: their keys, units and refusals."""

from __future__ import annotations

import pytest

from academy.calculations import BadInput, run

ROWS = {"pad_mm": 150, "arm_speed_mm_s": 25, "overlap": 0.5, "passes": 4}
SET = {**ROWS, "force_n": 40, "mean_m_s": 4.6}


def faults(name: str, inputs: dict[str, object]) -> tuple[str, ...]:
    """Return the faults that refuse these inputs."""
    with pytest.raises(BadInput) as refused:
        run(name, inputs)
    return refused.value.faults


def test_dwell_gives_time_distance_and_evenness() -> None:
    answer = run("dwell", {**ROWS, "section_mm": 450, "mean_m_s": 4.618141200776996})

    assert answer.result == pytest.approx(
        {
            "dwell_per_pass_s": 9.42477796076938,
            "time_s": 432.0,
            "sliding_m": 174.09982163521627,
            "unevenness": 0.4660380184760028,
        }
    )
    assert answer.units["sliding_m"] == "m"


def test_dwell_without_a_speed_has_no_sliding_distance() -> None:
    assert run("dwell", {**ROWS, "section_mm": 450}).result["sliding_m"] is None


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        ({"overlap": 50}, "overlap: 50 is not at most 0.99"),
        ({"overlap": 1}, "overlap: 1 is not at most 0.99"),
        ({"overlap": -0.1}, "overlap: -0.1 is not at least 0"),
        ({"passes": 0}, "passes: 0 is not at least 1"),
        ({"passes": 2.5}, "passes: 2.5 is not a whole number"),
        ({"arm_speed_mm_s": 0}, "arm_speed_mm_s: 0 is not at least 0.1"),
        ({"pad_mm": "150"}, 'pad_mm: "150" is not a number'),
        ({"pad_mm": True}, "pad_mm: true is not a number"),
        ({"pad_mm": 0.15}, "pad_mm: 0.15 is not at least 5"),
        ({"section_mm": 1e9}, "section_mm: 1000000000.0 is not at most 5000"),
        ({"section_mm": None}, "section_mm: null is not a number"),
        ({"pass": 4}, "pass: not an input here; 4 was given"),
    ],
)
def test_dwell_refuses_nonsense_by_field_and_range(change: dict[str, object], fault: str) -> None:
    assert faults("dwell", {**ROWS, "section_mm": 450, **change}) == (fault,)


@pytest.mark.parametrize(
    ("place", "pressure_kpa", "factor"),
    [
        pytest.param({}, 2.263536968418067, 1, id="flat"),
        pytest.param({"overhang_mm": 0}, 4.527073936836134, 2, id="centre on the edge"),
        pytest.param({"overhang_mm": -300}, 2.263536968418067, 1, id="well inside"),
        pytest.param({"strip_mm": 20}, 13.333333333333334, 5.8904862254808625, id="crown"),
    ],
)
def test_contact_pressure_where_the_pad_touches(
    place: dict[str, float], pressure_kpa: float, factor: float
) -> None:
    answer = run("contact-pressure", {"force_n": 40, "pad_mm": 150, **place})

    assert answer.result == pytest.approx({"pressure_kpa": pressure_kpa, "factor": factor})


@pytest.mark.parametrize(
    ("place", "fault"),
    [
        (
            {"overhang_mm": 75},
            "overhang_mm: 75 is not below 75, the pad's radius: no part would touch",
        ),
        (
            {"overhang_mm": 0, "strip_mm": 20},
            "strip_mm: give overhang_mm or strip_mm, not both",
        ),
        ({"strip_mm": 0}, "strip_mm: 0 is not at least 0.1"),
        ({"force_n": -40}, "force_n: -40 is not at least 0.1"),
        ({"force_n": 4000}, "force_n: 4000 is not at most 500"),
    ],
)
def test_contact_pressure_refuses_a_pad_that_cannot_lie_there(
    place: dict[str, float], fault: str
) -> None:
    assert faults("contact-pressure", {"force_n": 40, "pad_mm": 150, **place}) == (fault,)


def test_half_the_pad_takes_twice_as_much() -> None:
    answer = run("removal-ratio", {"reference": SET, "choice": {**SET, "pad_mm": 75}})

    assert answer.result == pytest.approx({"ratio": 2.0})


def test_a_fault_inside_a_set_up_names_which_one() -> None:
    choice = {key: value for key, value in SET.items() if key != "force_n"} | {"overlap": 2}

    assert set(faults("removal-ratio", {"reference": SET, "choice": choice})) == {
        "choice.force_n: missing, and needed",
        "choice.overlap: 2 is not at most 0.99",
    }


def test_a_set_up_that_is_no_object_is_refused() -> None:
    assert faults("removal-ratio", {"reference": SET, "choice": 2}) == (
        "choice: 2 is not an object with named values",
    )


@pytest.mark.parametrize("name", ["dwell", "contact-pressure", "removal-ratio"])
def test_nothing_given_names_everything_that_is_needed(name: str) -> None:
    assert all(fault.endswith("missing, and needed") for fault in faults(name, {}))
