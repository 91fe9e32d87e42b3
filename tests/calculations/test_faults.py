"""Faults name the field, what was given and what is allowed."""

from __future__ import annotations

import pytest

from academy.calculations import BadInput, NotComputable, run

SPOT = {"before_um": [112], "after_um": [109]}
STUDY = {"operator": "A", "part": 1, "trial": 1, "value": 5}


FAULTS: list[tuple[str, dict[str, object], list[str]]] = [
        (
            "removal",
            {"spots": [SPOT, SPOT, SPOT, {"before_um": [112], "after_um": -4}]},
            ["spots[3].after_um: -4 is not above 0"],
        ),
        (
            "removal",
            {"spots": [{"before_um": [112, 0], "after_um": [20000]}]},
            [
                "spots[0].before_um[1]: 0 is not above 0",
                "spots[0].after_um[0]: 20000 is not at most 10000",
            ],
        ),
        ("removal", {"spots": []}, ["spots: 0 given; at least 1 needed"]),
        ("removal", {"spots": [{"before_um": []}]}, [
            "spots[0].before_um: 0 given; at least 1 needed",
            "spots[0].after_um: missing, and needed",
        ]),
        ("removal", {"spots": [SPOT], "resolution_um": True}, [
            "resolution_um: true is not a number or a decimal text"
        ]),
        ("statistics", {"values": [1, "x", None]}, [
            'values[1]: "x" is not a number or a decimal text',
            "values[2]: null is not a number or a decimal text",
        ]),
        ("statistics", {"values": ["1e999"]}, [
            'values[0]: "1e999" is beyond 1e300, or closer to 0 than 1e-300, or has over 300 digits'
        ]),
        ("statistics", {"values": ["NaN"]}, ['values[0]: "NaN" is not a finite number']),
        ("convert", {"value": 1, "from": "mil", "to": "N"}, [
            "to: mil is a length and N a force; allowed with mil: um, nm, mm, mil, in"
        ]),
        ("convert", {"value": 1, "from": "ell", "to": "um"}, [
            'from: "ell" is not one of um, mil, nm, mm, in, C, F, N, kgf, lbf, m/s, ft/min, ml, fl_oz'
        ]),
        ("convert", {"value": -500, "from": "F", "to": "C"}, [
            "value: -500 F is below absolute zero, -273.15 C"
        ]),
        ("conformity", {"value": 1, "u": 1}, ["lower: missing; lower, upper or both are needed"]),
        ("conformity", {"value": 1, "u": 1, "lower": 3, "upper": 2}, [
            "upper: 2 is not at least lower, 3"
        ]),
        ("guard-band", {"limit": 1, "u": "2", "risk": 0.7, "side": "left"}, [
            'u: "2" is not a number',
            "risk: 0.7 is not at most 0.5",
            'side: "left" is not one of minimum, maximum',
        ]),
        ("proportion", {"passed": 2.5, "tried": 0}, [
            "passed: 2.5 is not a whole number",
            "tried: 0 is not at least 1",
        ]),
        ("proportion", {"passed": 11, "tried": 10}, ["passed: 11 is not at most tried, 10"]),
        ("sequential", {"p0": 0.3, "p1": 0.1, "alpha": 0.1, "beta": 0.1}, [
            "p1: 0.1 is not above p0, 0.3"
        ]),
        ("sequential", {"p0": 0.1, "p1": 0.3, "alpha": 0.5, "beta": 0.5}, [
            "beta: 0.5 is not below 1 − alpha, 0.5"
        ]),
        ("sequential", {"p0": 0.1, "p1": 0.3, "alpha": 0.1, "beta": 0.1, "outcomes": [1]}, [
            "outcomes[0]: 1 is not true or false"
        ]),
        ("cut-score", {"ratings": [[70, 80], [70]]}, [
            "ratings[1]: 1 ratings given; 2 needed, as in ratings[0]"
        ]),
        ("cut-score", {"ratings": [[70, 80]], "form": [0, 2]}, [
            "form[1]: 2 is not at most 1, the last question"
        ]),
        ("cut-score", {"ratings": [[70, 80]], "form": [0, 0]}, [
            "form[1]: 0 was given before; each question once"
        ]),
        ("cut-score", {"ratings": [[70.5, 101]]}, [
            "ratings[0][0]: 70.5 is not a whole number",
            "ratings[0][1]: 101 is not at most 100",
        ]),
        ("gauge-study", {"measurements": [STUDY, STUDY]}, [
            "measurements[1].trial: 1 of operator A on part 1 was given before; each trial once"
        ]),
        ("paired-difference", {"first": [1, 2], "second": [1]}, [
            "second: 1 given; 2 needed, one for each in first"
        ]),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("name", "inputs", "faults"), FAULTS, ids=[faults[0][:60] for _, _, faults in FAULTS]
)
def test_a_fault_is_one_line(name: str, inputs: dict[str, object], faults: list[str]) -> None:
    with pytest.raises(BadInput) as refused:
        run(name, inputs)
    assert list(refused.value.faults) == faults
    assert str(refused.value) == "\n".join(faults)


def test_a_long_value_is_cut_short_in_the_line() -> None:
    with pytest.raises(BadInput) as refused:
        run("convert", {"value": "9" * 400 + "x", "from": "mil", "to": "um"})
    assert len(str(refused.value)) < 120


NO_NUMBER: list[tuple[str, dict[str, object], str]] = [
        ("removal", {"spots": [SPOT]}, "give the gauge's repeatability"),
        ("one-way-anova", {"groups": [[1, 1], [2, 2]]}, "F has no value"),
        ("paired-difference", {"first": [1], "second": [2]}, "2 readings are needed"),
        ("tolerance-bound", {"values": [1], "coverage": 0.9, "confidence": 0.9, "side": "upper"}, "2 readings"),
        ("gauge-study", {"measurements": [STUDY]}, "at least 2 operators"),
        ("readings-needed", {"sd_um": 1e4, "resolve_um": 1e-300}, "too large or too small"),
        ("one-way-anova", {"groups": [["1e300", "-1e300"], [5]]}, "too large or too small"),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("name", "inputs", "reason"), NO_NUMBER, ids=[f"{name}: {why}" for name, _, why in NO_NUMBER]
)
def test_what_cannot_be_computed_says_why(
    name: str, inputs: dict[str, object], reason: str
) -> None:
    with pytest.raises(NotComputable, match=reason):
        run(name, inputs)
