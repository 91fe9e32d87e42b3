"""Pages about people: signing in, invitations, who is in the shop."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from academy.store.queries.people import Member, ShopChoice
from academy.web.pages import Page
from academy.web.parts import Choosable, Filled


@dataclass(frozen=True, slots=True)
class SignInPage(Page):
    """Name and password; the demonstration says how to get in."""

    template: ClassVar[str] = "people/sign_in.html"
    form: Filled
    next: str
    demo_accounts: tuple[tuple[str, str, str], ...]


@dataclass(frozen=True, slots=True)
class AcceptPage(Page):
    """An invitation being accepted."""

    template: ClassVar[str] = "people/accept.html"
    form: Filled
    token: str
    first_owner: bool
    shortest: int


@dataclass(frozen=True, slots=True)
class PeoplePage(Page):
    """The people of the shop."""

    template: ClassVar[str] = "people/overview.html"
    people: tuple[Member, ...]
    may_invite: bool
    shops: tuple[ShopChoice, ...]


@dataclass(frozen=True, slots=True)
class InvitePage(Page):
    """Inviting somebody."""

    template: ClassVar[str] = "people/invite.html"
    form: Filled
    roles: tuple[Choosable, ...]


@dataclass(frozen=True, slots=True)
class SlipPage(Page):
    """The invitation slip, shown once, to be printed."""

    template: ClassVar[str] = "people/slip.html"
    name: str
    link: str
    qr_svg: str
    days: int
