"""A fault in our question never takes anything back from a person."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from academy.domain.assessment.forms import Form, FormQuestion
from academy.domain.assessment.progress import Purpose, SubmittedSitting, module_progress
from academy.domain.assessment.results import SittingResult, result_of
from academy.domain.assessment.voiding import never_worse, result_without, without_voided
from tests.support.clock import later
from tests.support.course import a_digest, a_module, a_question

OBJECTIVES = ("cord", "goggles", "stop")
MUST_KNOW = {"cord", "stop"}


def a_form(ratings: list[int]) -> Form:
    """Return a form of so many questions, the objectives taking turns."""
    return Form(
        tuple(
            FormQuestion(
                a_question(f"q-{n}", rating_percent=rating, objective_id=OBJECTIVES[n % 3]),
                (1, 2, 3, 4),
            )
            for n, rating in enumerate(ratings)
        )
    )


def given_for(right: set[int]) -> dict[str, object]:
    """Return responses of which these are right."""
    return {f"q-{n}": {"chosen": 1 if n in right else 2} for n in range(12)}


def voided(form: Form, answers: dict[str, object], numbers: set[int]) -> SittingResult:
    """Return the result with these questions taken out."""
    before = result_of(form, answers, MUST_KNOW)
    digests = {a_digest(f"q-{n}") for n in numbers}
    return never_worse(before, result_without(form, answers, MUST_KNOW, digests))


ratings = st.lists(st.integers(30, 90), min_size=1, max_size=9)
numbers = st.sets(st.integers(0, 8))


@given(ratings, numbers, numbers)
def test_voiding_never_takes_a_pass_back(
    rated: list[int], right: set[int], taken_out: set[int]
) -> None:
    form, answers = a_form(rated), given_for(right)
    before = result_of(form, answers, MUST_KNOW)
    after = voided(form, answers, taken_out)
    assert after.passed or not before.passed
    assert after.reached_cut or not before.reached_cut
    assert set(after.missed_must_know) <= set(before.missed_must_know)


@given(ratings, numbers, ratings, numbers, numbers)
def test_voiding_never_takes_a_module_back(
    rated: list[int], right: set[int], again: list[int], right_again: set[int], out: set[int]
) -> None:
    """A quiz that reached its cut, what must be known asked again: both rest on what is voided."""
    quiz, asked_again = a_form(rated), a_form(again)
    before = module_progress(
        [
            _submitted(Purpose.QUIZ, result_of(quiz, given_for(right), MUST_KNOW), 0),
            _submitted(
                Purpose.MUST_KNOW_AGAIN,
                result_of(asked_again, given_for(right_again), MUST_KNOW),
                1,
            ),
        ]
    )
    after = module_progress(
        [
            _submitted(Purpose.QUIZ, voided(quiz, given_for(right), out), 0),
            _submitted(
                Purpose.MUST_KNOW_AGAIN, voided(asked_again, given_for(right_again), out), 1
            ),
        ]
    )
    assert after.passed_at is not None or before.passed_at is None


@given(ratings, numbers)
def test_voiding_nothing_changes_nothing(rated: list[int], right: set[int]) -> None:
    form, answers = a_form(rated), given_for(right)
    assert voided(form, answers, set()) == result_of(form, answers, MUST_KNOW)


def test_a_mended_question_under_the_same_id_stays_in() -> None:
    form = a_form([50, 50])
    result = result_without(form, given_for({0, 1}), MUST_KNOW, {a_digest("q-0 as it was")})
    assert len(result.questions) == 2


def test_what_must_be_known_and_was_missed_is_asked_again_when_its_question_is_voided() -> None:
    """Nobody has shown that they know it; the module waits for that one objective alone."""
    form, answers = a_form([50, 50, 50]), given_for({1, 2})
    after = voided(form, answers, {0})
    assert after.reached_cut
    assert after.missed_must_know == ("cord",)
    assert module_progress([_submitted(Purpose.QUIZ, after, 0)]).open_must_know == ("cord",)


def test_what_must_be_known_and_was_met_stays_met_when_its_question_is_voided() -> None:
    assert voided(a_form([50, 50, 50]), given_for({0, 1, 2}), {0}).passed


def test_a_voided_wording_is_not_drawn_and_the_mended_one_is() -> None:
    module = a_module()
    first, second = module.questions[:2]
    left = without_voided(module, {first.digest, a_digest(f"{second.id} as it was")})
    assert left.questions == module.questions[1:]


def _submitted(purpose: Purpose, result: SittingResult, day: int) -> SubmittedSitting:
    return SubmittedSitting(purpose, later(days=day), result)
