"""One quiz and one question as the owner's pages show them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING
from uuid import UUID

from flask import url_for

from academy.domain.assessment.mending_notes import Mending
from academy.domain.assessment.re_rating import RatedQuestion
from academy.domain.assessment.shown_share import FEWEST_FOR_A_PERCENTAGE
from academy.domain.curriculum.course import Module
from academy.domain.curriculum.schemes import Scheme
from academy.domain.sentences import TradeError
from academy.services.judged_questions import JudgedQuestion, JudgedWording, QuestionQuality
from academy.services.mending import notes_of
from academy.store.queries.rating_rounds import NoteRow
from academy.web.context import course, db
from academy.web.formats import sentence_text
from academy.web.forms import error_text
from academy.web.identity import signed_in
from academy.web.language import gettext as _
from academy.web.language import ngettext
from academy.web.parts import (
    Cell,
    Choosable,
    Column,
    Fact,
    Filled,
    Link,
    Listed,
    ReadingsTable,
    Row,
)
from academy.web.quizzes.quality_figures import option_figure, rating_figure, shown_parts
from academy.web.quizzes.quality_pages import JudgedQuestionPage, QuizQualityPage, ShownWording
from academy.web.quizzes.quality_words import (
    correlation_text,
    decisions_table,
    near_cut_text,
    part_text,
    reason_texts,
    rest_text,
    scores_texts,
)
from academy.web.quizzes.shown import split_figure
from academy.web.times import shop_day

if TYPE_CHECKING:
    from academy.services.counted_answers import CountedForm


def quiz_page(module: Module, found: QuestionQuality, ratings: dict[str, int]) -> QuizQualityPage:
    """Return how far a quiz's pass mark can be trusted, and its questions."""
    questions = [one for one in found.questions if one.now.question.module_id == module.id]
    page = _decisions_page(
        _("Quiz: %(title)s", title=module.title), found.answers.quizzes.get(module.id, ()), found
    )
    return replace(
        page,
        rate_again_url=url_for("quizzes.new_rating_round", module_id=module.id),
        figure=rating_figure(questions, ratings),
        questions=_questions_table(questions, ratings),
        links=tuple(
            Listed(one.id, url_for("quizzes.judged_question", question_id=one.id), _about(one))
            for one in questions
        ),
    )


def examination_quality_page(scheme: Scheme, found: QuestionQuality) -> QuizQualityPage:
    """Return how far the pass mark of a scheme's examination can be trusted."""
    sat = found.answers.examinations.get(scheme.id, ())
    return _decisions_page(_("Examination: %(title)s", title=scheme.title), sat, found)


def _decisions_page(
    title: str, sat: Sequence[CountedForm], found: QuestionQuality
) -> QuizQualityPage:
    from academy.domain.assessment.quiz_quality import (
        longer_forms,
        quality_by_model,
        quality_by_scores,
        reliability_of,
        scores_of,
    )

    facts: tuple[Fact, ...] = ()
    behind: tuple[str, ...] = ()
    longer = None
    try:
        scores = scores_of([one.sat for one in sat])
        facts = (
            Fact(_("First sittings"), str(scores.sittings)),
            Fact(_("Reached the pass mark"), str(scores.reached_cut)),
            Fact(_("Passed at once"), str(scores.passed)),
        )
        quality, more = quality_by_scores(scores), longer_forms(scores)
        forms = [(one.form, one.sat.cut_points / 100) for one in sat]
        modelled = None if found.parameters is None else quality_by_model(found.parameters, forms)
        says = scores_texts(scores, quality)
        longer = decisions_table(scores, quality, modelled, more)
        behind = _behind(reliability_of(scores), quality.kappa)
    except TradeError as reason:
        says = (error_text(reason) + ".",)
    return QuizQualityPage(title, "", facts, says, behind, longer, None, None, ())


def judged_question_page(
    one: JudgedQuestion, form: Filled, note_id: UUID, again: RatedQuestion | None
) -> JudgedQuestionPage:
    """Return everything known about one question; ``again`` are its ratings that are in force."""
    question = one.now.question
    module = course().module(question.module_id)
    notes = notes_of(db(), signed_in().shop_id, question.id)
    standing = next((note for note in reversed(notes) if note.wording == question.digest), None)
    lesson = course().lesson(question.teaches.module_id, question.teaches.lesson_id)
    return JudgedQuestionPage(
        form=form,
        note_id=note_id,
        title_text=question.id,
        quiz=Link(
            module.title if module else question.module_id,
            url_for("quizzes.quiz_quality", module_id=question.module_id),
        ),
        reasons=reason_texts(one.now),
        rests=mending_words(standing) if standing and standing.mending.rests else "",
        now=_wording(one.now, _("As it is asked now"), one.seen),
        earlier=tuple(_wording(wording, _("An earlier wording")) for wording in one.earlier),
        teaches=Link(
            lesson.title,
            url_for("study.lesson", module_id=lesson.module_id, lesson_id=lesson.id)
            + f"#{question.teaches.anchor}",
        )
        if lesson
        else None,
        ratings=_ratings(question.rating_percent, again),
        rating_reason=question.rating_reason,
        history=tuple(mending_words(note) for note in notes),
        choices=_choices(standing),
    )


def mending_words(note: NoteRow) -> str:
    """Return what was decided about a question, by whom and why."""
    words = {
        Mending.HANDLED: _("handled"),
        Mending.DISMISSED: _("dismissed"),
        Mending.TO_MEND: _("back on the list"),
    }
    return _(
        "%(what)s by %(who)s on %(day)s: %(why)s",
        what=words[note.mending],
        who=note.noted_by_name,
        day=shop_day(note.noted_at).isoformat(),
        why=note.reason,
    )


def _choices(standing: NoteRow | None) -> tuple[Choosable, ...]:
    if standing is not None and standing.mending.rests:
        return (Choosable(Mending.TO_MEND.value, _("Put it back"), _("it is looked at again")),)
    return (
        Choosable(Mending.HANDLED.value, _("Handled"), _("the cause is mended, elsewhere or here")),
        Choosable(Mending.DISMISSED.value, _("Dismissed"), _("the question is right as it is")),
    )


def _behind(reliability: float, kappa: float | None) -> tuple[str, ...]:
    return (
        _(
            "Computed from the mean and spread of the scores (beta-binomial model, Huynh 1976)."
            " Reliability KR-21 %(reliability).2f; agreement beyond chance kappa %(kappa)s.",
            reliability=reliability,
            kappa="–" if kappa is None else f"{kappa:.2f}",
        ),
        _(
            "By the model: the one-parameter model of these answers, over the newest forms that were"
            " drawn, each with its own pass mark."
        ),
        _(
            "This is about the pass mark alone. Who misses something that must be known does not pass,"
            " whatever the score."
        ),
        _(
            "A longer form asks more questions of the same kind, with the pass mark at the same share."
        ),
    )


def _questions_table(questions: list[JudgedQuestion], ratings: dict[str, int]) -> ReadingsTable:
    columns = (_("Question"), _("Right"), _("Goes with the rest"), _("Rating"), _("Presented"))
    return ReadingsTable(
        _("All questions of this quiz, those to mend first in front"),
        tuple(Column(label, words=number in (1, 2)) for number, label in enumerate(columns)),
        tuple(
            Row(
                one.id,
                (
                    Cell(sentence_text(one.now.share.sentence)),
                    Cell(correlation_text(one.now)),
                    Cell(
                        str(ratings.get(one.now.question.digest, one.now.question.rating_percent))
                    ),
                    Cell(str(one.seen)),
                ),
            )
            for one in questions
        ),
    )


def _about(one: JudgedQuestion) -> str:
    """Return what a list says of a question: its share, and how many reasons there are to look."""
    share, reasons = sentence_text(one.now.share.sentence), len(one.now.findings)
    if not reasons:
        return share
    return f"{share}; {ngettext('one reason to look', '%(num)s reasons to look', reasons)}"


def _wording(wording: JudgedWording, when: str, seen: int | None = None) -> ShownWording:
    evidence, question = wording.evidence, wording.question
    facts = [
        Fact(_("Answers that count"), str(evidence.answered)),
        Fact(_("Left blank"), str(evidence.blank)),
        Fact(_("Goes with the rest"), correlation_text(wording)),
        Fact(_("Right at the pass mark"), near_cut_text(wording)),
        Fact(_("Questioned"), str(wording.disputes.raised)),
    ]
    if wording.disputes.voided:
        facts.append(Fact(_("Decided"), _("taken out of every result")))
    if seen is not None:
        facts.append(Fact(_("Presented in all"), str(seen)))
    if wording.difficulty is not None and evidence.answered >= FEWEST_FOR_A_PERCENTAGE:
        facts.append(Fact(_("Difficulty"), f"{wording.difficulty:+.1f}".replace("-", "−")))
    return ShownWording(
        when=when,
        stem_html=question.stem_html,
        figure_html=split_figure(question).drawing_html,
        share=sentence_text(wording.share.sentence),
        facts=tuple(facts),
        options=_options_table(wording),
        figure=option_figure(wording),
    )


def _options_table(wording: JudgedWording) -> ReadingsTable | None:
    parts = shown_parts(wording.evidence.parts)
    if not parts:
        return None
    columns = (_("Answer"), _("Right"), _("Taken"), _("Had right else"))
    return ReadingsTable(
        _("What was answered"),
        tuple(Column(label) for label in columns),
        tuple(
            Row(
                part_text(wording.question, part.name),
                (
                    Cell(_("yes") if part.right else _("no")),
                    Cell(str(part.taken)),
                    Cell(rest_text(part)),
                ),
            )
            for part in parts
        ),
    )


def _ratings(author_percent: int, again: RatedQuestion | None) -> tuple[Fact, ...]:
    author = Fact(_("The author's rating"), _("%(n)d of 100", n=author_percent))
    if again is None:
        return (author,)
    given = ", ".join(str(percent) for percent in sorted(again.supervisors.values()))
    return (
        author,
        Fact(_("Supervisors' ratings"), given),
        Fact(_("Counts for new forms"), _("%(n)d of 100", n=again.percent)),
    )
