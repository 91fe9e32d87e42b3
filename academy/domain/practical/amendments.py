"""An amendment supersedes a record: who may make one, and what it may change."""

from __future__ import annotations

from dataclasses import dataclass, replace
from uuid import UUID

from academy.domain.practical.completeness import refuse_incomplete
from academy.domain.practical.record import Practical
from academy.domain.practical.refusals import PracticalError, PracticalIsOpen
from academy.domain.practical.stages import Stage
from academy.domain.practical.steps import Step

# What was measured and done at the panel is what happened; how it was judged may have been wrong.
MAY_CHANGE = (Stage.CRITERIA, Stage.TALK)


@dataclass(eq=False)
class NotYoursToAmend(PracticalError):
    """Somebody else amends."""

    template = (
        "Whoever assessed this practical amends it. Where that person has left the shop, another"
        " supervisor or the owner does, and never the trainee"
    )


@dataclass(eq=False)
class ReasonForAmendment(PracticalError):
    """An amendment says why."""

    template = "Say why the record is amended; the reason stays beside both records"


@dataclass(eq=False)
class NothingAmended(PracticalError):
    """The amendment says the same."""

    template = "This says what the record says already; there is nothing to amend"


@dataclass(eq=False)
class RecordHasChanged(PracticalError):
    """The page shows an older record."""

    template = (
        "This record was amended since you opened the page; nothing was signed or changed."
        " Reload the page and read it again"
    )


@dataclass(eq=False)
class OnlyTheJudgement(PracticalError):
    """What happened at the panel is not amended."""

    template = "An amendment changes how it was judged or what was said, never what was measured"


def may_amend(
    person_id: UUID, *, trainee_id: UUID, assessor_id: UUID, assessor_is_here: bool
) -> bool:
    """Return whether a supervisor or owner amends a record of somebody's work."""
    if person_id == trainee_id:
        return False
    return person_id == assessor_id or not assessor_is_here


def amended(practical: Practical, steps: tuple[Step, ...]) -> Practical:
    """Return a closed practical as it reads with its amended steps, which only add to it.

    Raises
    ------
    PracticalIsOpen, OnlyTheJudgement, NothingAmended
        There is nothing to amend, or not in this way.
    CriterionNotJudged, NothingSaid, NotOnTheTask
        A step is not complete.
    """
    if practical.closed_at is None:
        raise PracticalIsOpen()
    for step in steps:
        if step.stage not in MAY_CHANGE or step.stage not in practical.stages:
            raise OnlyTheJudgement()
        refuse_incomplete(practical.task, step.stage, step.body)
    grown = replace(practical, steps=(*practical.steps, *steps))
    if (grown.judgement, grown.talk) == (practical.judgement, practical.talk):
        raise NothingAmended()
    return grown
