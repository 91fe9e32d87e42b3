"""Holding a person or a kind of work back, lifting that, and checking who returns to a kind of work."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from academy.domain.certification.deciding import NotTheirOwnCertificate
from academy.domain.curriculum.course import Course
from academy.domain.curriculum.kinds import Supervision
from academy.domain.people import Permission, Role
from academy.domain.sentences import TradeError
from academy.keys.digests import new_salt, salted_digest
from academy.services.actor import Actor, NotFound, Proof
from academy.services.certificates import (
    SayWhy,
    member_of,
    note,
    refuse_other_proof,
    scheme_and_person,
)
from academy.services.shop_clock import today_in_shop
from academy.services.standing import rewrite_standings
from academy.store.queries.people import members
from academy.store.tables.decisions import ReturnCheckRow, WorkRestriction


@dataclass(eq=False)
class NobodyMeant(TradeError):
    """A restriction on everybody at everything closes the shop."""

    template = "Choose a person, a kind of work, or both"


@dataclass(eq=False)
class ReviewInThePast(TradeError):
    """A restriction is looked at again on a later day."""

    template = "Choose a day after today on which you look at it again"


@dataclass(eq=False)
class AloneHoldsNobodyBack(TradeError):
    """The highest level lowers nothing."""

    template = "'alone' holds nobody back; choose a lower level"


@dataclass(frozen=True, slots=True)
class NewRestriction:
    """Who or what is held at which level, why, and when it is looked at again."""

    id: UUID
    person_id: UUID | None
    scheme_id: str | None
    level: Supervision
    reason: str
    review_on: date


@dataclass(frozen=True, slots=True)
class NewReturnCheck:
    """Who was seen at which kind of work again, and what was seen."""

    id: UUID
    person_id: UUID
    scheme_id: str
    saw: str


def restrict(
    session: Session,
    *,
    actor: Actor,
    new: NewRestriction,
    proof: Proof,
    course: Course,
    now: datetime,
) -> None:
    """Hold somebody or some work back from now on; sent twice it is written once."""
    actor.require(Permission.RESTRICT_WORK)
    refuse_other_proof(actor, proof)
    if session.get(WorkRestriction, (actor.shop_id, new.id)) is not None:
        return
    _refuse_restriction(session, actor, new, course, now)
    salt = new_salt()
    session.add(
        WorkRestriction(
            shop_id=actor.shop_id,
            id=new.id,
            person_id=new.person_id,
            scheme_id=new.scheme_id,
            level=new.level,
            reason=new.reason,
            salt=salt,
            review_on=new.review_on,
            restricted_by=actor.person_id,
            since=now,
            proved_by=proof.by,
        )
    )
    body = {
        "restriction": str(new.id),
        "person": str(new.person_id) if new.person_id else None,
        "scheme": new.scheme_id,
        "level": new.level.value,
        "review_on": new.review_on.isoformat(),
        "reason": salted_digest(salt, new.reason),
    }
    note(session, actor, "work restricted", body, now)
    _rewrite(session, actor, new.person_id, course, now)


def lift_restriction(
    session: Session,
    *,
    actor: Actor,
    restriction_id: UUID,
    proof: Proof,
    course: Course,
    now: datetime,
) -> None:
    """End a restriction; lifting it twice changes nothing."""
    actor.require(Permission.RESTRICT_WORK)
    refuse_other_proof(actor, proof)
    row = session.scalars(
        select(WorkRestriction)
        .where(WorkRestriction.shop_id == actor.shop_id, WorkRestriction.id == restriction_id)
        .with_for_update()
    ).one_or_none()
    if row is None:
        raise NotFound()
    if row.person_id == actor.person_id:
        raise NotTheirOwnCertificate()
    if row.lifted_at is not None:
        return
    row.lifted_by, row.lifted_at = actor.person_id, now
    note(session, actor, "restriction lifted", {"restriction": str(restriction_id)}, now)
    _rewrite(session, actor, row.person_id, course, now)


def check_return(
    session: Session,
    *,
    actor: Actor,
    new: NewReturnCheck,
    proof: Proof,
    course: Course,
    now: datetime,
) -> None:
    """Say that somebody was seen at a kind of work again; sent twice it is written once."""
    actor.require(Permission.DECIDE_CERTIFICATE)
    refuse_other_proof(actor, proof)
    if session.get(ReturnCheckRow, (actor.shop_id, new.id)) is not None:
        return
    if new.person_id == actor.person_id:
        raise NotTheirOwnCertificate()
    scheme_and_person(session, actor, new.scheme_id, new.person_id, course, now)
    if not new.saw:
        raise SayWhy()
    salt = new_salt()
    session.add(
        ReturnCheckRow(
            shop_id=actor.shop_id,
            id=new.id,
            person_id=new.person_id,
            scheme_id=new.scheme_id,
            saw=new.saw,
            salt=salt,
            checked_by=actor.person_id,
            checked_at=now,
            proved_by=proof.by,
        )
    )
    body = {
        "check": str(new.id),
        "person": str(new.person_id),
        "scheme": new.scheme_id,
        "saw": salted_digest(salt, new.saw),
    }
    note(session, actor, "return checked", body, now)
    _rewrite(session, actor, new.person_id, course, now)


def _refuse_restriction(
    session: Session, actor: Actor, new: NewRestriction, course: Course, now: datetime
) -> None:
    if new.person_id is None and new.scheme_id is None:
        raise NobodyMeant()
    if new.level is Supervision.ALONE:
        raise AloneHoldsNobodyBack()
    if not new.reason:
        raise SayWhy()
    if new.review_on <= today_in_shop(session, actor.shop_id, now):
        raise ReviewInThePast()
    if new.person_id is not None:
        member_of(session, actor, new.person_id)
    if new.scheme_id is not None and course.scheme(new.scheme_id) is None:
        raise NotFound()


def _rewrite(
    session: Session, actor: Actor, person_id: UUID | None, course: Course, now: datetime
) -> None:
    meant: Iterable[UUID] = (
        [person_id]
        if person_id
        else [m.person_id for m in members(session, actor.shop_id) if Role.TRAINEE in m.roles]
    )
    for one in meant:
        rewrite_standings(session, shop_id=actor.shop_id, person_id=one, course=course, now=now)
