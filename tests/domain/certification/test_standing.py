"""What a person may do on a given day, and what the next level still asks."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from random import Random
from uuid import uuid4

import pytest
from hypothesis import given
from hypothesis import strategies as st

from academy.domain.certification import (
    AssessedAgainMissing,
    Evidence,
    EvidenceExpired,
    ExaminationMissing,
    Missing,
    ModuleMissing,
    PracticalEvidence,
    PracticalsMissing,
    SupervisorsMissing,
    add_months,
    standing,
    titles_for,
)
from academy.domain.certification.frozen import frozen_missing, missing_from_frozen
from academy.domain.certification.rules.missing import (
    CleanSectionsMissing,
    CurvatureMissing,
    HardnessMissing,
    LikeSectionsMissing,
    OneCleanSectionMissing,
    SeverityMissing,
)
from academy.domain.curriculum.kinds import Supervision
from academy.domain.curriculum.schemes import Requirement
from tests.support.course import a_scheme

SCHEME = a_scheme()
TASK = "polish a section"
DAY = date(2026, 3, 2)
NOT_YET, BESIDE, ON_SITE, ALONE = Supervision


def done(
    on: date, competent: bool = True, task_id: str = TASK, hour: int = 10
) -> PracticalEvidence:
    at = datetime(on.year, on.month, on.day, hour, tzinfo=UTC)
    return PracticalEvidence(uuid4(), task_id, competent, at)


def evidence(*practicals: PracticalEvidence, passed: bool = True) -> Evidence:
    return Evidence({"safety": DAY} if passed else {}, practicals)


def runs(pattern: str, first: date = DAY) -> tuple[PracticalEvidence, ...]:
    """Return a practical a day: 'c' competent, 'n' not yet competent."""
    return tuple(done(first + timedelta(days=day), mark == "c") for day, mark in enumerate(pattern))


@pytest.mark.parametrize(
    ("passed", "pattern", "level", "missing"),
    [
        (False, "", NOT_YET, [ModuleMissing("safety")]),
        (False, "ccc", NOT_YET, [ModuleMissing("safety")]),
        (True, "", BESIDE, [PracticalsMissing(TASK, 1, 0)]),
        (True, "n", BESIDE, [PracticalsMissing(TASK, 1, 0)]),
        (True, "c", ON_SITE, [PracticalsMissing(TASK, 3, 1)]),
        (True, "cc", ON_SITE, [PracticalsMissing(TASK, 3, 2)]),
        (True, "ccn", BESIDE, [PracticalsMissing(TASK, 1, 0)]),
        (True, "ccnc", ON_SITE, [PracticalsMissing(TASK, 3, 1)]),
        (True, "ccc", ALONE, []),
        (True, "nccc", ALONE, []),
        (True, "cccc", ALONE, []),
        (True, "cccn", BESIDE, [PracticalsMissing(TASK, 1, 0)]),
    ],
)
def test_levels_build_on_one_another(
    passed: bool, pattern: str, level: Supervision, missing: list[Missing]
) -> None:
    today = standing(SCHEME, evidence(*runs(pattern), passed=passed), DAY + timedelta(days=20))
    assert today.level is level
    assert list(today.missing) == missing
    assert (today.next_level is None) == (level is ALONE)


def test_a_practical_of_another_task_counts_for_nothing() -> None:
    other = [done(DAY, task_id="inspect"), done(DAY, competent=False, task_id="inspect")]
    assert standing(SCHEME, evidence(*other), DAY).level is BESIDE
    assert standing(SCHEME, evidence(*runs("ccc"), *other), DAY).level is ALONE


def test_everything_the_next_level_asks_is_named() -> None:
    both = a_scheme(
        requirements=(Requirement(BESIDE, ("safety", "pads"), {TASK: 2, "inspect": 1}),)
    )
    today = standing(both, evidence(*runs("c")), DAY)
    assert today.missing == (
        ModuleMissing("pads"),
        PracticalsMissing(TASK, 2, 1),
        PracticalsMissing("inspect", 1, 0),
    )


def test_the_order_in_which_a_scheme_lists_its_levels_does_not_matter() -> None:
    turned = a_scheme(requirements=SCHEME.requirements[::-1])
    for pattern in ("", "c", "ccc"):
        given_evidence = evidence(*runs(pattern))
        assert standing(turned, given_evidence, DAY) == standing(SCHEME, given_evidence, DAY)


@pytest.mark.parametrize(
    ("today", "level"),
    [
        pytest.param(date(2027, 3, 1), ALONE, id="the day before the last"),
        pytest.param(date(2027, 3, 2), ALONE, id="the last day still counts"),
        pytest.param(date(2027, 3, 3), BESIDE, id="the day after"),
    ],
)
def test_a_term_ends_after_its_last_day(today: date, level: Supervision) -> None:
    three = runs("ccc", first=date(2026, 2, 28))
    assert standing(SCHEME, evidence(*three), today).level is level


def test_an_ended_term_is_named_with_its_last_day() -> None:
    today = standing(SCHEME, evidence(done(DAY)), date(2028, 1, 1))
    assert today.missing == (EvidenceExpired(date(2027, 3, 2)),)
    assert str(today.missing[0]) == "the term ended on 2027-03-02; it has to be assessed again"


def test_the_last_day_of_the_term_is_shown_while_it_runs() -> None:
    today = standing(SCHEME, evidence(*runs("ccc")), DAY)
    assert today.valid_until == date(2027, 3, 4)


def test_a_level_that_rests_on_no_practical_has_no_term() -> None:
    assert standing(SCHEME, evidence(), DAY).valid_until is None


def test_a_new_competent_practical_renews_the_term() -> None:
    renewed = evidence(*runs("ccc"), done(date(2027, 1, 10)))
    assert standing(SCHEME, renewed, DAY).valid_until == date(2028, 1, 10)


def test_the_earliest_of_several_terms_is_the_one_that_counts() -> None:
    both = a_scheme(requirements=(Requirement(BESIDE, (), {TASK: 1, "inspect": 1}),))
    two = evidence(done(DAY), done(date(2026, 1, 5), task_id="inspect"))
    assert standing(both, two, DAY).valid_until == date(2027, 1, 5)


@pytest.mark.parametrize(
    ("day", "months", "expected"),
    [
        (date(2026, 1, 31), 1, date(2026, 2, 28)),
        (date(2024, 1, 31), 1, date(2024, 2, 29)),
        (date(2024, 2, 29), 12, date(2025, 2, 28)),
        (date(2024, 2, 29), 48, date(2028, 2, 29)),
        (date(2026, 8, 31), 6, date(2027, 2, 28)),
        (date(2026, 12, 31), 2, date(2027, 2, 28)),
        (date(2026, 12, 15), 1, date(2027, 1, 15)),
        (date(2026, 11, 30), 1, date(2026, 12, 30)),
        (date(2026, 5, 31), 1, date(2026, 6, 30)),
        (date(2099, 12, 31), 2, date(2100, 2, 28)),
        (date(2026, 3, 2), 0, date(2026, 3, 2)),
    ],
)
def test_months_later_is_the_same_day_or_the_months_last(
    day: date, months: int, expected: date
) -> None:
    assert add_months(day, months) == expected


def test_evidence_of_a_leap_day_holds_until_the_end_of_february() -> None:
    leap = evidence(done(date(2024, 2, 29)))
    assert standing(SCHEME, leap, date(2025, 2, 28)).level is ON_SITE
    assert standing(SCHEME, leap, date(2025, 3, 1)).level is BESIDE


days = st.dates(date(2025, 1, 1), date(2027, 12, 31))
practicals = st.lists(
    st.builds(
        done, days, st.booleans(), st.sampled_from([TASK, "inspect"]), hour=st.integers(0, 23)
    ),
    max_size=8,
)
anybodys_evidence = st.builds(
    Evidence, st.dictionaries(st.sampled_from(["safety", "pads"]), days), practicals.map(tuple)
)


@given(anybodys_evidence, days, st.integers(0, 900))
def test_a_level_never_rises_without_new_evidence(
    known: Evidence, today: date, days_later: int
) -> None:
    later = today + timedelta(days=days_later)
    assert standing(SCHEME, known, later).level.rank <= standing(SCHEME, known, today).level.rank


@given(anybodys_evidence, days, st.randoms(use_true_random=False))
def test_the_order_of_the_evidence_does_not_matter(
    known: Evidence, today: date, chance: Random
) -> None:
    mixed = list(known.practicals)
    chance.shuffle(mixed)
    again = replace(known, practicals=tuple(mixed))
    assert standing(SCHEME, again, today) == standing(SCHEME, known, today)


@given(st.text("cn", max_size=5), days, st.integers(0, 360))
def test_a_standing_holds_to_the_last_day_it_names_and_not_beyond(
    pattern: str, first: date, days_later: int
) -> None:
    known = evidence(*runs(pattern + "c", first))
    today = standing(SCHEME, known, first + timedelta(days=days_later))
    assert today.valid_until is not None
    beyond = today.valid_until + timedelta(days=1)
    assert standing(SCHEME, known, today.valid_until).level is today.level
    assert standing(SCHEME, known, beyond).level.rank < today.level.rank


@given(anybodys_evidence, days)
def test_another_competent_practical_never_lowers_anybody(known: Evidence, today: date) -> None:
    newest = max((p.assessed_at.date() for p in known.practicals), default=today)
    more = replace(known, practicals=(*known.practicals, done(newest + timedelta(days=1))))
    assert standing(SCHEME, more, today).level.rank >= standing(SCHEME, known, today).level.rank


def test_a_run_ends_with_the_practical_that_was_not_yet_competent() -> None:
    first, bad, second, third = runs("cncc")
    assert evidence(third, bad, first, second).run_of(TASK) == (second, third)


def test_the_order_within_a_day_makes_no_run() -> None:
    good, bad = done(DAY, hour=15), done(DAY, competent=False, hour=9)
    assert evidence(good, bad).run_of(TASK) == evidence(bad, good).run_of(TASK) == ()


EACH_MISSING: list[Missing] = [
    ModuleMissing("safety"),
    PracticalsMissing(TASK, 3, 1),
    EvidenceExpired(date(2027, 3, 2)),
    AssessedAgainMissing(TASK, 2, 1, date(2026, 12, 2)),
    SupervisorsMissing(2, 1),
    ExaminationMissing("polishing"),
    CleanSectionsMissing(TASK, 4),
    OneCleanSectionMissing(TASK),
    LikeSectionsMissing(TASK, 2),
    CurvatureMissing(TASK, 2, 1),
    HardnessMissing(TASK, 2, 1),
    SeverityMissing(TASK, 3, 1),
]


@pytest.mark.parametrize("missing", EACH_MISSING, ids=lambda missing: type(missing).__name__)
def test_what_is_missing_is_kept_and_read_again(missing: Missing) -> None:
    assert missing_from_frozen(frozen_missing(missing)) == missing


def test_what_is_missing_is_said_with_titles_where_they_are_known() -> None:
    modules, tasks = {"safety": "Working safely"}, {TASK: "Polish a section"}
    said = [str(titles_for(missing, modules, tasks)) for missing in EACH_MISSING]
    assert said == [
        "pass the quiz of the module 'Working safely'",
        "3 competent in a row at 'Polish a section'; 1 so far",
        "the term ended on 2027-03-02; it has to be assessed again",
        "for recertification 2 competent in a row at 'Polish a section' from 2026-12-02 on; 1 so far",
        "practicals assessed by 2 different supervisors; 1 so far",
        "pass the examination of 'polishing'",
        "4 more clean sections decide it at 'Polish a section'",
        "one more clean section decides it at 'Polish a section'",
        "2 more clean sections that read like the last ones decide it at 'Polish a section'",
        "clean sections on panels of 2 different curvatures at 'Polish a section'; 1 so far",
        "clean sections on hard and on soft clear coat at 'Polish a section'; 1 of 2 so far",
        "clean sections with defects of 3 different severities at 'Polish a section'; 1 so far",
    ]
    assert titles_for(ModuleMissing("pads"), modules, tasks) == ModuleMissing("pads")
