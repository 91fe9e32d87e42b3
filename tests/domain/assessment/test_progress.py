"""Whether a module is passed after several sittings."""

from __future__ import annotations

from datetime import datetime
from random import Random

from hypothesis import given
from hypothesis import strategies as st

from academy.domain.assessment.progress import (
    ModuleProgress,
    Purpose,
    SubmittedSitting,
    module_progress,
)
from academy.domain.assessment.results import ObjectiveResult, SittingResult
from tests.support.clock import later

MUST_KNOW = ("cord", "goggles")


def a_sitting(
    day: float, *, score: int = 80, missed: tuple[str, ...] = (), again: tuple[str, ...] = ()
) -> SubmittedSitting:
    """Return a quiz with a cut of 70, or a sitting that asks ``again`` some objectives."""
    asked = again or MUST_KNOW
    objectives = tuple(ObjectiveResult(name, True, 0 if name in missed else 2, 2) for name in asked)
    return SubmittedSitting(
        Purpose.MUST_KNOW_AGAIN if again else Purpose.QUIZ,
        later(days=day),
        SittingResult((), objectives, score, 70, 100),
    )


def after(*sittings: SubmittedSitting) -> ModuleProgress:
    return module_progress(sittings)


def passed_on(*sittings: SubmittedSitting) -> datetime | None:
    return module_progress(sittings).passed_at


def test_nothing_sat_is_nothing_passed() -> None:
    assert after() == ModuleProgress(None, (), 0)


def test_a_quiz_with_everything_met_passes_at_once() -> None:
    assert after(a_sitting(1)) == ModuleProgress(later(days=1), (), 1)


def test_a_quiz_below_its_cut_opens_nothing() -> None:
    assert after(a_sitting(1, score=69, missed=("cord",))) == ModuleProgress(None, (), 1)


def test_a_missed_must_know_objective_stays_open() -> None:
    assert after(a_sitting(1, missed=("cord",))) == ModuleProgress(None, ("cord",), 1)


def test_meeting_it_when_asked_again_passes_that_day() -> None:
    assert passed_on(a_sitting(1, missed=("cord",)), a_sitting(3, again=("cord",))) == later(days=3)


def test_missing_it_again_leaves_it_open() -> None:
    progress = after(
        a_sitting(1, missed=("cord",)), a_sitting(2, missed=("cord",), again=("cord",))
    )
    assert progress == ModuleProgress(None, ("cord",), 2)


def test_two_open_objectives_are_closed_one_after_the_other() -> None:
    first = a_sitting(1, missed=MUST_KNOW)
    second = a_sitting(2, missed=("goggles",), again=MUST_KNOW)
    third = a_sitting(3, again=("goggles",))
    assert after(first, second).open_must_know == ("goggles",)
    assert passed_on(first, second, third) == later(days=3)


def test_a_new_quiz_closes_what_it_meets_and_opens_nothing_more() -> None:
    progress = after(a_sitting(1, missed=("cord",)), a_sitting(2, missed=("goggles",)))
    assert progress.passed_at == later(days=2)


def test_being_asked_again_without_a_quiz_at_its_cut_passes_nothing() -> None:
    assert passed_on(a_sitting(1, score=10), a_sitting(2, again=("cord",))) is None


def test_a_later_quiz_below_its_cut_takes_nothing_back() -> None:
    progress = after(a_sitting(1), a_sitting(2, score=0, missed=MUST_KNOW))
    assert progress == ModuleProgress(later(days=1), (), 2)


sittings = st.lists(
    st.builds(
        a_sitting,
        st.integers(1, 400),
        score=st.integers(0, 100),
        missed=st.lists(st.sampled_from(MUST_KNOW), unique=True).map(tuple),
        again=st.lists(st.sampled_from(MUST_KNOW), unique=True).map(tuple),
    ),
    max_size=6,
    unique_by=lambda sitting: sitting.submitted_at,
)


@given(sittings, st.randoms())
def test_the_order_in_which_sittings_are_handed_over_does_not_matter(
    given_sittings: list[SubmittedSitting], chance: Random
) -> None:
    mixed = list(given_sittings)
    chance.shuffle(mixed)
    assert module_progress(mixed) == module_progress(given_sittings)


@given(sittings)
def test_a_module_once_passed_stays_passed(given_sittings: list[SubmittedSitting]) -> None:
    in_order = sorted(given_sittings, key=lambda sitting: sitting.submitted_at)
    days = [module_progress(in_order[:n]).passed_at for n in range(len(in_order) + 1)]
    first = next((day for day in days if day is not None), None)
    assert all(day in (None, first) for day in days)
    assert [day for day in days if day is None] == days[: days.count(None)]
