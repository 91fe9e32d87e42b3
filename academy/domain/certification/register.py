"""What people have decided about a person's certificates, and what holds one back."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from uuid import UUID

from academy.domain.curriculum.kinds import Harm, Supervision


@dataclass(frozen=True, slots=True)
class Decision:
    """One decision on a certificate.  ``decided_at`` is on the shop's clock.

    ``valid_until`` is the last day it holds; None where it was decided against.
    ``by_trainer``: whoever decided had trained or assessed the person too.
    """

    id: UUID
    scheme_id: str
    level: Supervision
    decided_at: datetime
    decided_by: UUID
    valid_until: date | None
    by_trainer: bool = False

    @property
    def granted(self) -> bool:
        """Return whether the certificate was given."""
        return self.valid_until is not None


@dataclass(frozen=True, slots=True)
class Withdrawal:
    """A certificate taken back; what was done before it counts no more."""

    scheme_id: str
    withdrawn_at: datetime


@dataclass(frozen=True, slots=True)
class Restriction:
    """The owner holds a person or a kind of work back; it only lowers and is no incident.

    ``scheme_id`` is None where every kind of work is meant.  It holds until it
    is lifted: the review date asks, it does not lift.
    """

    id: UUID
    scheme_id: str | None
    level: Supervision
    since: datetime
    review_on: date


@dataclass(frozen=True, slots=True)
class ReturnCheck:
    """Somebody was seen at this work again after a long time without it."""

    scheme_id: str
    checked_at: datetime


@dataclass(frozen=True, slots=True)
class Suspension:
    """Harm that holds a certificate until somebody is assessed again."""

    scheme_id: str
    since: date
    harm: Harm


@dataclass(frozen=True, slots=True)
class Register:
    """Everything decided about one person, in any order; what was lifted is not in it.

    ``worked_on`` maps a scheme to the days of logged work of its kind.
    """

    decisions: tuple[Decision, ...] = ()
    withdrawals: tuple[Withdrawal, ...] = ()
    restrictions: tuple[Restriction, ...] = ()
    return_checks: tuple[ReturnCheck, ...] = ()
    suspensions: tuple[Suspension, ...] = ()
    worked_on: Mapping[str, tuple[date, ...]] = field(default_factory=dict)

    def withdrawn_at(self, scheme_id: str) -> datetime | None:
        """Return when a certificate was last withdrawn."""
        of_scheme = (w.withdrawn_at for w in self.withdrawals if w.scheme_id == scheme_id)
        return max(of_scheme, default=None)

    def decisions_on(self, scheme_id: str) -> tuple[Decision, ...]:
        """Return the decisions on a certificate since it was last withdrawn, oldest first."""
        withdrawn = self.withdrawn_at(scheme_id)
        counted = (
            decision
            for decision in self.decisions
            if decision.scheme_id == scheme_id
            and (withdrawn is None or decision.decided_at > withdrawn)
        )
        return tuple(sorted(counted, key=lambda one: (one.decided_at, str(one.id))))

    def restrictions_on(self, scheme_id: str) -> tuple[Restriction, ...]:
        """Return what holds a person back in a kind of work, oldest first."""
        meant = (r for r in self.restrictions if r.scheme_id in (None, scheme_id))
        return tuple(sorted(meant, key=lambda one: (one.since, str(one.id))))

    def suspensions_of(self, scheme_id: str) -> tuple[Suspension, ...]:
        """Return what suspends a certificate, oldest first."""
        meant = (s for s in self.suspensions if s.scheme_id == scheme_id)
        return tuple(sorted(meant, key=lambda one: (one.since, one.harm)))

    def checked_on(self, scheme_id: str) -> list[date]:
        """Return the days of return checks at this kind of work."""
        return [c.checked_at.date() for c in self.return_checks if c.scheme_id == scheme_id]
