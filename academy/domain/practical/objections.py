"""A trainee objects to a record: who may decide, and what is refused."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from uuid import UUID

from academy.domain.practical.counting import ObjectionState
from academy.domain.practical.refusals import PracticalError

DECISIONS = (ObjectionState.NOT_UPHELD, ObjectionState.TO_BE_AMENDED, ObjectionState.SET_ASIDE)


@dataclass(eq=False)
class NotYourRecord(PracticalError):
    """Only the trainee objects."""

    template = "Only the trainee of this practical objects to its record"


@dataclass(eq=False)
class AlreadyAgreed(PracticalError):
    """The trainee has countersigned."""

    template = (
        "You have countersigned this record as seen and agreed. Where it is wrong all the same,"
        " ask your supervisor for an amendment"
    )


@dataclass(eq=False)
class AlreadyObjected(PracticalError):
    """An objection to this record exists."""

    template = "There is an objection to this record already; it is decided once"


@dataclass(eq=False)
class ObjectionIsDecided(PracticalError):
    """The decision stands."""

    template = "This objection has been decided already; the decision stands"


@dataclass(eq=False)
class InvolvedInIt(PracticalError):
    """The person taught or assessed."""

    template = (
        "You taught or assessed this trainee at this task. Somebody who did neither has to decide"
    )


@dataclass(eq=False)
class NotADecision(PracticalError):
    """No such decision."""

    template = "Choose whether it is upheld, and what becomes of the record"


def refuse_objection(
    person_id: UUID, trainee_id: UUID, *, agreed: bool, state: ObjectionState
) -> None:
    """Raise a sentence where this person does not object to this record."""
    if person_id != trainee_id:
        raise NotYourRecord()
    if state is not ObjectionState.NONE:
        raise AlreadyObjected()
    if agreed:
        raise AlreadyAgreed()


def refuse_decision(
    person_id: UUID, involved: Collection[UUID], state: ObjectionState, decision: ObjectionState
) -> None:
    """Raise a sentence where this person does not decide this objection.

    ``involved`` are the trainee, whoever assessed or amended, and whoever
    coached the trainee at this task.
    """
    if person_id in involved:
        raise InvolvedInIt()
    if state is not ObjectionState.OPEN:
        raise ObjectionIsDecided()
    if decision not in DECISIONS:
        raise NotADecision()
