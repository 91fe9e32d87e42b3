"""Who does something: a person, in one shop, with the roles they hold there."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from academy.domain.people import Permission, Role, granted
from academy.domain.sentences import TradeError


@dataclass(eq=False)
class NotAllowed(TradeError):
    """The person's roles in this shop do not carry the permission."""

    template = "Your role in this shop does not allow this; ask the shop owner"


@dataclass(eq=False)
class NotFound(TradeError):
    """Missing and not yours are the same answer."""

    template = "There is nothing at this address for you"


@dataclass(frozen=True, slots=True)
class Actor:
    """A signed-in person in one shop."""

    person_id: UUID
    shop_id: UUID
    name: str
    roles: frozenset[Role]

    def may(self, permission: Permission) -> bool:
        """Return whether any of the person's roles carries the permission."""
        return granted(self.roles, permission)

    def require(self, permission: Permission) -> None:
        """Raise NotAllowed unless a role carries the permission."""
        if not self.may(permission):
            raise NotAllowed()


@dataclass(frozen=True, slots=True)
class Proof:
    """A person has just proved who they are, on whatever device this is."""

    person_id: UUID
    proved_at: datetime
    by: str = "password"
