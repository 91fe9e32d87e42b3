"""What a task's sections decide, rule by rule."""

from __future__ import annotations

from dataclasses import replace
from random import Random
from uuid import uuid4

import pytest
from hypothesis import given
from hypothesis import strategies as st

from academy.domain.assessment.sequential import Decision
from academy.domain.certification.evidence import PanelKind, PracticalEvidence
from academy.domain.certification.rules.decision import RuleDecision, decide
from academy.domain.certification.rules.missing import (
    CleanSectionsMissing,
    CurvatureMissing,
    HardnessMissing,
    LikeSectionsMissing,
    OneCleanSectionMissing,
    PracticalsMissing,
    SeverityMissing,
)
from academy.domain.curriculum.evidence_rules import (
    EvidenceRule,
    Mix,
    RuleKind,
    Strictness,
    in_a_row,
)
from tests.support.sections import TASK, a_section, day, sections

OUTCOMES = EvidenceRule(RuleKind.BY_OUTCOMES)
READINGS = EvidenceRule(RuleKind.BY_READINGS)
RUN = in_a_row(3)
RULES = [RUN, OUTCOMES, READINGS]
COMPETENT, NOT_YET, UNDECIDED = Decision


def decided(rule: EvidenceRule, practicals: list[PracticalEvidence]) -> RuleDecision:
    return decide(rule, TASK, practicals)


@pytest.mark.parametrize(
    ("rule", "pattern", "decision"),
    [
        (RUN, "cc", UNDECIDED),
        (RUN, "ccc", COMPETENT),
        (RUN, "cccs", UNDECIDED),
        (RUN, "scccc", COMPETENT),
        (OUTCOMES, "c" * 9, UNDECIDED),
        (OUTCOMES, "c" * 10, COMPETENT),
        (OUTCOMES, "s" + "c" * 17, UNDECIDED),
        (OUTCOMES, "s" + "c" * 18, COMPETENT),
        (OUTCOMES, "ss", NOT_YET),
        (OUTCOMES, "scccccs", NOT_YET),
        # as much speaks against as the rule ever counts: nineteen straight lead from line to line
        (OUTCOMES, "ssssss" + "c" * 18, UNDECIDED),
        (OUTCOMES, "ssssss" + "c" * 19, COMPETENT),
        # one spoiled section does not undo ten clean ones, two at once do
        (OUTCOMES, "c" * 10 + "s", COMPETENT),
        (OUTCOMES, "c" * 10 + "ss", UNDECIDED),
        (READINGS, "c" * 6, UNDECIDED),
        (READINGS, "c" * 7, COMPETENT),
        # after a spoiled section the outcomes alone decide
        (READINGS, "c" * 7 + "s", UNDECIDED),
        (READINGS, "c" * 10 + "s", COMPETENT),
        (READINGS, "s" + "c" * 17, UNDECIDED),
        (READINGS, "s" + "c" * 18, COMPETENT),
    ],
)
def test_what_each_rule_decides(rule: EvidenceRule, pattern: str, decision: Decision) -> None:
    found = decided(rule, sections(pattern))
    assert found.decision is decision
    assert (found.missing == ()) is (decision is COMPETENT)
    assert found.spoiled == pattern.count("s")


@pytest.mark.parametrize(
    ("strictness", "run", "outcomes"),
    [(Strictness.QUICK, 5, 8), (Strictness.CAREFUL, 8, 10), (Strictness.STRICT, 12, 14)],
)
def test_a_stricter_rule_asks_for_more_clean_sections(
    strictness: Strictness, run: int, outcomes: int
) -> None:
    for kind, needed in ((RuleKind.IN_A_ROW, run), (RuleKind.BY_OUTCOMES, outcomes)):
        rule = EvidenceRule(kind, strictness)
        assert decided(rule, sections("c" * (needed - 1))).decision is UNDECIDED
        assert decided(rule, sections("c" * needed)).decision is COMPETENT


def test_removal_near_the_limit_is_decided_by_outcomes() -> None:
    near = [a_section(day(n), True, 3.0 + 0.3 * (n % 4)) for n in range(10)]
    assert decided(READINGS, near[:9]).decision is UNDECIDED
    assert decided(READINGS, near).decision is COMPETENT


def test_a_reading_below_nothing_counts_as_what_the_gauge_resolves() -> None:
    below = [a_section(day(n), True, removed) for n, removed in enumerate((-0.4, 0.0, -0.1, 0.2))]
    usual = [a_section(day(n), True, 0.1 * n) for n in range(4, 7)]
    assert decided(READINGS, below + usual).decision is COMPETENT


def test_too_coarse_a_gauge_leaves_the_decision_to_the_outcomes() -> None:
    coarse = [a_section(day(n), True, 1.0, u_um=0.5) for n in range(10)]
    assert decided(READINGS, coarse[:9]).decision is UNDECIDED
    assert decided(READINGS, coarse).decision is COMPETENT


def test_a_section_left_uncorrected_is_not_clean() -> None:
    untouched = [a_section(day(n), True, 0.0, correction_met=False) for n in range(10)]
    for rule in RULES:
        assert decided(rule, untouched).decision is not COMPETENT


@pytest.mark.parametrize(
    ("rule", "pattern", "missing"),
    [
        (RUN, "cc", PracticalsMissing(TASK, 3, 2)),
        (OUTCOMES, "", CleanSectionsMissing(TASK, 10)),
        (OUTCOMES, "c" * 9, OneCleanSectionMissing(TASK)),
        (OUTCOMES, "s", CleanSectionsMissing(TASK, 18)),
        (READINGS, "", CleanSectionsMissing(TASK, 10)),
        (READINGS, "c" * 5, LikeSectionsMissing(TASK, 2)),
        (READINGS, "cs", CleanSectionsMissing(TASK, 17)),
    ],
)
def test_what_is_missing_is_said(rule: EvidenceRule, pattern: str, missing: object) -> None:
    assert decided(rule, sections(pattern)).missing == (missing,)


@given(st.text("cs", max_size=30), st.sampled_from(RULES))
def test_so_many_clean_sections_do_decide_it(pattern: str, rule: EvidenceRule) -> None:
    """The number said is enough, and not one too many; before the first reading nobody can know."""
    (missing, *_) = (*decided(rule, sections(pattern)).missing, None)
    match missing:
        case CleanSectionsMissing(_, more) | LikeSectionsMissing(_, more):
            assert decided(rule, sections(pattern + "c" * more)).competent
            fewer = decided(rule, sections(pattern + "c" * (more - 1)))
            assert not fewer.competent or (rule, pattern) == (READINGS, "")
        case OneCleanSectionMissing():
            assert decided(rule, sections(pattern + "c")).competent


class TestWhatCounts:
    def test_a_day_lets_only_so_many_clean_sections_count(self) -> None:
        one_day = [a_section(day(0)) for _ in range(12)]
        rule = replace(OUTCOMES, per_day=2)
        assert decided(OUTCOMES, one_day).competent
        found = decided(rule, one_day)
        assert len(found.rests_on) == 2
        assert found.missing == (CleanSectionsMissing(TASK, 8),)

    def test_a_panel_lets_only_so_many_clean_sections_count_in_a_year(self) -> None:
        rule, panel = replace(RUN, per_panel=2), PanelKind(uuid4())
        same = [a_section(day(n), panel=panel) for n in range(3)]
        assert decided(rule, same).missing == (PracticalsMissing(TASK, 3, 2),)
        assert decided(rule, [*same, a_section(day(3), panel=PanelKind(uuid4()))]).competent
        assert decided(rule, [*same, a_section(day(366), panel=panel)]).competent

    def test_a_spoiled_section_counts_beyond_every_number(self) -> None:
        rule = replace(RUN, per_day=1, per_panel=1)
        assert decided(rule, [*sections("ccc"), a_section(day(2), False)]).spoiled == 1

    def test_the_mix_names_what_is_missing(self) -> None:
        rule = replace(RUN, mix=Mix(curvature=2, hardness=2, severity=3))
        alike = [a_section(day(n), panel=PanelKind(uuid4(), "flat", "hard", 1)) for n in range(3)]
        assert decided(rule, alike).missing == (
            CurvatureMissing(TASK, 2, 1),
            HardnessMissing(TASK, 2, 1),
            SeverityMissing(TASK, 3, 1),
        )
        others = [
            a_section(day(3), panel=PanelKind(uuid4(), "tightly curved", "soft", 2)),
            a_section(day(4), panel=PanelKind(uuid4(), None, None, 3)),
        ]
        assert decided(rule, [*alike, *others]).competent

    def test_an_unknown_kind_adds_nothing_to_the_mix(self) -> None:
        rule = replace(RUN, mix=Mix(hardness=2))
        known = a_section(day(0), panel=PanelKind(hardness="hard"))
        unknown = [a_section(day(n)) for n in (1, 2)]
        assert decided(rule, [known, *unknown]).missing == (HardnessMissing(TASK, 2, 1),)


panels = st.sampled_from([PanelKind(uuid4(), shape, coat, 1) for shape in "ab" for coat in "xy"])
any_section = st.builds(
    lambda n, clean, removed, panel, hour: a_section(
        day(n), clean, removed, panel=panel, hour=hour
    ),
    st.integers(0, 25),
    st.sampled_from([True] * 6 + [False]),
    st.one_of(st.none(), st.floats(-0.5, 3.9)),
    panels,
    st.integers(0, 23),
)
histories = st.lists(any_section, max_size=40)
any_rule = st.builds(
    EvidenceRule,
    st.sampled_from(RuleKind),
    st.sampled_from(Strictness),
    st.none(),
    st.sampled_from([None, 4]),
    st.sampled_from([None, 2]),
    st.sampled_from([Mix(), Mix(2, 2, 1)]),
)


@given(any_rule, histories, st.floats(-0.5, 3.9), panels)
def test_a_clean_section_on_a_later_day_never_lowers_a_decision(
    rule: EvidenceRule, history: list[PracticalEvidence], removed: float, panel: PanelKind
) -> None:
    order = [NOT_YET, UNDECIDED, COMPETENT]
    more = [*history, a_section(day(40), True, removed, panel=panel)]
    assert order.index(decided(rule, more).decision) >= order.index(decided(rule, history).decision)


@given(st.sampled_from([RUN, OUTCOMES]), histories, any_section)
def test_without_readings_a_clean_section_never_lowers_a_decision_on_whatever_day(
    rule: EvidenceRule, history: list[PracticalEvidence], more: PracticalEvidence
) -> None:
    order = [NOT_YET, UNDECIDED, COMPETENT]
    added = [*history, replace(more, competent=True)]
    assert order.index(decided(rule, added).decision) >= order.index(
        decided(rule, history).decision
    )


@given(st.sampled_from([RUN, OUTCOMES, READINGS]), histories, st.data())
def test_a_section_that_had_been_clean_instead_of_spoiled_never_lowers_a_decision(
    rule: EvidenceRule, history: list[PracticalEvidence], data: st.DataObject
) -> None:
    order = [NOT_YET, UNDECIDED, COMPETENT]
    spoiled = [place for place, section in enumerate(history) if not section.clean]
    if not spoiled:
        return
    place = data.draw(st.sampled_from(spoiled))
    better = [*history[:place], replace(history[place], competent=True), *history[place + 1 :]]
    assert order.index(decided(rule, better).decision) >= order.index(
        decided(rule, history).decision
    )


@given(any_rule, histories, st.randoms(use_true_random=False))
def test_order_within_a_day_and_reading_it_twice_change_nothing(
    rule: EvidenceRule, history: list[PracticalEvidence], chance: Random
) -> None:
    mixed = [
        replace(section, assessed_at=section.assessed_at.replace(hour=chance.randrange(24)))
        for section in history
    ]
    chance.shuffle(mixed)
    again = decided(rule, mixed + mixed[: len(mixed) // 2])
    first = decided(rule, history)
    assert (again.decision, again.missing, again.spoiled) == (
        first.decision,
        first.missing,
        first.spoiled,
    )
    assert {p.practical_id for p in again.rests_on} == {p.practical_id for p in first.rests_on}


@given(any_rule, histories)
def test_a_decision_rests_on_clean_sections_only(
    rule: EvidenceRule, history: list[PracticalEvidence]
) -> None:
    found = decided(rule, history)
    assert all(practical.clean for practical in found.rests_on)
    assert found.competent is (found.missing == ())
