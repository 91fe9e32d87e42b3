"""The registry: every calculation answers, refuses and explains in the same way."""

from __future__ import annotations

import json
import math
import subprocess
import sys

import pytest

from academy.calculations import (
    CALCULATIONS,
    CATALOGUE,
    BadInput,
    NotComputable,
    UnknownCalculation,
    run,
)
from academy.calculations.catalogue import MODULES
from academy.calculations.described import described_inputs

ENVELOPE = ["name", "inputs", "result", "units", "formula", "source", "caution"]
MEASURED = [
    (str(operator), str(part), trial, operator + 3 * part + trial * (1 if part % 2 else -1) / 10)
    for operator in range(2)
    for part in range(3)
    for trial in range(2)
]
GAUGE_STUDY = [
    dict(zip(("operator", "part", "trial", "value"), row, strict=True)) for row in MEASURED
]
RULE: dict[str, object] = {"p0": 0.1, "p1": 0.3, "alpha": 0.1, "beta": 0.1}
# One well-formed input for each calculation here, and the result keys that outside checks rely on.
EXAMPLES: dict[str, tuple[dict[str, object], str]] = {
    "convert": ({"value": 1, "from": "mil", "to": "um"}, "value"),
    "statistics": ({"values": [1, "2.5", 3]}, "n mean sd min max cv_percent lag1_autocorrelation"),
    "one-way-anova": (
        {"groups": [[1, 2], ["3", 5]]},
        "f df_between df_within ss_between ss_within r2 residual_sd",
    ),
    "paired-difference": (
        {"first": [3, 5], "second": [1, 1]},
        "n mean_difference sd t df p_two_sided lower upper",
    ),
    "removal": (
        {"spots": [{"before_um": [112, 113], "after_um": [110, 111]}]},
        "removed_um u_um df expanded_um lower_um upper_um per_spot unevenness_um max_removed_um",
    ),
    "may-cut-again": (
        {"baseline_um": 112, "now_um": 107, "planned_um": 2, "planned_uncertainty_um": 1},
        "allowed used_um left_um reason",
    ),
    "readings-needed": ({"sd_um": 1.5, "resolve_um": 2}, "readings"),
    "conformity": ({"value": 1, "u": 0.5, "upper": 2}, "probability"),
    "guard-band": (
        {"limit": 100, "u": 1, "risk": 0.05, "side": "minimum"},
        "acceptance_limit guard_band",
    ),
    "gauge-verification": (
        {
            "certified_um": 100,
            "readings": [101],
            "gauge_tolerance": {"absolute_um": 1, "percent": 1},
            "standard_tolerance": {"absolute_um": 0.5, "percent": 0},
        },
        "mean_um error_um limit_um passed",
    ),
    "gauge-study": (
        {"measurements": GAUGE_STUDY},
        "repeatability reproducibility gauge part total interaction percent_contribution "
        "percent_study_variation distinct_categories clamped anova",
    ),
    "tolerance-bound": (
        {"values": [1, 2, 4], "coverage": 0.9, "confidence": 0.95, "side": "minimum"},
        "k bound",
    ),
    "proportion": ({"passed": 9, "tried": 10}, "wilson clopper_pearson jeffreys"),
    "sequential": (RULE, "s h0 h1 straight_passes decision decided_after"),
    "operating-characteristic": ({**RULE, "p": 0.2}, "accept mean_trials"),
    "panels-for-proof": ({"target": 0.9, "confidence": 0.95}, "panels"),
    "cut-score": ({"ratings": [[70, 80], [60, 75]], "form": [1]}, "cut se"),
}


@pytest.mark.parametrize("name", sorted(EXAMPLES))
def test_an_answer_shows_everything_it_was_computed_from(name: str) -> None:
    inputs, keys = EXAMPLES[name]
    answer = run(name, inputs).as_json_object()
    assert list(answer) == ENVELOPE
    assert set(keys.split()) <= set(run(name, inputs).result)
    assert answer["formula"]
    assert answer["source"]
    assert answer["caution"]
    assert json.loads(json.dumps(answer, allow_nan=False)) == json.loads(json.dumps(answer))


@pytest.mark.parametrize("name", sorted(EXAMPLES))
def test_inputs_are_echoed_so_that_they_give_the_same_answer(name: str) -> None:
    inputs, _ = EXAMPLES[name]
    echoed = json.loads(json.dumps(run(name, inputs).inputs))
    assert run(name, echoed) == run(name, inputs)


@pytest.mark.parametrize("name", sorted(EXAMPLES))
def test_a_name_that_is_no_input_is_refused(name: str) -> None:
    inputs, _ = EXAMPLES[name]
    with pytest.raises(BadInput, match="colour: not an input here"):
        run(name, {**inputs, "colour": 1})


@pytest.mark.parametrize("name", sorted(EXAMPLES))
@pytest.mark.parametrize("wrong", [True, math.nan, math.inf, "red", None, [], {}])
def test_no_input_takes_what_is_not_its_kind(name: str, wrong: object) -> None:
    inputs, _ = EXAMPLES[name]
    optional = {f.path for f in described_inputs(CALCULATIONS[name]) if not f.required}
    for field, given in inputs.items():
        if field in optional or (type(wrong) is type(given) and wrong):
            continue
        with pytest.raises((BadInput, NotComputable)) as refused:
            run(name, {**inputs, field: wrong})
        assert field in str(refused.value)


@pytest.mark.parametrize("name", list(CATALOGUE))
def test_every_name_in_the_catalogue_leads_to_its_calculation(name: str) -> None:
    calculation = CALCULATIONS[name]
    assert calculation.name == name
    assert calculation.says == CATALOGUE[name].says
    for field in described_inputs(calculation):
        assert field.says, f"{name}: {field.path} says nothing"


def test_no_calculation_stands_in_a_module_without_a_line_in_the_catalogue() -> None:
    from importlib import import_module

    for module, names in MODULES.items():
        held = import_module(f"academy.calculations.{module}").CALCULATIONS
        assert {calculation.name for calculation in held} == set(names)


def test_an_unknown_name_is_refused_in_a_sentence() -> None:
    with pytest.raises(UnknownCalculation, match="there is no calculation named nonsense"):
        run("nonsense", {})


def test_asking_for_one_calculation_imports_no_other_and_no_library_of_numbers() -> None:
    code = (
        "import sys; from academy.calculations import run, CATALOGUE; list(CATALOGUE);"
        "run('convert', {'value': 1, 'from': 'mil', 'to': 'um'});"
        "print([m for m in sys.modules if m.split('.')[0] in ('numpy', 'scipy')"
        " or m in ('academy.calculations.gauge', 'academy.calculations.removal')])"
    )
    printed = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    )
    assert printed.stdout.strip() == "[]"
