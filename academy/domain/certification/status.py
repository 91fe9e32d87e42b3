"""What is true of a certificate on one day: computed from evidence, decisions and date, never typed.

The evidence says what somebody has shown (``standing``), a person decides on
it, and what is then true follows from the day: the certificate's last day,
logged work, harm, restrictions.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from academy.domain.certification.evidence import Evidence
from academy.domain.certification.held_back import (
    DecidedAgainst,
    EvidenceFell,
    HeldBack,
    Restricted,
    ReturnCheckDue,
    SuspendedBy,
    WithdrawnOn,
)
from academy.domain.certification.known import Known, higher, known_on, lower
from academy.domain.certification.readiness import (
    decided_against,
    missing_for_next,
    missing_for_renewal,
    ready_for,
)
from academy.domain.certification.register import Register
from academy.domain.certification.standing import Missing
from academy.domain.certification.terms import idle_since, turns
from academy.domain.curriculum.kinds import Supervision
from academy.domain.curriculum.schemes import Scheme


class StatusWord(StrEnum):
    """What a certificate is on one day, in the words of ISO/IEC 17024 where it has one."""

    NOT_YET = "not yet"
    READY = "ready for decision"
    CERTIFIED = "certified"
    EXPIRED = "expired"
    SUSPENDED = "suspended"
    WITHDRAWN = "withdrawn"


@dataclass(frozen=True, slots=True)
class Status:
    """What is true of one person under one scheme on one day.

    ``level`` is what may be done that day, everything counted; ``certified``
    the level of the certificate in force.  ``valid_until`` is its last day, or
    that of the one which expired.  ``ready_for`` is the level that can be
    decided now.  ``missing`` is what the next level asks and the evidence does
    not show; ``to_renew`` what recertification asks, None while it is not due.
    ``by_trainer``: whoever decided had trained or assessed the person too.
    ``sure_until`` is the last day on which all this holds if nothing new happens.
    """

    scheme_id: str
    word: StatusWord
    level: Supervision
    certified: Supervision
    valid_until: date | None
    ready_for: Supervision | None
    next_level: Supervision | None
    missing: tuple[Missing, ...]
    to_renew: tuple[Missing, ...] | None
    held_back: tuple[HeldBack, ...]
    sure_until: date | None
    by_trainer: bool = False


def status(scheme: Scheme, evidence: Evidence, register: Register, today: date) -> Status:
    """Return what is true of a certificate on one day.

    Everything given has happened by that day; the order in which it is given
    does not matter.
    """
    known = known_on(scheme, evidence, register, today)
    return Status(
        scheme_id=scheme.id,
        word=_word(known),
        level=_level(known),
        certified=_certified(known),
        valid_until=_valid_until(known),
        ready_for=ready_for(known),
        next_level=known.shown.next_level,
        missing=missing_for_next(known),
        to_renew=missing_for_renewal(known),
        held_back=tuple(_held_back(known)),
        sure_until=min((day for day in turns(known) if day >= today), default=None),
        by_trainer=bool(known.held and known.held.by_trainer),
    )


def _word(known: Known) -> StatusWord:
    suspended = known.register.suspensions_of(known.scheme.id)
    if suspended or (known.held and not _certified(known).rank):
        return StatusWord.SUSPENDED
    if _certified(known).rank:
        return StatusWord.CERTIFIED
    if ready_for(known):
        return StatusWord.READY
    if known.granted:
        return StatusWord.EXPIRED
    return StatusWord.WITHDRAWN if known.withdrawn else StatusWord.NOT_YET


def _level(known: Known) -> Supervision:
    """Return what may be done: harm stops the work, everything else only lowers the level."""
    if known.register.suspensions_of(known.scheme.id):
        return Supervision.NOT_YET
    level = _reached(known)
    if idle_since(known):
        level = lower(level, Supervision.BESIDE)
    for restriction in known.register.restrictions_on(known.scheme.id):
        level = lower(level, restriction.level)
    return level


def _reached(known: Known) -> Supervision:
    return higher(_certified(known), _by_evidence(known))


def _certified(known: Known) -> Supervision:
    """Return the level of the certificate in force, no higher than the evidence still shows."""
    rule = known.scheme.decision
    if rule is None:
        return known.shown.level
    if known.held is None:
        return Supervision.NOT_YET
    level = lower(known.held.level, known.shown_once.level)
    return level if rule.asked_at(level) else Supervision.NOT_YET


def _by_evidence(known: Known) -> Supervision:
    """Return the level that rests on evidence alone: below the first that is decided on."""
    rule = known.scheme.decision
    if rule is None or (known.withdrawn and not known.granted):
        return Supervision.NOT_YET
    below = [level for level in Supervision if not rule.asked_at(level)]
    return lower(known.shown.level, below[-1])


def _valid_until(known: Known) -> date | None:
    if known.scheme.decision is None:
        return known.shown.valid_until
    return known.latest.valid_until if known.latest else None


def _held_back(known: Known) -> Iterator[HeldBack]:
    if known.withdrawn and not known.granted:
        yield WithdrawnOn(known.withdrawn.date())
    for suspension in known.register.suspensions_of(known.scheme.id):
        yield SuspendedBy(suspension.harm, suspension.since)
    for restriction in known.register.restrictions_on(known.scheme.id):
        yield Restricted(restriction.level, restriction.review_on)
    if known.held and _certified(known).rank < known.held.level.rank:
        yield EvidenceFell(known.held.level)
    idle = idle_since(known)
    if idle and _reached(known).rank > Supervision.BESIDE.rank:
        yield ReturnCheckDue(idle)
    if known.refused and decided_against(known):
        yield DecidedAgainst(known.refused.level, known.refused.decided_at.date())
