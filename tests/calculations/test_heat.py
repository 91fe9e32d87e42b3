"""Panel heat and late reading as calculations."""

from __future__ import annotations

import pytest

from academy.calculations import BadInput, run

STILL = {
    "force_n": 40,
    "pad_mm": 150,
    "mean_m_s": 4.6181412007769955,
    "friction": 0.4,
    "substrate": "steel",
    "thickness_mm": 0.7,
    "seconds": 10,
}


def test_steel_is_lumped() -> None:
    assert run("panel-heat", STILL).result == {
        "flux_w_m2": pytest.approx(4181.333333333333),
        "power_w": pytest.approx(73.89025921243193),
        "rise_k": pytest.approx(16.190088991281563),
        "rise_lumped_k": pytest.approx(16.190088991281563),
        "rise_half_space_k": None,
        "rise_slab_k": None,
    }


def test_plastic_takes_the_larger_of_two_models() -> None:
    plastic = {**STILL, "substrate": "abs", "thickness_mm": 2, "seconds": 30}
    result = run("panel-heat", plastic).result

    assert result["rise_half_space_k"] == pytest.approx(44.45, abs=0.01)
    assert result["rise_slab_k"] == pytest.approx(57.54, abs=0.01)
    assert result["rise_k"] == result["rise_slab_k"]


def test_a_late_reading_shows_two_thirds_after_a_second() -> None:
    answer = run("late-reading", {"heated_s": 5, "waited_s": 1})

    assert answer.result == pytest.approx({"fraction_left": 0.6482315195103744})


@pytest.mark.parametrize(
    ("name", "inputs", "fault"),
    [
        (
            "panel-heat",
            {**STILL, "substrate": "carbon"},
            'substrate: "carbon" is not one of steel, aluminium, abs, pp',
        ),
        (
            "panel-heat",
            {**STILL, "substrate": "Steel"},
            'substrate: "Steel" is not one of steel, aluminium, abs, pp',
        ),
        ("panel-heat", {**STILL, "thickness_mm": 0}, "thickness_mm: 0 is not at least 0.1"),
        ("panel-heat", {**STILL, "friction": 40}, "friction: 40 is not at most 2"),
        ("panel-heat", {**STILL, "seconds": -1}, "seconds: -1 is not at least 0"),
        ("late-reading", {"heated_s": 0, "waited_s": 1}, "heated_s: 0 is not above 0"),
        ("late-reading", {"heated_s": 5, "waited_s": -1}, "waited_s: -1 is not at least 0"),
        ("late-reading", {"heated_s": 5}, "waited_s: missing, and needed"),
    ],
)
def test_nonsense_is_refused_by_field_and_range(
    name: str, inputs: dict[str, object], fault: str
) -> None:
    with pytest.raises(BadInput) as refused:
        run(name, inputs)

    assert refused.value.faults == (fault,)
