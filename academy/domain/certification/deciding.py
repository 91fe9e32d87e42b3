"""Who may decide on somebody's certificate."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from uuid import UUID

from academy.domain.curriculum.schemes import DecisionRule
from academy.domain.people.roles import Role
from academy.domain.sentences import TradeError


@dataclass(eq=False)
class NotTheirOwnCertificate(TradeError):
    """Nobody decides on themselves."""

    template = "Nobody decides on their own certificate; somebody else has to"


@dataclass(eq=False)
class RoleDoesNotDecide(TradeError):
    """The scheme names who decides."""

    template = "This scheme lets only these decide: %(by)s"
    by: str


@dataclass(eq=False)
class TrainerDoesNotDecide(TradeError):
    """The scheme asks for somebody who neither trained nor assessed."""

    template = (
        "You trained or assessed this person, and this scheme asks for somebody else to decide"
    )


def refuse_decider(
    rule: DecisionRule,
    decider_id: UUID,
    roles: Collection[Role],
    person_id: UUID,
    worked_with: Collection[UUID],
) -> None:
    """Raise unless this person may decide; ``worked_with`` are who trained and assessed."""
    if decider_id == person_id:
        raise NotTheirOwnCertificate()
    if not any(role in rule.by for role in roles):
        raise RoleDoesNotDecide(", ".join(role.value for role in rule.by))
    if not rule.trainer_may_decide and decider_id in worked_with:
        raise TrainerDoesNotDecide()
