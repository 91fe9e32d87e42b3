"""Who a person is in a shop and what that lets them do."""

from academy.domain.people.permissions import GRANTS, Permission, granted
from academy.domain.people.policies import NotTheirOwn, may_sign, refuse_own_practical
from academy.domain.people.roles import Role

__all__ = [
    "GRANTS",
    "NotTheirOwn",
    "Permission",
    "Role",
    "granted",
    "may_sign",
    "refuse_own_practical",
]
