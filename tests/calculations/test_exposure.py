"""Vibration and noise as calculations."""

from __future__ import annotations

import pytest

from academy.calculations import BadInput, NotComputable, run


def test_a_single_machine_shows_how_long_it_may_run() -> None:
    answer = run("vibration", {"exposures": [{"m_s2": 5, "hours": 3}]})

    assert answer.result == {
        "a8_m_s2": pytest.approx(3.0618621784789726),
        "points": pytest.approx(150),
        "action_value_reached": True,
        "limit_value_reached": False,
        "hours_to_action": pytest.approx(2),
        "hours_to_limit": pytest.approx(8),
    }


def test_two_machines_have_no_single_time() -> None:
    machines = [{"m_s2": 2.5, "hours": 4}, {"m_s2": 2.5, "hours": 4}]
    result = run("vibration", {"exposures": machines}).result

    assert result["a8_m_s2"] == pytest.approx(2.5)
    assert result["action_value_reached"] is True
    assert result["hours_to_action"] is None
    assert result["hours_to_limit"] is None


@pytest.mark.parametrize(
    ("rule", "expected"),
    [
        ("niosh", (503.9684199579493, 92.02403323215957, None, 1.5874010519681994)),
        ("osha", (131.9507910772894, 92.00004329119149, None, 6.062866266041593)),
        ("eu", (None, None, 92.0, None)),
    ],
)
def test_each_rule_fills_its_own_figures(
    rule: str, expected: tuple[float | None, float | None, float | None, float | None]
) -> None:
    result = run("noise", {"exposures": [{"dba": 92, "hours": 8}], "rule": rule}).result

    keys = ("dose_percent", "twa_dba", "lex_8h_dba", "allowed_hours")
    for key, value in zip(keys, expected, strict=True):
        assert result[key] == (None if value is None else pytest.approx(value))


def test_several_stretches_have_no_single_allowed_time() -> None:
    day = [{"dba": 94, "hours": 1}, {"dba": 85, "hours": 4}]
    result = run("noise", {"exposures": day, "rule": "niosh"}).result

    assert result["dose_percent"] == pytest.approx(150)
    assert result["allowed_hours"] is None


def test_a_day_with_no_time_in_noise_is_not_computable() -> None:
    with pytest.raises(NotComputable, match="no time was spent in noise"):
        run("noise", {"exposures": [{"dba": 92, "hours": 0}], "rule": "eu"})


@pytest.mark.parametrize(
    ("name", "inputs", "fault"),
    [
        ("vibration", {"exposures": []}, "exposures: 0 given; at least 1 needed"),
        ("vibration", {"exposures": 3}, "exposures: 3 is not a list"),
        ("vibration", {}, "exposures: missing, and needed"),
        (
            "vibration",
            {"exposures": [{"m_s2": 4, "hours": 1}, {"m_s2": -4, "hours": 1}]},
            "exposures[1].m_s2: -4 is not at least 0.01",
        ),
        (
            "vibration",
            {"exposures": [{"m_s2": 4, "hours": 25}]},
            "exposures[0].hours: 25 is not at most 24",
        ),
        (
            "vibration",
            {"exposures": [{"m_s2": 4, "hours": 20}, {"m_s2": 4, "hours": 5}]},
            "exposures: the hours add up to 25, which is not at most 24, one day",
        ),
        (
            "noise",
            {"exposures": [{"dba": 920, "hours": 1}], "rule": "eu"},
            "exposures[0].dba: 920 is not at most 140",
        ),
        (
            "noise",
            {"exposures": [{"dba": 92, "hours": 1}], "rule": "acgih"},
            'rule: "acgih" is not one of niosh, osha, eu',
        ),
        ("noise", {"exposures": [{"dba": 92, "hours": 1}]}, "rule: missing, and needed"),
        (
            "noise",
            {"exposures": [{"dba": "loud", "hours": 1}], "rule": "eu"},
            'exposures[0].dba: "loud" is not a number',
        ),
    ],
)
def test_nonsense_is_refused_by_field_and_range(
    name: str, inputs: dict[str, object], fault: str
) -> None:
    with pytest.raises(BadInput) as refused:
        run(name, inputs)

    assert refused.value.faults == (fault,)
