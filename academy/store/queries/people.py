"""Who is signed in, who is in a shop."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from academy.domain.people.roles import Role
from academy.store.tables.people import Membership, MembershipRole, Person, Shop
from academy.store.tables.people import Session as SessionRow


@dataclass(frozen=True, slots=True)
class SignedIn:
    """A live session with the person, the shop and the roles held there."""

    person_id: UUID
    name: str
    shop_id: UUID
    shop_name: str
    demo: bool
    roles: frozenset[Role]
    started_at: datetime
    last_seen_at: datetime


@dataclass(frozen=True, slots=True)
class Credentials:
    """What a password is checked against."""

    person_id: UUID
    name: str
    password_hash: str | None


@dataclass(frozen=True, slots=True)
class Member:
    """A person of a shop."""

    person_id: UUID
    name: str
    roles: tuple[Role, ...]
    joined_at: datetime


@dataclass(frozen=True, slots=True)
class ShopChoice:
    """A shop a person belongs to."""

    shop_id: UUID
    name: str


def signed_in(session: Session, token_digest: str) -> SignedIn | None:
    """Return the live session of a token, or None; a leaver has none."""
    row = session.execute(
        select(
            SessionRow.person_id,
            Person.name,
            SessionRow.shop_id,
            Shop.name.label("shop_name"),
            Shop.demo,
            SessionRow.started_at,
            SessionRow.last_seen_at,
        )
        .join(Person, Person.id == SessionRow.person_id)
        .join(Shop, Shop.id == SessionRow.shop_id)
        .join(
            Membership,
            (Membership.shop_id == SessionRow.shop_id)
            & (Membership.person_id == SessionRow.person_id),
        )
        .where(
            SessionRow.token_digest == token_digest,
            SessionRow.ended_at.is_(None),
            Membership.left_at.is_(None),
        )
    ).one_or_none()
    if row is None:
        return None
    roles = session.scalars(
        select(MembershipRole.role).where(
            MembershipRole.shop_id == row.shop_id, MembershipRole.person_id == row.person_id
        )
    )
    return SignedIn(
        row.person_id,
        row.name,
        row.shop_id,
        row.shop_name,
        row.demo,
        frozenset(roles),
        row.started_at,
        row.last_seen_at,
    )


def credentials(session: Session, sign_in_key: str) -> Credentials | None:
    """Return what the password of a sign-in name is checked against."""
    row = session.execute(
        select(Person.id, Person.name, Person.password_hash).where(
            Person.sign_in_name == sign_in_key
        )
    ).one_or_none()
    return Credentials(*row) if row else None


def shops_of(session: Session, person_id: UUID) -> Sequence[ShopChoice]:
    """Return the shops a person belongs to today, by name."""
    rows = session.execute(
        select(Shop.id, Shop.name)
        .join(Membership, Membership.shop_id == Shop.id)
        .where(Membership.person_id == person_id, Membership.left_at.is_(None))
        .order_by(Shop.name, Shop.id)
    )
    return [ShopChoice(*row) for row in rows]


def members(session: Session, shop_id: UUID) -> Sequence[Member]:
    """Return the people of a shop by name, with their roles."""
    rows = session.execute(
        select(Person.id, Person.name, MembershipRole.role, Membership.joined_at)
        .join(Membership, Membership.person_id == Person.id)
        .join(
            MembershipRole,
            (MembershipRole.shop_id == Membership.shop_id)
            & (MembershipRole.person_id == Membership.person_id),
        )
        .where(Membership.shop_id == shop_id, Membership.left_at.is_(None))
        .order_by(Person.name, Person.id, MembershipRole.role)
    ).all()
    people: dict[UUID, Member] = {}
    for person_id, name, role, joined_at in rows:
        known = people.get(person_id)
        roles = (*known.roles, role) if known else (role,)
        people[person_id] = Member(person_id, name, roles, joined_at)
    return list(people.values())


def member(session: Session, shop_id: UUID, person_id: UUID) -> Member | None:
    """Return one person of a shop, or None for anybody else."""
    return next((m for m in members(session, shop_id) if m.person_id == person_id), None)


def names(session: Session, person_ids: Sequence[UUID]) -> dict[UUID, str]:
    """Return the names of people."""
    rows = session.execute(select(Person.id, Person.name).where(Person.id.in_(person_ids)))
    return {row.id: row.name for row in rows}
