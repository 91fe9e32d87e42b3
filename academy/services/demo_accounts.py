"""The invented people of the demonstration and how they sign in.

The passwords are public.  They are refused on any address but loopback unless
whoever starts the server asks for the demonstration there.
"""

from __future__ import annotations

from dataclasses import dataclass

from academy.domain.people import Role


@dataclass(frozen=True, slots=True)
class DemoAccount:
    """One invented person."""

    says: str
    name: str
    sign_in_name: str
    password: str
    roles: tuple[Role, ...]


ACCOUNTS = (
    DemoAccount("trainee", "Ida Marlow", "trainee", "clear coat and patience", (Role.TRAINEE,)),
    DemoAccount(
        "supervisor",
        "Tom Reyes",
        "supervisor",
        "slow arm flat pad light hand",
        (Role.SUPERVISOR,),
    ),
    DemoAccount("owner", "Nora Quill", "owner", "board before first coffee", (Role.OWNER,)),
)
