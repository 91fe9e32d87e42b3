"""Shops, people, their roles in a shop, invitations and sessions.

People are global; what they are in a shop is a membership of that shop.
"""

from __future__ import annotations

from datetime import datetime
from uuid import UUID

from sqlalchemy import ForeignKey, ForeignKeyConstraint, Index, String
from sqlalchemy.orm import Mapped, mapped_column

from academy.domain.people.roles import Role
from academy.store.tables.base import Base, Digest, Name, OwnKey, ShopKey
from academy.store.types import CanonicalJson, word


class Shop(Base):
    """A shop; ``demo`` marks the invented one."""

    __tablename__ = "shops"
    id: Mapped[OwnKey]
    name: Mapped[Name]
    created_at: Mapped[datetime]
    demo: Mapped[bool] = mapped_column(default=False)


class Person(Base):
    """A person; everything else points at the random id."""

    __tablename__ = "people"
    id: Mapped[OwnKey]
    name: Mapped[Name]
    sign_in_name: Mapped[str] = mapped_column(String(200), unique=True)
    password_hash: Mapped[str | None] = mapped_column(String(200))
    created_at: Mapped[datetime]


class Membership(Base):
    """A person's place in a shop; a leaver's access ends at ``left_at``, the evidence stays."""

    __tablename__ = "memberships"
    shop_id: Mapped[ShopKey]
    person_id: Mapped[UUID] = mapped_column(ForeignKey("people.id"), primary_key=True)
    joined_at: Mapped[datetime]
    left_at: Mapped[datetime | None]


class MembershipRole(Base):
    """One role of a person in a shop."""

    __tablename__ = "membership_roles"
    shop_id: Mapped[UUID] = mapped_column(primary_key=True)
    person_id: Mapped[UUID] = mapped_column(primary_key=True)
    role: Mapped[Role] = mapped_column(word(Role), primary_key=True)
    __table_args__ = (
        ForeignKeyConstraint(
            ["shop_id", "person_id"], ["memberships.shop_id", "memberships.person_id"]
        ),
    )


class Invitation(Base):
    """An invitation slip: the link's token is kept only as a digest and works once."""

    __tablename__ = "invitations"
    shop_id: Mapped[ShopKey]
    id: Mapped[OwnKey]
    token_digest: Mapped[str] = mapped_column(String(64), unique=True)
    name: Mapped[Name]
    roles: Mapped[list[str]] = mapped_column(CanonicalJson)
    invited_by: Mapped[UUID | None] = mapped_column(ForeignKey("people.id"))
    created_at: Mapped[datetime]
    expires_at: Mapped[datetime]
    used_at: Mapped[datetime | None]
    used_by: Mapped[UUID | None] = mapped_column(ForeignKey("people.id"))


class Session(Base):
    """A signed-in device.  The cookie carries the token; the digest is the key here."""

    __tablename__ = "sessions"
    token_digest: Mapped[str] = mapped_column(String(64), primary_key=True)
    person_id: Mapped[UUID] = mapped_column(ForeignKey("people.id"))
    shop_id: Mapped[UUID] = mapped_column(ForeignKey("shops.id"))
    started_at: Mapped[datetime]
    last_seen_at: Mapped[datetime]
    ended_at: Mapped[datetime | None]
    __table_args__ = (Index(None, "person_id", "ended_at"),)


class SignInFailure(Base):
    """A refused sign-in, by digest of the name tried; slows down guessing."""

    __tablename__ = "sign_in_failures"
    id: Mapped[OwnKey]
    name_digest: Mapped[Digest]
    failed_at: Mapped[datetime]
    __table_args__ = (Index(None, "name_digest", "failed_at"),)
