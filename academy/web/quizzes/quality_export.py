"""The figures of every question as a table for a spreadsheet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from academy.documents.spreadsheet import Value, spreadsheet
from academy.domain.assessment.shown_share import FEWEST_FOR_A_PERCENTAGE
from academy.services.judged_questions import JudgedQuestion
from academy.store.queries.rating_rounds import NoteRow
from academy.web.quizzes.quality_words import part_text, plain, reason_texts

STEM_LETTERS = 300
# what each column holds stands on the page beside the link (templates/quizzes/quality.html)
COLUMNS = (
    "question",
    "module",
    "wording_digest",
    "stem",
    "interaction",
    "level",
    "answers",
    "right",
    "blank",
    "share_lower",
    "share_upper",
    "item_rest",
    "item_rest_lower",
    "item_rest_upper",
    "rating_percent",
    "author_rating_percent",
    "right_at_pass_mark_percent",
    "difficulty",
    "presented",
    "disputes",
    "voided",
    "options_taken",
    "reasons",
    "decided",
)


def quality_csv(
    questions: Sequence[JudgedQuestion], ratings: Mapping[str, int], notes: Mapping[str, NoteRow]
) -> bytes:
    """Return one line a question, those to mend first in front."""
    return spreadsheet(COLUMNS, (_row(one, ratings, notes) for one in questions))


def _row(
    one: JudgedQuestion, ratings: Mapping[str, int], notes: Mapping[str, NoteRow]
) -> tuple[Value, ...]:
    wording, question, evidence = one.now, one.now.question, one.now.evidence
    enough = evidence.answered >= FEWEST_FOR_A_PERCENTAGE
    rest = evidence.item_rest if enough else None
    near = wording.near_cut if enough else None
    note = notes.get(question.digest)
    taken = "; ".join(
        f"{part_text(question, part.name)}{' (right)' if part.right else ''}: {part.taken}"
        for part in evidence.parts
    )
    return (
        question.id,
        question.module_id,
        question.digest,
        plain(question.stem_html, STEM_LETTERS),
        question.interaction.value,
        question.level.value,
        evidence.answered,
        evidence.right,
        evidence.blank,
        round(wording.share.interval.lower, 4) if evidence.answered else None,
        round(wording.share.interval.upper, 4) if evidence.answered else None,
        round(rest.value, 4) if rest else None,
        round(rest.lower, 4) if rest else None,
        round(rest.upper, 4) if rest else None,
        ratings.get(question.digest, question.rating_percent),
        question.rating_percent,
        near.percent if near else None,
        round(wording.difficulty, 3) if enough and wording.difficulty is not None else None,
        one.seen,
        wording.disputes.raised,
        "yes" if wording.disputes.voided else "no",
        taken,
        " ".join(reason_texts(wording)),
        f"{note.mending.value}: {note.reason}" if note else "",
    )
