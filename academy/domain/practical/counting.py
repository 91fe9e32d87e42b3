"""Whether a signed practical counts as evidence, and why not: said here and nowhere else.

Evidence speaks for a trainee and against: a practical that does not count
neither lengthens a run of competent ones nor ends it.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from academy.domain.practical.outcome import Outcome
from academy.domain.practical.stages import PracticalKind
from academy.domain.sentences import Sentence


class ObjectionState(StrEnum):
    """What has become of a trainee's objection to a record."""

    NONE = "none"
    OPEN = "open"
    NOT_UPHELD = "not upheld"
    TO_BE_AMENDED = "to be amended"
    SET_ASIDE = "set aside"


@dataclass(frozen=True, slots=True)
class SignedPractical:
    """What decides whether a practical counts.

    It is about the newest record its supervisor has signed: a superseded one
    does not count, and an amendment that nobody has signed yet supersedes
    nothing.  ``remeasure_by`` is set where a failed verification puts the
    readings in doubt, ``readings_refused`` where the owner has settled such a
    doubt against them.
    """

    kind: PracticalKind
    outcome: str
    taken_over: bool
    objection: ObjectionState = ObjectionState.NONE
    remeasure_by: date | None = None
    readings_refused: bool = False


@dataclass(frozen=True, slots=True)
class OnlyCoached(Sentence):
    """Chosen before the first reading."""

    template = "a coached practical never counts"


@dataclass(frozen=True, slots=True)
class TakenOver(Sentence):
    """The work is not the trainee's alone."""

    template = "the supervisor took over"


@dataclass(frozen=True, slots=True)
class StoppedForSafety(Sentence):
    """Nothing was shown."""

    template = "it was stopped for safety"


@dataclass(frozen=True, slots=True)
class UnderObjection(Sentence):
    """Nobody has decided yet."""

    template = "the trainee objects; it does not count until that is decided"


@dataclass(frozen=True, slots=True)
class SetAside(Sentence):
    """An objection was upheld."""

    template = "the trainee objected and it was set aside"


@dataclass(frozen=True, slots=True)
class AwaitsAmendment(Sentence):
    """An objection was upheld and the record is known to be wrong."""

    template = "the trainee's objection was upheld; it counts again once it is amended and signed"


@dataclass(frozen=True, slots=True)
class NotMeasuredAgain(Sentence):
    """The gauge failed afterwards, and the day to measure again has passed."""

    template = "its gauge failed afterwards and nobody measured again by %(remeasure_by)s"
    remeasure_by: date


@dataclass(frozen=True, slots=True)
class ReadingsRefused(Sentence):
    """The gauge failed afterwards, and the owner does not let the readings stand."""

    template = "its gauge failed afterwards and the owner refused its readings"


@dataclass(frozen=True, slots=True)
class InDoubt(Sentence):
    """The gauge failed afterwards; it counts until the day to measure again has passed."""

    template = "its gauge failed afterwards; measure again by %(remeasure_by)s"
    remeasure_by: date


WhyNot = (
    OnlyCoached
    | TakenOver
    | StoppedForSafety
    | UnderObjection
    | SetAside
    | AwaitsAmendment
    | NotMeasuredAgain
    | ReadingsRefused
)

_BY_OBJECTION: dict[ObjectionState, WhyNot] = {
    ObjectionState.OPEN: UnderObjection(),
    ObjectionState.SET_ASIDE: SetAside(),
    ObjectionState.TO_BE_AMENDED: AwaitsAmendment(),
}


def why_not_counted(practical: SignedPractical, today: date) -> WhyNot | None:
    """Return why a signed practical is no evidence on one day, or None where it counts."""
    if practical.kind is not PracticalKind.ASSESSED:
        return OnlyCoached()
    if practical.taken_over:
        return TakenOver()
    if practical.outcome not in {Outcome.COMPETENT, Outcome.NOT_YET}:
        return StoppedForSafety()
    if practical.objection in _BY_OBJECTION:
        return _BY_OBJECTION[practical.objection]
    if practical.readings_refused:
        return ReadingsRefused()
    if practical.remeasure_by is not None and practical.remeasure_by < today:
        return NotMeasuredAgain(practical.remeasure_by)
    return None


def doubt_shown(practical: SignedPractical, today: date) -> InDoubt | None:
    """Return what is said beside a practical that counts and rests on a gauge in doubt."""
    if practical.remeasure_by is None or why_not_counted(practical, today) is not None:
        return None
    return InDoubt(practical.remeasure_by)
