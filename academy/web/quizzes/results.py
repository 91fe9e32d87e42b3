"""The result of a sitting in words: what it shows, what it holds back, what to read again."""

from __future__ import annotations

from flask import abort, url_for

from academy.domain.assessment.frozen import result_from_frozen
from academy.domain.assessment.progress import Purpose
from academy.domain.assessment.results import SittingResult
from academy.services.actor import Actor
from academy.services.open_forms import refuse_result
from academy.store.queries.disputes import DisputeRow, disputes
from academy.web.context import course, db
from academy.web.language import gettext as _
from academy.web.pages import Page
from academy.web.parts import Fact
from academy.web.quizzes.own import OwnSitting
from academy.web.quizzes.pages import HeldPage, Questioned, ResultPage
from academy.web.quizzes.review import reviewed, reviewed_objectives
from academy.web.quizzes.words import points_words


def result_page(own: OwnSitting, actor: Actor) -> Page:
    """Return the result of a submitted sitting; near the cut it says that three questions follow.

    Nothing is shown while an examination of this person runs, while the same
    quiz is open, or while one of the questions stands on another open form.
    """
    refuse_result(db(), actor, own.row.module_id, own.drawn.form.question_ids)
    if own.row.result is None:
        abort(404)
    if own.purpose is Purpose.EXAMINATION and own.row.passed is None:
        return HeldPage(own.title, own.larger_print)
    outcome = result_from_frozen(own.row.result)
    marks = {question.question_id: question.marks for question in outcome.questions}
    items = own.drawn.form.questions
    asked = _questioned(own, actor)
    passed = _passed(own, outcome)
    return ResultPage(
        title_text=own.title,
        back=own.back,
        larger_print=own.larger_print,
        sign=_sign(own.purpose, passed),
        verdict=_verdict(own.purpose, outcome, passed),
        facts=(*_result_facts(own.purpose, outcome), *_rated_facts(own)),
        objectives=reviewed_objectives(outcome, items, course()),
        questions=tuple(
            reviewed(
                position,
                item,
                own.responses.get(item.question.id),
                marks.get(item.question.id),
                course(),
                asked[item.question.id],
            )
            for position, item in enumerate(items, 1)
        ),
    )


def _rated_facts(own: OwnSitting) -> tuple[Fact, ...]:
    """Return where the pass mark came from, where supervisors had rated questions of the form again."""
    rating = own.drawn.cut_rating
    if rating is None or not own.purpose.decides:
        return ()
    return (
        Fact(
            _("Rated again for the pass mark"),
            _(
                "%(questions)d questions by %(raters)d people, give or take %(se).1f questions",
                questions=rating.re_rated,
                raters=rating.raters,
                se=rating.se_percent / 100,
            ),
        ),
    )


def _passed(own: OwnSitting, outcome: SittingResult) -> bool:
    # an examination may be decided by spoken answers, and a voided question takes nothing back
    return outcome.passed if own.row.passed is None else own.row.passed


def _questioned(own: OwnSitting, actor: Actor) -> dict[str, Questioned]:
    """Return for each question where to question it, or what became of that."""
    raised = {
        row.question_id: row
        for row in disputes(db(), actor.shop_id, sitting_id=own.row.id)
        if row.raised_by == actor.person_id
    }
    return {
        item.question.id: (
            Questioned("", _dispute_words(raised[item.question.id]))
            if item.question.id in raised
            else Questioned(
                url_for("quizzes.dispute_form", sitting_id=own.row.id, position=position)
            )
        )
        for position, item in enumerate(own.drawn.form.questions, 1)
    }


def _dispute_words(row: DisputeRow) -> str:
    if row.decided_at is None:
        return _("You have questioned this item; it has not been decided yet.")
    if row.voided:
        return _("You questioned this item, and it was taken out: %(why)s", why=row.decision or "")
    return _("You questioned this item, and it stands: %(why)s", why=row.decision or "")


def _sign(purpose: Purpose, passed: bool) -> str:
    if not purpose.decides:
        return "right" if passed else "other"
    return "competent" if passed else "not-yet-competent"


def _verdict(purpose: Purpose, outcome: SittingResult, passed: bool) -> str:
    if not purpose.decides:
        return _loose_verdict(purpose, outcome)
    if passed:
        return _("Passed: the pass mark is reached and everything you must know is met.")
    if purpose is Purpose.EXAMINATION:
        return _("Not passed yet. Read what was missed before you ask for another examination.")
    if outcome.reached_cut:
        return _(
            "The pass mark is reached, but something you must know is not met yet."
            " Read it again; it is asked again in other words."
        )
    return _("Not passed yet: the pass mark of this form is not reached. Read what was missed.")


def _loose_verdict(purpose: Purpose, outcome: SittingResult) -> str:
    right = sum(question.right for question in outcome.questions)
    says = _(
        "%(right)d of %(asked)d questions were wholly right.",
        right=right,
        asked=len(outcome.questions),
    )
    if purpose is Purpose.PRACTICE:
        return f"{says} {_('This was practice; it is not counted.')}"
    if right == len(outcome.questions):
        return says
    return f"{says} {_('Read again what was missed.')}"


def _result_facts(purpose: Purpose, outcome: SittingResult) -> tuple[Fact, ...]:
    score = Fact(_("Your score"), points_words(outcome.score_points, outcome.full_points))
    if not purpose.decides:
        return (score,)
    cut = Fact(_("Pass mark of this form"), points_words(outcome.cut_points, outcome.full_points))
    return (score, cut)
