"""A closed record as a card: what it says, its digest, and who signed it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from academy.domain.curriculum.tasks import PracticalTask
from academy.domain.practical.record import Practical
from academy.domain.practical.signatures import Meaning
from academy.domain.practical.steps import Talk
from academy.store.queries.judgement import RecordRow, SignatureRow
from academy.web.language import gettext as _
from academy.web.parts import Fact
from academy.web.practicals.drills import drill_title
from academy.web.practicals.words import outcome_sign, outcome_word


@dataclass(frozen=True, slots=True)
class CriterionLine:
    """One criterion with how it stands."""

    text: str
    critical: bool
    measured: bool
    sign: str
    word: str


@dataclass(frozen=True, slots=True)
class RecordCard:
    """One record of a practical; ``superseded`` once a later one has taken its place."""

    heading: str
    outcome_sign: str
    outcome: str
    facts: tuple[Fact, ...]
    talk: tuple[Fact, ...]
    criteria: tuple[CriterionLine, ...]
    signatures: tuple[str, ...]
    digest: str
    superseded: bool


def record_card(practical: Practical, row: RecordRow, newest: bool) -> RecordCard:
    """Return one record as it was frozen; its texts lie beside it in the steps it names."""
    amended = row.amended_by_name is not None
    return RecordCard(
        _("Amendment of %(at)s", at=utc_text(row.frozen_at))
        if amended
        else _("Record closed %(at)s", at=utc_text(row.frozen_at)),
        outcome_sign(row.record["outcome"]),
        outcome_word(row.record["outcome"]),
        (*_closing(row), *_amendment(row)),
        talk_facts(_talk(practical, row.record)),
        criteria_lines(practical.task, row.record["criteria"]),
        tuple(signature_text(signature) for signature in row.signatures),
        row.digest,
        not newest,
    )


def criteria_lines(task: PracticalTask, met: dict[str, bool]) -> tuple[CriterionLine, ...]:
    """Return the criteria of a task with how a record says they stand."""
    return tuple(
        CriterionLine(
            criterion.text,
            criterion.critical,
            criterion.measured,
            "right" if met[criterion.id] else "other",
            _("met") if met[criterion.id] else _("not met"),
        )
        for criterion in task.criteria
        if criterion.id in met
    )


def talk_facts(talk: Talk | None) -> tuple[Fact, ...]:
    """Return what was said at the end, and the next drill by its title."""
    if talk is None:
        return ()
    facts = (
        Fact(_("What went well"), talk.went_well),
        Fact(_("The one thing to change"), talk.change_next),
    )
    if not talk.next_drill:
        return facts
    return (*facts, Fact(_("Next drill"), drill_title(talk.next_drill)))


def signature_text(signature: SignatureRow) -> str:
    """Return a signature in words: who, what it means, when, and why late where it is."""
    meaning = meaning_word(Meaning(signature.meaning))
    says = _(
        "%(name)s, %(meaning)s, %(at)s",
        name=signature.name,
        meaning=meaning,
        at=utc_text(signature.signed_at),
    )
    if signature.late_reason is None:
        return says
    return _("%(says)s. Signed late: %(why)s", says=says, why=signature.late_reason)


def meaning_word(meaning: Meaning) -> str:
    """Return what a signature means."""
    return {Meaning.ASSESSED: _("assessed"), Meaning.AGREED: _("seen and agreed")}[meaning]


def utc_text(at: Any) -> str:
    """Return a moment as it stands in a record."""
    return f"{at:%Y-%m-%d %H:%M} UTC"


def _talk(practical: Practical, record: Any) -> Talk | None:
    named = {step["id"] for step in record["steps"]}
    said = [
        step.body
        for step in practical.steps
        if isinstance(step.body, Talk) and str(step.id) in named
    ]
    return said[-1] if said else None


def _closing(row: RecordRow) -> tuple[Fact, ...]:
    if row.trainee_present is None:
        return ()
    if row.trainee_present:
        return (Fact(_("At the closing"), _("the trainee was there")),)
    says = _("the trainee was not there: %(why)s", why=row.absence_reason or "–")
    return (Fact(_("At the closing"), says),)


def _amendment(row: RecordRow) -> tuple[Fact, ...]:
    if row.amended_by_name is None:
        return ()
    return (
        Fact(_("Amended by"), row.amended_by_name),
        Fact(_("Why it was amended"), row.amendment_reason or "–"),
    )
