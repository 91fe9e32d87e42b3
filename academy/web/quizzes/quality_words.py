"""Judged questions in words: reasons, options, correlations, decisions."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from markupsafe import Markup

from academy.domain.assessment.answer_parts import RIGHT_NUMBER
from academy.domain.assessment.mending import (
    Finding,
    KeyNeverTaken,
    SuspectedKey,
    SuspectedPart,
    UnusedOptions,
)
from academy.domain.assessment.shown_share import FEWEST_FOR_A_PERCENTAGE
from academy.domain.assessment.wording_evidence import PartTaken
from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.questions import Question
from academy.services.judged_questions import JudgedWording
from academy.web.formats import sentence_text
from academy.web.language import gettext as _
from academy.web.parts import Cell, Column, ReadingsTable, Row

if TYPE_CHECKING:
    from academy.domain.assessment.decision_quality import DecisionQuality
    from academy.domain.assessment.quiz_quality import LongerForm, Scores

STEM_LETTERS, OPTION_LETTERS = 160, 70


def plain(html: str, letters: int) -> str:
    """Return rendered text without its tags, cut at a word with an ellipsis where it is long."""
    text = " ".join(Markup(html).striptags().split())
    return text if len(text) <= letters else text[:letters].rsplit(" ", 1)[0] + " …"


def part_text(question: Question, name: str) -> str:
    """Return what a part of an answer is called: the option's own text, a place, a number."""
    if question.interaction is Interaction.NUMERIC_ENTRY:
        number = f"{question.key_value:g}" if name == RIGHT_NUMBER else name
        return f"{number} {question.unit}".strip()
    if question.interaction is Interaction.HOTSPOT:
        return next((r.label for r in question.regions if str(r.number) == name), name)
    options, number = question.options, name
    if question.interaction is Interaction.SCENARIO:
        decision_id, _colon, number = name.partition(":")
        options = next((d.options for d in question.decisions if d.id == decision_id), ())
    found = next((o.text_html for o in options if str(o.number) == number), None)
    return name if found is None else plain(found, OPTION_LETTERS)


def reason_texts(wording: JudgedWording) -> tuple[str, ...]:
    """Return the reasons to look at a question again, its options by their own words."""
    return tuple(sentence_text(_named(one, wording.question)) for one in wording.findings)


def _named(finding: Finding, question: Question) -> Finding:
    if isinstance(finding, SuspectedKey | SuspectedPart | KeyNeverTaken):
        return replace(finding, option=part_text(question, finding.option))
    if isinstance(finding, UnusedOptions):
        names = finding.options.split(", ")
        return replace(finding, options="; ".join(f"'{part_text(question, n)}'" for n in names))
    return finding


def correlation_text(wording: JudgedWording) -> str:
    """Return how an answer goes with the rest of the form, in words and with its interval."""
    evidence = wording.evidence
    if evidence.answered < FEWEST_FOR_A_PERCENTAGE:
        return _("too few answers to say")
    if evidence.item_rest is None:
        return _("everybody answered alike")
    rest = evidence.item_rest
    return _(
        "%(value).2f, likely %(lower).2f to %(upper).2f",
        value=rest.value, lower=rest.lower, upper=rest.upper,
    )  # fmt: skip


def near_cut_text(wording: JudgedWording) -> str:
    """Return what is expected of those at the pass mark."""
    if wording.near_cut is None or wording.evidence.answered < FEWEST_FOR_A_PERCENTAGE:
        return _("too few answers to say")
    return _("about %(percent)d of 100", percent=wording.near_cut.percent)


def rest_text(part: PartTaken) -> str:
    """Return how much else the takers of a part had right."""
    if part.rest_mean is None:
        return "–"
    return _("%(percent)d of 100", percent=round(100 * part.rest_mean))


def scores_texts(scores: Scores, quality: DecisionQuality) -> tuple[str, ...]:
    """Return how far a quiz's pass mark can be trusted, in sentences."""
    return (
        _(
            "Of 100 trainees about %(passes)d pass though what they know lies below the pass mark,"
            " and about %(fails)d fail though it does not.",
            passes=round(100 * quality.false_pass), fails=round(100 * quality.false_fail),
        ),
        _(
            "If everybody sat another form of this quiz, about %(alike)d of 100 would be decided"
            " the same way again.",
            alike=round(100 * quality.consistency),
        ),
        _(
            "The form has %(questions)d questions, its pass mark lies at %(cut).1f on average, and"
            " people have %(mean).1f right on average.",
            questions=scores.questions, cut=scores.cut, mean=scores.mean,
        ),
    )  # fmt: skip


def decisions_table(
    scores: Scores,
    quality: DecisionQuality,
    modelled: DecisionQuality | None,
    longer: tuple[LongerForm, ...],
) -> ReadingsTable:
    """Return wrong decisions of the form as it is, computed two ways, and of longer ones."""
    rows = [_decisions(_("%(n)d questions, as now", n=scores.questions), quality)]
    if modelled is not None:
        rows.append(_decisions(_("%(n)d questions, by the model", n=scores.questions), modelled))
    rows += [_decisions(_("%(n)d questions", n=one.questions), one.quality) for one in longer]
    columns = (_("Form"), _("Wrong passes"), _("Wrong fails"), _("Decided alike"))
    return ReadingsTable(
        _("Of 100 trainees, with the form as it is and with longer ones"),
        tuple(Column(label) for label in columns),
        tuple(rows),
    )


def _decisions(label: str, quality: DecisionQuality) -> Row:
    shares = (quality.false_pass, quality.false_fail, quality.consistency)
    return Row(label, tuple(Cell(f"{100 * share:.0f}") for share in shares))
