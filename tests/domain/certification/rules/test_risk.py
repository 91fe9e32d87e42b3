"""The risk shown beside a rule is that of the rule itself."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import numpy as np
import pytest

from academy.domain.certification.evidence import PracticalEvidence
from academy.domain.certification.rules.decision import decide
from academy.domain.certification.rules.risk import (
    median_of,
    outcomes_passed_by,
    readings_passed,
    risk_of,
    run_passed_by,
)
from academy.domain.certification.rules.strictness import FIGURES
from academy.domain.certification.rules.trainees import ReadingPlan, Trainee, simulated_sections
from academy.domain.curriculum.evidence_rules import EvidenceRule, RuleKind, Strictness, in_a_row
from academy.domain.metrology.section_reading import SectionReading
from tests.support.sections import TASK, a_section, day, sections

PLAN = ReadingPlan(limit_um=4.0, spots=4, readings_per_spot=5, repeatability_um=1.0)


def counted(rule: EvidenceRule, spoil_rate: float, length: int) -> float:
    """Return the share passed by counting every history, each judged by the rule itself."""
    share = 0.0
    for marks in product("cs", repeat=length):
        history = sections("".join(marks))
        if any(decide(rule, TASK, history[:end]).competent for end in range(1, length + 1)):
            share += spoil_rate ** marks.count("s") * (1 - spoil_rate) ** marks.count("c")
    return share


def test_a_run_is_passed_as_often_as_every_history_says() -> None:
    assert run_passed_by(3, 0.3, 8)[-1] == pytest.approx(counted(in_a_row(3), 0.3, 8), abs=1e-12)


def test_outcomes_are_passed_as_often_as_every_history_says() -> None:
    rule = EvidenceRule(RuleKind.BY_OUTCOMES, Strictness.QUICK)
    exact = outcomes_passed_by(FIGURES[Strictness.QUICK], 0.1, 9)[-1]
    assert exact == pytest.approx(counted(rule, 0.1, 9), abs=1e-12)


def test_three_in_a_row_lets_most_through_who_spoil_three_in_ten() -> None:
    """Common arithmetic: about 86 % within ten sections."""
    assert run_passed_by(3, 0.3, 10)[-1] == pytest.approx(0.86, abs=0.01)


@pytest.mark.parametrize("trainee", list(Trainee))
@pytest.mark.parametrize("strictness", list(Strictness))
def test_simulated_trainees_are_judged_as_people_are(
    trainee: Trainee, strictness: Strictness
) -> None:
    rule = EvidenceRule(RuleKind.BY_READINGS, strictness)
    worked = simulated_sections(trainee, 0.1, PLAN, np.random.default_rng(5), (40, 14))
    passed = readings_passed(FIGURES[strictness], worked, PLAN)
    for person in range(40):
        history: list[PracticalEvidence] = []
        ever = False
        for section in range(14):
            removed, u = worked.removed_um[person, section], worked.u_um[person, section]
            reading = SectionReading(float(removed), float(u), PLAN.limit_um)
            assert reading.fine_enough
            clean = not worked.spoiled[person, section]
            history.append(_with(a_section(day(section), clean), reading))
            ever = ever or decide(rule, TASK, history).competent
            assert bool(passed[person, section]) is ever


def _with(section: PracticalEvidence, reading: SectionReading) -> PracticalEvidence:
    return replace(section, reading=reading)


def test_a_stricter_rule_risks_less_and_costs_more() -> None:
    chance = np.random.default_rng(1)
    for kind in RuleKind:
        risks = [risk_of(EvidenceRule(kind, s), PLAN, chance, draws=4000) for s in Strictness]
        shares = [risk.steady.value for risk in risks]
        medians = [risk.median_sections for risk in risks]
        assert shares == sorted(shares, reverse=True)
        assert None not in medians
        assert medians == sorted(medians, key=lambda median: median or 0)


def test_only_a_simulated_share_has_a_simulation_error() -> None:
    chance = np.random.default_rng(1)
    careful = EvidenceRule(RuleKind.BY_READINGS)
    assert risk_of(careful, PLAN, chance, draws=500).steady.error is not None
    assert risk_of(careful, None, chance).steady.error is None
    assert risk_of(in_a_row(3), PLAN, chance).steady.error is None


def test_too_coarse_a_gauge_risks_what_the_outcomes_risk() -> None:
    coarse = ReadingPlan(limit_um=2.0, spots=4, readings_per_spot=5, repeatability_um=1.5)
    chance = np.random.default_rng(1)
    by_readings = risk_of(EvidenceRule(RuleKind.BY_READINGS), coarse, chance)
    assert by_readings == risk_of(EvidenceRule(RuleKind.BY_OUTCOMES), None, chance)


def test_nobody_who_needs_too_long_has_a_median() -> None:
    assert median_of(np.array([0.1, 0.3, 0.49])) is None
    assert median_of(np.array([0.1, 0.5])) == 2
