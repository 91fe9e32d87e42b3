"""Whatever a form sends becomes a response that can be kept and scored, or a sentence; nothing raises."""

from __future__ import annotations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from werkzeug.datastructures import MultiDict

from academy.domain.assessment.forms import FormQuestion
from academy.domain.assessment.scoring import answered, marks
from academy.domain.curriculum.questions import Question
from academy.keys.digests import canonical
from academy.web.quizzes.paper import entered
from academy.web.quizzes.shown import response_of, typed_again
from tests.support.course import a_question_of_each_kind

NAMES = (
    "answer",
    "region",
    "decision",
    *(f"{n}-{i}" for n in ("place", "partner", "turn") for i in range(5)),
)
# digits that are no numbers, numbers too long to be one, and whatever else a hand can send
SENT = st.one_of(
    st.sampled_from(
        ["", "1", "2", "3", "first", "second", "²", "٣", "9" * 5000, "1e9", "-1", "NaN"]
    ),
    st.text(max_size=8),
)
FORMS = st.lists(st.tuples(st.sampled_from(NAMES), SENT), max_size=12)


@pytest.mark.parametrize("question", a_question_of_each_kind(), ids=lambda q: q.id)
@given(first=FORMS, second=FORMS)
@example(
    first=[("answer", "²"), ("decision", "first"), ("place-1", "²"), ("partner-1", "²")], second=[]
)
@example(first=[("answer", "9" * 5000), ("region", "9" * 5000), ("turn-1", "9" * 5000)], second=[])
def test_a_form_of_any_shape_is_kept_scored_and_shown_again(
    question: Question, first: list[tuple[str, str]], second: list[tuple[str, str]]
) -> None:
    before: object = None
    for sent in (first, second):
        response = response_of(question, MultiDict(sent), before)
        if response is not None:
            assert canonical(response)
            assert 0 <= marks(question, response) <= 100
            assert answered(question, response) in {True, False}
            assert typed_again(question, response)
        before = response


@pytest.mark.parametrize("question", a_question_of_each_kind(), ids=lambda q: q.id)
@given(sent=FORMS)
@example(sent=[("turn-1", "²"), ("turn-2", "9" * 5000), ("answer", "٣")])
def test_a_paper_read_in_any_way_is_kept_and_scored(
    question: Question, sent: list[tuple[str, str]]
) -> None:
    order = tuple(option.number for option in question.options)
    partners = tuple(partner.number for partner in question.partners)
    item = FormQuestion(question, order, partners)
    read = entered(item, MultiDict([(f"q1-{name}", value) for name, value in sent]), "q1-")
    if read is not None:
        assert canonical(read)
        assert 0 <= marks(question, read) <= 100
