"""Machine speed as a calculation: the two kinds and what each needs."""

from __future__ import annotations

import pytest

from academy.calculations import BadInput, run

ROTARY = {"kind": "rotary", "pad_mm": 150, "rpm": 1500}
DUAL_ACTION = {"kind": "dual-action", "pad_mm": 150, "throw_mm": 21, "orbits_per_min": 4200}


def test_a_rotary_has_a_rim_and_a_mean_of_two_thirds() -> None:
    assert run("machine-speed", ROTARY).result == pytest.approx(
        {"rim_m_s": 11.780972450961723, "mean_m_s": 7.853981633974482, "orbit_m_s": 0.0}
    )


def test_a_dual_action_without_a_spin_is_stalled() -> None:
    orbit = 4.6181412007769955

    assert run("machine-speed", DUAL_ACTION).result == pytest.approx(
        {"rim_m_s": 0.0, "mean_m_s": orbit, "orbit_m_s": orbit}
    )


def test_a_dual_action_with_a_spin_shows_the_rim_of_the_spin_alone() -> None:
    assert run("machine-speed", {**DUAL_ACTION, "rpm": 300}).result == pytest.approx(
        {
            "rim_m_s": 2.356194490192345,
            "mean_m_s": 4.770125341965411,
            "orbit_m_s": 4.6181412007769955,
        }
    )


@pytest.mark.parametrize(
    ("inputs", "expected"),
    [
        pytest.param(
            {"kind": "rotary", "pad_mm": 150},
            ["rpm: missing; a rotary needs its turning speed, 0 to 20000 a minute"],
            id="rotary without speed",
        ),
        pytest.param(
            {"kind": "dual-action", "pad_mm": 150, "rpm": 300},
            [
                "throw_mm: missing; a dual action needs it, above 0 and at most 50 mm",
                "orbits_per_min: missing; a dual action needs it, above 0 and at most 20000 a minute",
            ],
            id="dual action without orbit",
        ),
        pytest.param(
            {**DUAL_ACTION, "throw_mm": 0},
            ["throw_mm: 0 is not above 0; a dual action needs it, above 0 and at most 50 mm"],
            id="dual action without throw",
        ),
        pytest.param(
            {**ROTARY, "throw_mm": 21},
            ["throw_mm: 21 was given, but a rotary has no orbit; leave it out"],
            id="rotary with a throw",
        ),
        pytest.param(
            {**ROTARY, "kind": "belt"},
            ['kind: "belt" is not one of rotary, dual-action'],
            id="another kind",
        ),
        pytest.param({**ROTARY, "rpm": -1}, ["rpm: -1 is not at least 0"], id="backwards"),
        pytest.param(
            {**ROTARY, "rpm": 1e6}, ["rpm: 1000000.0 is not at most 20000"], id="absurdly fast"
        ),
        pytest.param({**ROTARY, "rpm": "fast"}, ['rpm: "fast" is not a number'], id="text"),
    ],
)
def test_a_machine_without_what_moves_it_is_refused(
    inputs: dict[str, object], expected: list[str]
) -> None:
    with pytest.raises(BadInput) as refused:
        run("machine-speed", inputs)

    assert list(refused.value.faults) == expected
