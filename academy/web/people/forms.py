"""What is typed to sign in, to accept an invitation and to invite."""

from __future__ import annotations

from typing import Annotated
from uuid import UUID

from pydantic import Field, StringConstraints

from academy.domain.people import Role
from academy.web.forms import Form

ShortText = Annotated[str, StringConstraints(min_length=1, max_length=200)]
Password = Annotated[str, StringConstraints(min_length=1, max_length=1000, strip_whitespace=False)]


class SignInForm(Form):
    """A name and its password."""

    sign_in_name: ShortText
    password: Password
    next: str = "/"


class AcceptForm(Form):
    """What an invited person tells about themselves."""

    name: ShortText
    sign_in_name: Annotated[str, StringConstraints(min_length=3, max_length=100)]
    password: Password
    shop_name: Annotated[str, StringConstraints(max_length=200)] = ""


class InviteForm(Form):
    """Whom to invite, as what."""

    name: ShortText
    roles: Annotated[list[Role], Field(min_length=1)]


class ShopForm(Form):
    """Which shop to look at."""

    shop_id: UUID
