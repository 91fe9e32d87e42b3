"""Policies about two people: who may do something to whose work."""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID

from academy.domain.sentences import TradeError


@dataclass(eq=False)
class NotTheirOwn(TradeError):
    """Nobody assesses or signs off their own work."""

    template = "Nobody assesses or signs their own practical; another supervisor has to"


def may_sign(actor_id: UUID, trainee_id: UUID, supervisor_id: UUID) -> bool:
    """Return whether this person signs this practical off as its supervisor.

    Only the supervisor who stood at the panel signs, and never their own work.
    """
    return actor_id == supervisor_id and actor_id != trainee_id


def refuse_own_practical(actor_id: UUID, trainee_id: UUID) -> None:
    """Raise NotTheirOwn when a person would judge their own work."""
    if actor_id == trainee_id:
        raise NotTheirOwn()
