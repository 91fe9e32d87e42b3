"""Shops, invitations, signing in and out."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from uuid import UUID, uuid4

from sqlalchemy import delete, select, update
from sqlalchemy.orm import Session

from academy.domain.people import Permission, Role
from academy.domain.sentences import TradeError
from academy.keys.links import OneTimeToken, new_token, token_digest
from academy.services import journal
from academy.services.actor import Actor, NotFound
from academy.store.tables.people import (
    Invitation,
    Membership,
    MembershipRole,
    Person,
    Shop,
    SignInFailure,
)
from academy.store.tables.people import Session as SessionRow

INVITATION_LASTS = timedelta(days=14)
SESSION_IDLE = timedelta(hours=12)
SESSION_LONGEST = timedelta(days=30)
FREE_FAILURES = 5
FAILURES_AN_HOUR = 20


@dataclass(eq=False)
class InvitationUsed(TradeError):
    """The link has been used, is too old or never was one."""

    template = "This invitation link is used up or too old; ask for a new one"


@dataclass(eq=False)
class NameTaken(TradeError):
    """Somebody signs in with this name already."""

    template = "Somebody already signs in as '%(name)s'; choose another name"
    name: str


@dataclass(eq=False)
class TooManyFailures(TradeError):
    """Guessing is slowed down; nobody is locked out for good."""

    template = "Too many wrong passwords for this name; wait %(minutes)d minutes and try again"
    minutes: int


@dataclass(eq=False)
class NoRoleChosen(TradeError):
    """An invitation without a role is of no use."""

    template = "Choose at least one role"


def open_shop(session: Session, *, name: str, now: datetime, demo: bool = False) -> UUID:
    """Create a shop with its empty journal and return its id."""
    shop = Shop(id=uuid4(), name=name, created_at=now, demo=demo)
    session.add(shop)
    session.flush()
    journal.start_journal(session, shop.id)
    journal.append(session, shop_id=shop.id, actor_id=None, kind="shop opened", body={}, at=now)
    return shop.id


def invite_first_owner(session: Session, shop_id: UUID, now: datetime) -> OneTimeToken:
    """Return the one-time link of a new shop's owner; an unused earlier one stops working."""
    session.execute(
        delete(Invitation).where(Invitation.shop_id == shop_id, Invitation.used_at.is_(None))
    )
    return _new_invitation(session, shop_id, "", [Role.OWNER], None, now)


def invite_person(
    session: Session, *, actor: Actor, name: str, roles: Iterable[Role], now: datetime
) -> OneTimeToken:
    """Invite a person into the actor's shop."""
    actor.require(Permission.INVITE_PERSON)
    chosen = sorted(set(roles))
    if not chosen:
        raise NoRoleChosen()
    token = _new_invitation(session, actor.shop_id, name, chosen, actor.person_id, now)
    journal.append(
        session,
        shop_id=actor.shop_id,
        actor_id=actor.person_id,
        kind="person invited",
        body={"roles": [str(role) for role in chosen]},
        at=now,
    )
    return token


def open_invitation(session: Session, token: str, now: datetime) -> Invitation:
    """Return the invitation a link opens, locked for use.

    Raises
    ------
    InvitationUsed
        It was used, is too old, or never was one: all the same answer.
    """
    invitation = session.scalars(
        select(Invitation).where(Invitation.token_digest == token_digest(token)).with_for_update()
    ).one_or_none()
    if invitation is None or invitation.used_at is not None or invitation.expires_at < now:
        raise InvitationUsed()
    return invitation


def accept_invitation(
    session: Session,
    *,
    token: str,
    name: str,
    sign_in_name: str,
    password_hash: str,
    now: datetime,
    shop_name: str = "",
) -> Actor:
    """Make the invited person a member of the shop and return them."""
    invitation = open_invitation(session, token, now)
    name_key = sign_in_key(sign_in_name)
    if session.scalar(select(Person.id).where(Person.sign_in_name == name_key)):
        raise NameTaken(sign_in_name)
    person = Person(
        id=uuid4(),
        name=name,
        sign_in_name=name_key,
        password_hash=password_hash,
        created_at=now,
    )
    session.add(person)
    session.flush()
    roles = frozenset(Role(role) for role in invitation.roles)
    join_shop(session, invitation.shop_id, person.id, roles, now)
    invitation.used_at, invitation.used_by = now, person.id
    if shop_name and Role.OWNER in roles and invitation.invited_by is None:
        session.get_one(Shop, invitation.shop_id).name = shop_name
    return Actor(person.id, invitation.shop_id, name, roles)


def join_shop(
    session: Session, shop_id: UUID, person_id: UUID, roles: Iterable[Role], now: datetime
) -> None:
    """Give a person a place and roles in a shop."""
    session.add(Membership(shop_id=shop_id, person_id=person_id, joined_at=now))
    session.flush()
    chosen = sorted(set(roles))
    session.add_all(
        MembershipRole(shop_id=shop_id, person_id=person_id, role=role) for role in chosen
    )
    session.flush()
    journal.append(
        session,
        shop_id=shop_id,
        actor_id=person_id,
        kind="person joined",
        body={"person": str(person_id), "roles": [str(role) for role in chosen]},
        at=now,
    )


def sign_in_key(sign_in_name: str) -> str:
    """Return the form under which a sign-in name is kept and compared."""
    return sign_in_name.strip().casefold()


def refuse_guessing(session: Session, sign_in_name: str, now: datetime) -> None:
    """Raise TooManyFailures when this name has been tried too often.

    The wait doubles after five failures within the hour and ends with it, so a
    stranger can slow a person down but never lock them out for good.
    """
    failures = session.scalars(
        select(SignInFailure.failed_at)
        .where(
            SignInFailure.name_digest == token_digest(sign_in_key(sign_in_name)),
            SignInFailure.failed_at > now - timedelta(hours=1),
        )
        .order_by(SignInFailure.failed_at)
    ).all()
    if len(failures) < FREE_FAILURES:
        return
    doublings = min(len(failures), FAILURES_AN_HOUR) - FREE_FAILURES
    wait = min(timedelta(seconds=15 * 2**doublings), timedelta(hours=1))
    left = failures[-1] + wait - now
    if left > timedelta(0):
        raise TooManyFailures(int(left.total_seconds() // 60) + 1)


def note_failure(session: Session, sign_in_name: str, now: datetime) -> None:
    """Remember a refused sign-in for an hour, and forget older ones."""
    session.execute(delete(SignInFailure).where(SignInFailure.failed_at < now - timedelta(hours=1)))
    session.add(
        SignInFailure(
            id=uuid4(), name_digest=token_digest(sign_in_key(sign_in_name)), failed_at=now
        )
    )


def start_session(session: Session, *, person_id: UUID, shop_id: UUID, now: datetime) -> str:
    """Start a server-side session and return the token for the cookie."""
    token = new_token()
    session.add(
        SessionRow(
            token_digest=token.digest,
            person_id=person_id,
            shop_id=shop_id,
            started_at=now,
            last_seen_at=now,
        )
    )
    return token.token


def touch_session(session: Session, token: str, now: datetime) -> None:
    """Move a session's last-seen time on."""
    session.execute(
        update(SessionRow)
        .where(SessionRow.token_digest == token_digest(token), SessionRow.ended_at.is_(None))
        .values(last_seen_at=now)
    )


def end_session(session: Session, token: str, now: datetime) -> None:
    """End one session at the server."""
    session.execute(
        update(SessionRow)
        .where(SessionRow.token_digest == token_digest(token), SessionRow.ended_at.is_(None))
        .values(ended_at=now)
    )


def end_all_sessions(session: Session, person_id: UUID, now: datetime) -> None:
    """Sign a person out everywhere."""
    session.execute(
        update(SessionRow)
        .where(SessionRow.person_id == person_id, SessionRow.ended_at.is_(None))
        .values(ended_at=now)
    )


def choose_shop(session: Session, *, token: str, actor: Actor, shop_id: UUID) -> None:
    """Move a session to another shop the person belongs to."""
    membership = session.get(Membership, (shop_id, actor.person_id))
    if membership is None or membership.left_at is not None:
        raise NotFound()
    session.execute(
        update(SessionRow)
        .where(SessionRow.token_digest == token_digest(token))
        .values(shop_id=shop_id)
    )


def _new_invitation(
    session: Session,
    shop_id: UUID,
    name: str,
    roles: Iterable[Role],
    invited_by: UUID | None,
    now: datetime,
) -> OneTimeToken:
    token = new_token()
    session.add(
        Invitation(
            shop_id=shop_id,
            id=uuid4(),
            token_digest=token.digest,
            name=name,
            roles=[str(role) for role in roles],
            invited_by=invited_by,
            created_at=now,
            expires_at=now + INVITATION_LASTS,
        )
    )
    session.flush()
    return token
