"""What is true of a certificate on a day: every combination of evidence, decision, date and harm."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from itertools import product
from random import Random
from typing import TypeVar
from uuid import uuid4
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from academy.domain.certification import (
    AssessedAgainMissing,
    Evidence,
    ModuleMissing,
    PracticalsMissing,
    Register,
    Restriction,
    ReturnCheck,
    StatusWord,
    SupervisorsMissing,
    Suspension,
    Withdrawal,
    add_months,
    status,
)
from academy.domain.certification.held_back import (
    DecidedAgainst,
    EvidenceFell,
    Restricted,
    ReturnCheckDue,
    SuspendedBy,
    WithdrawnOn,
)
from academy.domain.certification.known import known_on
from academy.domain.certification.terms import last_day
from academy.domain.curriculum.kinds import Harm, Supervision
from academy.domain.curriculum.schemes import DecisionRule, RecertificationRule, Requirement, Scheme
from tests.support.certificates import (
    DAY,
    SECOND_SUPERVISOR,
    TASK,
    a_decided_scheme,
    at_noon,
    decided,
    done,
    evidence,
    restricted,
    runs,
)

T = TypeVar("T")
NOT_YET, BESIDE, ON_SITE, ALONE = Supervision
SCHEME = a_decided_scheme()
LAST = date(2027, 3, 2)
JUNE = date(2026, 6, 1)
BURNT = Suspension("polishing", date(2026, 5, 20), Harm.BURN_THROUGH)
SAYS_BURNT = SuspendedBy(Harm.BURN_THROUGH, date(2026, 5, 20))


def days(count: int) -> timedelta:
    return timedelta(days=count)


@pytest.mark.parametrize(
    ("passed", "pattern", "held", "word", "level", "ready"),
    [
        (False, "", None, StatusWord.NOT_YET, NOT_YET, None),
        (True, "", None, StatusWord.NOT_YET, BESIDE, None),
        (True, "n", None, StatusWord.NOT_YET, BESIDE, None),
        (True, "c", None, StatusWord.READY, BESIDE, ON_SITE),
        (True, "ccc", None, StatusWord.READY, BESIDE, ALONE),
        (False, "ccc", None, StatusWord.NOT_YET, NOT_YET, None),
        (True, "c", ON_SITE, StatusWord.CERTIFIED, ON_SITE, None),
        (True, "ccc", ON_SITE, StatusWord.CERTIFIED, ON_SITE, ALONE),
        (True, "ccc", ALONE, StatusWord.CERTIFIED, ALONE, None),
        (True, "cccc", ALONE, StatusWord.CERTIFIED, ALONE, None),
        (True, "cccnc", ALONE, StatusWord.CERTIFIED, ON_SITE, None),
        (True, "cccn", ALONE, StatusWord.SUSPENDED, BESIDE, None),
        (True, "cccnccc", ALONE, StatusWord.CERTIFIED, ALONE, None),
        (False, "ccc", ALONE, StatusWord.SUSPENDED, NOT_YET, None),
    ],
)
def test_a_certificate_needs_evidence_and_a_decision(
    passed: bool,
    pattern: str,
    held: Supervision | None,
    word: StatusWord,
    level: Supervision,
    ready: Supervision | None,
) -> None:
    register = Register((decided(date(2026, 3, 4), held),) if held else ())
    known = status(SCHEME, evidence(runs(pattern), passed=passed), register, JUNE)
    assert (known.word, known.level, known.ready_for) == (word, level, ready)


@pytest.mark.parametrize("first", list(Supervision)[1:])
@pytest.mark.parametrize("pattern", ["", "c", "ccc"])
def test_below_the_first_level_that_is_decided_on_the_evidence_says_it(
    first: Supervision, pattern: str
) -> None:
    scheme = a_decided_scheme(decision=DecisionRule(first))
    shown = {"": BESIDE, "c": ON_SITE, "ccc": ALONE}[pattern]
    known = status(scheme, evidence(runs(pattern)), Register(), JUNE)
    assert known.level.rank == min(shown.rank, first.rank - 1)
    assert known.ready_for == (shown if shown.rank >= first.rank else None)


def test_a_scheme_without_a_decision_rests_on_its_evidence() -> None:
    known = status(a_decided_scheme(decision=None), evidence(runs("ccc")), Register(), JUNE)
    assert (known.word, known.level, known.ready_for) == (StatusWord.CERTIFIED, ALONE, None)
    assert known.valid_until == date(2027, 3, 4)


class TestDates:
    @pytest.mark.parametrize(
        ("today", "word", "level"),
        [
            pytest.param(LAST - days(1), StatusWord.CERTIFIED, ALONE, id="the day before"),
            pytest.param(LAST, StatusWord.CERTIFIED, ALONE, id="on its last day"),
            pytest.param(LAST + days(1), StatusWord.EXPIRED, BESIDE, id="the day after"),
        ],
    )
    def test_a_certificate_holds_to_the_end_of_its_last_day(
        self, today: date, word: StatusWord, level: Supervision
    ) -> None:
        scheme = a_decided_scheme(return_check_months=0)
        register = Register((decided(date(2026, 3, 4), ALONE, LAST),))
        three = evidence(runs("ccc", first=date(2026, 2, 28)))
        known = status(scheme, three, register, today)
        assert (known.word, known.level, known.valid_until) == (word, level, LAST)

    @pytest.mark.parametrize(
        ("assessed", "last"),
        [
            (date(2024, 2, 29), date(2025, 2, 28)),
            (date(2027, 2, 28), date(2028, 2, 28)),
            (date(2026, 12, 31), date(2027, 12, 31)),
        ],
    )
    def test_the_last_day_is_a_term_after_what_was_assessed_leap_days_too(
        self, assessed: date, last: date
    ) -> None:
        known = known_on(SCHEME, evidence([done(assessed)]), Register(), assessed + days(3))
        assert last_day(known, ON_SITE) == last

    @pytest.mark.parametrize(
        ("zone", "day"),
        [
            ("Pacific/Kiritimati", date(2026, 3, 2)),
            ("UTC", date(2026, 3, 1)),
            ("America/Los_Angeles", date(2026, 3, 1)),
        ],
    )
    def test_the_day_is_the_one_on_the_shop_s_clock(self, zone: str, day: date) -> None:
        """The same moment, 22:30 UTC on 1 March, is already the second at UTC+14."""
        moment = datetime(2026, 3, 1, 22, 30, tzinfo=UTC).astimezone(ZoneInfo(zone))
        known = known_on(SCHEME, evidence([done(DAY, assessed_at=moment)]), Register(), JUNE)
        assert last_day(known, ON_SITE) == day.replace(year=2027)

    def test_the_last_day_rests_on_the_task_assessed_longest_ago(self) -> None:
        two = a_decided_scheme(requirements=(Requirement(ON_SITE, (), {TASK: 1, "inspect": 1}),))
        shown = evidence([done(JUNE), done(DAY, task_id="inspect")])
        assert last_day(known_on(two, shown, Register(), JUNE), ON_SITE) == add_months(DAY, 12)

    def test_without_a_practical_the_term_runs_from_the_decision(self) -> None:
        by_quiz = a_decided_scheme(requirements=(Requirement(ON_SITE, ("safety",), {}),))
        assert last_day(known_on(by_quiz, evidence(), Register(), JUNE), ON_SITE) == add_months(
            JUNE, 12
        )


class TestRecertification:
    REGISTER = Register((decided(date(2026, 3, 4), ALONE, LAST),))
    SCHEME = a_decided_scheme(return_check_months=0)

    @pytest.mark.parametrize(
        ("today", "due"),
        [
            (date(2026, 12, 1), False),
            (date(2026, 12, 2), True),
            (LAST, True),
            (date(2027, 6, 2), True),
            (date(2027, 6, 3), False),
        ],
    )
    def test_it_is_due_in_its_window_on_both_sides_of_the_last_day(
        self, today: date, due: bool
    ) -> None:
        known = status(self.SCHEME, evidence(runs("ccc")), self.REGISTER, today)
        asked = (AssessedAgainMissing(TASK, 1, 0, date(2026, 12, 2)),)
        assert known.to_renew == (asked if due else None)

    @pytest.mark.parametrize(
        ("again", "ready"),
        [(date(2026, 12, 1), None), (date(2026, 12, 2), ALONE), (date(2027, 4, 1), ALONE)],
    )
    def test_what_was_assessed_before_the_window_does_not_renew(
        self, again: date, ready: Supervision | None
    ) -> None:
        shown = evidence([*runs("ccc"), done(again)])
        known = status(self.SCHEME, shown, self.REGISTER, max(again, LAST))
        assert known.ready_for == ready

    def test_a_renewed_certificate_runs_from_what_was_assessed_again(self) -> None:
        two = a_decided_scheme(
            requirements=(Requirement(ON_SITE, (), {TASK: 1, "inspect": 1}),),
            recertification=RecertificationRule({TASK: 1}, 3),
        )
        again = date(2027, 1, 10)
        shown = evidence([done(DAY), done(DAY, task_id="inspect"), done(again)])
        register = Register((decided(DAY, ON_SITE, LAST),))
        known = known_on(two, shown, register, date(2027, 1, 20))
        assert last_day(known, ON_SITE) == date(2028, 1, 10)

    def test_after_the_window_everything_is_assessed_anew(self) -> None:
        late = date(2027, 7, 1)
        known = status(
            self.SCHEME, evidence([*runs("ccn"), done(late)]), self.REGISTER, late + days(1)
        )
        assert (known.word, known.ready_for) == (StatusWord.READY, ON_SITE)


class TestReturnCheck:
    REGISTER = Register((decided(date(2026, 3, 4), ALONE, LAST),))

    @pytest.mark.parametrize(
        ("today", "level"),
        [(date(2026, 9, 4), ALONE), (date(2026, 9, 5), BESIDE)],
    )
    def test_six_months_without_logged_work_ask_for_one(
        self, today: date, level: Supervision
    ) -> None:
        known = status(SCHEME, evidence(runs("ccc")), self.REGISTER, today)
        assert (known.word, known.level) == (StatusWord.CERTIFIED, level)
        due = ReturnCheckDue(date(2026, 3, 4))
        assert (due in known.held_back) == (level is BESIDE)

    @pytest.mark.parametrize("logged", [True, False], ids=["logged work", "a return check"])
    def test_logged_work_and_a_return_check_start_the_time_again(self, logged: bool) -> None:
        on = date(2026, 8, 1)
        seen = (
            replace(self.REGISTER, worked_on={"polishing": (on,)})
            if logged
            else replace(self.REGISTER, return_checks=(ReturnCheck("polishing", at_noon(on)),))
        )
        shown = evidence(runs("ccc"))
        assert status(SCHEME, shown, seen, date(2027, 2, 1)).level is ALONE
        assert status(SCHEME, shown, seen, date(2027, 2, 2)).level is BESIDE

    def test_once_the_time_has_passed_logged_work_alone_does_not_make_up_for_it(self) -> None:
        late = replace(self.REGISTER, worked_on={"polishing": (date(2026, 10, 1),)})
        shown = evidence(runs("ccc"))
        known = status(SCHEME, shown, late, date(2026, 10, 2))
        assert known.held_back == (ReturnCheckDue(date(2026, 3, 4)),)
        checked = replace(
            late, return_checks=(ReturnCheck("polishing", at_noon(date(2026, 10, 2))),)
        )
        assert status(SCHEME, shown, checked, date(2026, 10, 2)).level is ALONE
        assessed = evidence([*runs("ccc"), done(date(2026, 10, 2))])
        assert status(SCHEME, assessed, late, date(2026, 10, 2)).level is ALONE

    def test_work_of_another_kind_does_not(self) -> None:
        seen = replace(self.REGISTER, worked_on={"sanding": (date(2026, 8, 1),)})
        assert status(SCHEME, evidence(runs("ccc")), seen, date(2026, 10, 1)).level is BESIDE


class TestHarmAndRestrictions:
    CERTIFIED = Register((decided(date(2026, 3, 4)),))

    @pytest.mark.parametrize(
        ("suspended", "limit", "scope"),
        list(product([False, True], [None, *Supervision], ["polishing", None, "sanding"])),
    )
    def test_every_combination_only_lowers(
        self, suspended: bool, limit: Supervision | None, scope: str | None
    ) -> None:
        register = replace(
            self.CERTIFIED,
            suspensions=(BURNT,) if suspended else (),
            restrictions=(restricted(limit, scope),) if limit else (),
        )
        known = status(SCHEME, evidence(runs("ccc")), register, JUNE)
        meant = limit if limit and scope != "sanding" else ALONE
        assert known.level is (NOT_YET if suspended else meant)
        assert known.word is (StatusWord.SUSPENDED if suspended else StatusWord.CERTIFIED)
        assert known.certified is ALONE
        assert (SAYS_BURNT in known.held_back) == suspended
        assert any(isinstance(why, Restricted) for why in known.held_back) == (
            limit is not None and scope != "sanding"
        )

    def test_a_restriction_holds_back_who_has_no_certificate_too(self) -> None:
        register = Register(restrictions=(restricted(NOT_YET),))
        known = status(SCHEME, evidence(), register, JUNE)
        assert (known.word, known.level) == (StatusWord.NOT_YET, NOT_YET)

    def test_the_review_date_does_not_lift_it(self) -> None:
        register = replace(self.CERTIFIED, restrictions=(restricted(BESIDE),))
        later = restricted(BESIDE).review_on + days(1)
        shown = evidence([*runs("ccc"), done(later - days(2))])
        assert status(SCHEME, shown, register, later).level is BESIDE

    def test_nothing_is_decided_while_it_is_suspended(self) -> None:
        register = Register(suspensions=(BURNT,))
        assert status(SCHEME, evidence(runs("ccc")), Register(), JUNE).ready_for is ALONE
        assert status(SCHEME, evidence(runs("ccc")), register, JUNE).ready_for is None

    def test_harm_to_another_kind_of_work_suspends_nothing_here(self) -> None:
        elsewhere = replace(self.CERTIFIED, suspensions=(replace(BURNT, scheme_id="sanding"),))
        known = status(SCHEME, evidence(runs("ccc")), elsewhere, JUNE)
        assert (known.word, known.level) == (StatusWord.CERTIFIED, ALONE)

    def test_work_that_fails_after_the_decision_is_said(self) -> None:
        known = status(SCHEME, evidence(runs("cccn")), self.CERTIFIED, JUNE)
        assert EvidenceFell(ALONE) in known.held_back


class TestWithdrawnAndRefused:
    TAKEN = Withdrawal("polishing", at_noon(date(2026, 4, 1)))

    def test_after_a_withdrawal_earlier_work_counts_no_more(self) -> None:
        register = Register((decided(date(2026, 3, 4)),), (self.TAKEN,))
        known = status(SCHEME, evidence(runs("ccc")), register, JUNE)
        assert (known.word, known.level) == (StatusWord.WITHDRAWN, NOT_YET)
        assert known.held_back == (WithdrawnOn(date(2026, 4, 1)),)
        assert known.missing == (PracticalsMissing(TASK, 1, 0),)

    def test_new_evidence_and_a_new_decision_give_it_again(self) -> None:
        register = Register((decided(date(2026, 3, 4)),), (self.TAKEN,))
        again = evidence([*runs("ccc"), *runs("c", date(2026, 5, 1))])
        known = status(SCHEME, again, register, JUNE)
        assert (known.word, known.level) == (StatusWord.READY, NOT_YET)
        renewed = replace(
            register, decisions=(*register.decisions, decided(date(2026, 5, 2), ON_SITE))
        )
        known = status(SCHEME, again, renewed, JUNE)
        assert (known.word, known.level) == (StatusWord.CERTIFIED, ON_SITE)

    def test_decided_against_it_waits_for_more_evidence(self) -> None:
        register = Register((decided(date(2026, 3, 4), ALONE, None),))
        known = status(SCHEME, evidence(runs("ccc")), register, JUNE)
        assert (known.word, known.ready_for) == (StatusWord.NOT_YET, None)
        assert known.held_back == (DecidedAgainst(ALONE, date(2026, 3, 4)),)
        more = evidence([*runs("ccc"), done(date(2026, 5, 1))])
        assert status(SCHEME, more, register, JUNE).ready_for is ALONE


class TestTwoSupervisors:
    SCHEME = a_decided_scheme(decision=DecisionRule(ON_SITE, supervisors=2))

    def test_two_different_ones_have_to_have_assessed(self) -> None:
        one = evidence(runs("cc"))
        known = status(self.SCHEME, one, Register(), JUNE)
        assert known.ready_for is None
        assert known.missing[0] == SupervisorsMissing(2, 1)
        two = evidence([*runs("cc"), done(DAY + days(4), supervisor_id=SECOND_SUPERVISOR)])
        assert status(self.SCHEME, two, Register(), JUNE).ready_for is ALONE


def test_a_stricter_version_touches_who_does_not_meet_it() -> None:
    stricter = a_decided_scheme(
        version=2,
        requirements=(*SCHEME.requirements[:2], Requirement(ALONE, (), {TASK: 4})),
    )
    register, three = Register((decided(date(2026, 3, 4)),)), evidence(runs("ccc"))
    assert status(SCHEME, three, register, JUNE).level is ALONE
    known = status(stricter, three, register, JUNE)
    assert (known.level, known.missing) == (ON_SITE, (PracticalsMissing(TASK, 4, 3),))


some_days = st.dates(date(2025, 6, 1), date(2026, 5, 31))
levels = st.sampled_from([ON_SITE, ALONE])
some_evidence = st.builds(
    Evidence,
    st.dictionaries(st.just("safety"), some_days),
    st.lists(st.builds(done, some_days, st.booleans()), max_size=7).map(tuple),
)
decisions = st.builds(
    lambda on, level, months: decided(on, level, add_months(on, months) if months else None),
    some_days, levels, st.integers(0, 14),
)  # fmt: skip
some_registers = st.builds(
    Register,
    st.lists(decisions, max_size=4).map(tuple),
    st.lists(some_days.map(lambda d: Withdrawal("polishing", at_noon(d))), max_size=1).map(tuple),
    st.lists(
        st.builds(
            lambda on, level, scope: Restriction(uuid4(), scope, level, at_noon(on), on + days(90)),
            some_days, st.sampled_from(Supervision), st.sampled_from([None, "polishing", "sanding"]),
        ),
        max_size=2,
    ).map(tuple),
    st.lists(some_days.map(lambda d: ReturnCheck("polishing", at_noon(d))), max_size=2).map(tuple),
    st.lists(st.just(BURNT), max_size=1).map(tuple),
    st.fixed_dictionaries({"polishing": st.lists(some_days, max_size=2).map(tuple)}),
)  # fmt: skip
schemes = st.builds(
    a_decided_scheme,
    decision=st.sampled_from([None, DecisionRule(BESIDE), DecisionRule(ON_SITE), DecisionRule(ALONE)]),
    return_check_months=st.sampled_from([0, 3, 6]),
    recertification=st.sampled_from([None, RecertificationRule({TASK: 1}, 3)]),
)  # fmt: skip
waits = st.integers(0, 900)
FIRST_DAY = date(2026, 6, 1)


@given(schemes, some_evidence, some_registers, waits, waits)
def test_a_level_never_rises_without_new_evidence_or_a_new_decision(
    scheme: Scheme, known: Evidence, register: Register, wait: int, longer: int
) -> None:
    today = FIRST_DAY + days(wait)
    now = status(scheme, known, register, today)
    then = status(scheme, known, register, today + days(longer))
    assert then.level.rank <= now.level.rank
    assert then.certified.rank <= now.certified.rank


@given(schemes, some_evidence, some_registers, waits, st.randoms(use_true_random=False))
def test_the_order_of_reading_changes_nothing(
    scheme: Scheme, known: Evidence, register: Register, wait: int, chance: Random
) -> None:
    def mixed(values: tuple[T, ...]) -> tuple[T, ...]:
        return tuple(chance.sample(values, len(values)))

    again = Register(
        mixed(register.decisions),
        mixed(register.withdrawals),
        mixed(register.restrictions),
        mixed(register.return_checks),
        mixed(register.suspensions),
        {name: mixed(worked) for name, worked in register.worked_on.items()},
    )
    shuffled = replace(known, practicals=mixed(known.practicals))
    today = FIRST_DAY + days(wait)
    assert status(scheme, shuffled, again, today) == status(scheme, known, register, today)


@given(schemes, some_evidence, some_registers, waits, st.floats(0, 1))
def test_nothing_changes_by_itself_before_the_day_that_is_named(
    scheme: Scheme, known: Evidence, register: Register, wait: int, share: float
) -> None:
    today = FIRST_DAY + days(wait)
    now = status(scheme, known, register, today)
    span = (now.sure_until - today).days if now.sure_until else 2000
    between = today + days(round(span * share))
    assert replace(status(scheme, known, register, between), sure_until=now.sure_until) == now


@given(schemes, some_evidence, some_registers, waits)
def test_nothing_that_holds_back_ever_lifts(
    scheme: Scheme, known: Evidence, register: Register, wait: int
) -> None:
    today = FIRST_DAY + days(wait)
    free = replace(register, restrictions=(), suspensions=())
    held = status(scheme, known, register, today)
    assert held.level.rank <= status(scheme, known, free, today).level.rank
    assert held.certified == status(scheme, known, free, today).certified


@given(schemes, some_evidence, some_registers, waits)
def test_what_is_ready_can_be_decided_and_then_holds(
    scheme: Scheme, known: Evidence, register: Register, wait: int
) -> None:
    today = FIRST_DAY + days(wait)
    before = status(scheme, known, register, today)
    if before.ready_for is None:
        return
    until = last_day(known_on(scheme, known, register, today), before.ready_for)
    assert until >= today
    new = replace(decided(today, before.ready_for, until))
    after = status(scheme, known, replace(register, decisions=(*register.decisions, new)), today)
    assert after.certified.rank >= before.ready_for.rank
    assert after.ready_for is None or after.to_renew == ()


def test_a_module_missing_is_named_for_the_first_level() -> None:
    known = status(SCHEME, evidence(passed=False), Register(), JUNE)
    assert (known.next_level, known.missing) == (BESIDE, (ModuleMissing("safety"),))
