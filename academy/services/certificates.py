"""Deciding on certificates and taking them back: a person decides on evidence shown, and signs."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from academy.domain.certification.deciding import refuse_decider
from academy.domain.certification.known import known_on, tasks_up_to
from academy.domain.certification.terms import last_day
from academy.domain.curriculum.course import Course
from academy.domain.curriculum.frozen import scheme_from_frozen
from academy.domain.curriculum.kinds import Supervision
from academy.domain.curriculum.schemes import Scheme
from academy.domain.people import Permission
from academy.domain.practical.stages import PracticalKind
from academy.domain.sentences import TradeError
from academy.keys.digests import digest_of, new_salt, salted_digest
from academy.services import journal
from academy.services.actor import Actor, NotFound, Proof
from academy.services.schemes_in_force import schemes_on
from academy.services.shop_clock import today_in_shop
from academy.services.signing import ProofIsSomebodyElses
from academy.services.standing import PersonToday, person_on, rewrite_standings
from academy.store.queries.decisions import DecisionRow, decision, frozen_body
from academy.store.queries.evidence import SignedPracticalRow, signed_practicals
from academy.store.queries.people import Member, member, names
from academy.store.tables.decisions import CertificateDecision, CertificateWithdrawal


@dataclass(eq=False)
class NothingToDecide(TradeError):
    """The evidence for that level is not complete, or it is held already."""

    template = "There is nothing to decide at '%(level)s' now: what is missing stands below"
    level: Supervision


@dataclass(eq=False)
class SayWhy(TradeError):
    """A refusal, a withdrawal or a restriction needs its reason."""

    template = "Say why, in a sentence"


@dataclass(eq=False)
class NothingToWithdraw(TradeError):
    """Nobody has decided on this certificate."""

    template = "There is no certificate to withdraw"


@dataclass(frozen=True, slots=True)
class NewDecision:
    """What somebody decides; without ``grant`` it is decided against."""

    id: UUID
    person_id: UUID
    scheme_id: str
    level: Supervision
    grant: bool
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Trained:
    """Who trained and who assessed a person at a scheme's tasks."""

    trained_by: tuple[UUID, ...]
    assessed_by: tuple[UUID, ...]

    @property
    def everybody(self) -> frozenset[UUID]:
        """Return all of them."""
        return frozenset((*self.trained_by, *self.assessed_by))


@dataclass(frozen=True, slots=True)
class Certificate:
    """One certificate as issued, with the people behind it by name."""

    row: DecisionRow
    holder: str
    scheme: Scheme
    trained_by: tuple[str, ...]
    assessed_by: tuple[str, ...]
    last_assessed_on: date | None


def decide(
    session: Session,
    *,
    actor: Actor,
    new: NewDecision,
    proof: Proof,
    course: Course,
    now: datetime,
) -> UUID:
    """Decide on a certificate, on the evidence as it stands; sent twice it is decided once.

    Raises
    ------
    ProofIsSomebodyElses, NotTheirOwnCertificate, RoleDoesNotDecide, TrainerDoesNotDecide,
    NothingToDecide, SayWhy
        Nothing is written.
    """
    actor.require(Permission.DECIDE_CERTIFICATE)
    refuse_other_proof(actor, proof)
    if session.get(CertificateDecision, (actor.shop_id, new.id)) is not None:
        return new.id
    scheme, person = scheme_and_person(session, actor, new.scheme_id, new.person_id, course, now)
    trained = who_trained(session, actor.shop_id, new.person_id, scheme)
    if scheme.decision is None:
        raise NothingToDecide(new.level)
    refuse_decider(scheme.decision, actor.person_id, actor.roles, new.person_id, trained.everybody)
    ready = person.under(scheme).ready_for
    if ready is None or not scheme.decision.asked_at(new.level) or new.level.rank > ready.rank:
        raise NothingToDecide(new.level)
    if not new.grant and not new.reason:
        raise SayWhy()
    _write(session, actor, new, scheme, person, trained, proof, now)
    rewrite_standings(
        session, shop_id=actor.shop_id, person_id=new.person_id, course=course, now=now
    )
    return new.id


def withdraw(
    session: Session,
    *,
    actor: Actor,
    withdrawal_id: UUID,
    person_id: UUID,
    scheme_id: str,
    reason: str,
    proof: Proof,
    course: Course,
    now: datetime,
) -> None:
    """Take a certificate back; sent twice it is withdrawn once."""
    actor.require(Permission.RESTRICT_WORK)
    refuse_other_proof(actor, proof)
    if session.get(CertificateWithdrawal, (actor.shop_id, withdrawal_id)) is not None:
        return
    _scheme, person = scheme_and_person(session, actor, scheme_id, person_id, course, now)
    if not any(one.granted for one in person.register.decisions_on(scheme_id)):
        raise NothingToWithdraw()
    if not reason:
        raise SayWhy()
    salt = new_salt()
    session.add(
        CertificateWithdrawal(
            shop_id=actor.shop_id,
            id=withdrawal_id,
            person_id=person_id,
            scheme_id=scheme_id,
            reason=reason,
            salt=salt,
            withdrawn_by=actor.person_id,
            withdrawn_at=now,
            proved_by=proof.by,
        )
    )
    body = {
        "withdrawal": str(withdrawal_id),
        "person": str(person_id),
        "scheme": scheme_id,
        "reason": salted_digest(salt, reason),
    }
    note(session, actor, "certificate withdrawn", body, now)
    rewrite_standings(session, shop_id=actor.shop_id, person_id=person_id, course=course, now=now)


def certificate(session: Session, *, actor: Actor, decision_id: UUID) -> Certificate:
    """Return a certificate for its holder, or for who may see the board."""
    row = decision(session, actor.shop_id, decision_id)
    if row is None or row.valid_until is None:
        raise NotFound()
    if row.person_id != actor.person_id and not actor.may(Permission.READ_BOARD):
        raise NotFound()
    body = frozen_body(session, row.scheme_digest)
    if body is None:
        raise NotFound()
    trained, assessed = (_ids(row.evidence[name]) for name in ("trained_by", "assessed_by"))
    known = names(session, [*trained, *assessed, row.person_id])
    last = max((p["assessed_on"] for p in row.evidence["practicals"]), default=None)
    return Certificate(
        row,
        known[row.person_id],
        scheme_from_frozen(body),
        tuple(known[one] for one in trained),
        tuple(known[one] for one in assessed),
        date.fromisoformat(last) if last else None,
    )


def who_trained(session: Session, shop_id: UUID, person_id: UUID, scheme: Scheme) -> Trained:
    """Return who coached and who assessed a person at a scheme's tasks."""
    tasks = tasks_up_to(scheme, Supervision.ALONE)
    rows = [r for r in signed_practicals(session, shop_id, person_id) if r.task_id in tasks]
    return Trained(
        _supervisors(rows, PracticalKind.COACHED), _supervisors(rows, PracticalKind.ASSESSED)
    )


def scheme_and_person(
    session: Session,
    actor: Actor,
    scheme_id: str,
    person_id: UUID,
    course: Course,
    now: datetime,
) -> tuple[Scheme, PersonToday]:
    """Return the ruling version of a scheme and what a member of the shop has; NotFound otherwise."""
    member_of(session, actor, person_id)
    today = today_in_shop(session, actor.shop_id, now)
    ruling = {s.id: s for s in schemes_on(session, actor.shop_id, course, today)}
    if scheme_id not in ruling:
        raise NotFound()
    return ruling[scheme_id], person_on(session, actor.shop_id, person_id, course, today)


def member_of(session: Session, actor: Actor, person_id: UUID) -> Member:
    """Return a member of the actor's shop; anybody else is not found."""
    found = member(session, actor.shop_id, person_id)
    if found is None:
        raise NotFound()
    return found


def refuse_other_proof(actor: Actor, proof: Proof) -> None:
    """Raise unless the password is that of whoever is signed in."""
    if proof.person_id != actor.person_id:
        raise ProofIsSomebodyElses()


def note(session: Session, actor: Actor, kind: str, body: dict[str, Any], now: datetime) -> None:
    """Write a decision into the shop's journal."""
    session.flush()
    journal.append(
        session, shop_id=actor.shop_id, actor_id=actor.person_id, kind=kind, body=body, at=now
    )


def _write(
    session: Session,
    actor: Actor,
    new: NewDecision,
    scheme: Scheme,
    person: PersonToday,
    trained: Trained,
    proof: Proof,
    now: datetime,
) -> None:
    known = known_on(scheme, person.evidence, person.register, person.today)
    valid_until = last_day(known, new.level) if new.grant else None
    evidence = _shown(session, actor.shop_id, new, scheme, person, trained)
    salt = new_salt()
    session.add(
        CertificateDecision(
            shop_id=actor.shop_id,
            id=new.id,
            person_id=new.person_id,
            scheme_id=scheme.id,
            scheme_digest=scheme.digest,
            level=new.level,
            valid_until=valid_until,
            evidence=evidence,
            reason=new.reason,
            salt=salt,
            decided_by=actor.person_id,
            decided_at=now,
            proved_by=proof.by,
        )
    )
    body = {
        "decision": str(new.id),
        "person": str(new.person_id),
        "scheme": scheme.id,
        "version": scheme.digest,
        "level": new.level.value,
        "valid_until": valid_until.isoformat() if valid_until else None,
        "evidence": digest_of(evidence),
        "reason": salted_digest(salt, new.reason),
    }
    note(session, actor, "certificate decided" if new.grant else "certificate refused", body, now)


def _shown(
    session: Session,
    shop_id: UUID,
    new: NewDecision,
    scheme: Scheme,
    person: PersonToday,
    trained: Trained,
) -> dict[str, Any]:
    """Return the evidence a decision rests on, as it stands: ids, days and digests."""
    tasks = tasks_up_to(scheme, new.level)
    records = {r.practical_id: r.digest for r in signed_practicals(session, shop_id, new.person_id)}
    examined = person.evidence.examinations.get(scheme.id)
    return {
        "modules": {
            module: day.isoformat()
            for module, day in person.evidence.modules_passed.items()
            if module in scheme.modules
        },
        "practicals": [
            {
                "practical": str(p.practical_id),
                "record": records[p.practical_id],
                "competent": p.competent,
                "assessed_on": p.on.isoformat(),
            }
            for p in sorted(person.evidence.practicals, key=lambda p: p.assessed_at)
            if p.task_id in tasks
        ],
        "examination": examined.isoformat() if examined else None,
        "trained_by": [str(one) for one in trained.trained_by],
        "assessed_by": [str(one) for one in trained.assessed_by],
    }


def _supervisors(rows: list[SignedPracticalRow], kind: PracticalKind) -> tuple[UUID, ...]:
    of_kind = (UUID(row.record["supervisor"]) for row in rows if row.kind is kind)
    return tuple(dict.fromkeys(of_kind))


def _ids(stored: list[str]) -> list[UUID]:
    return [UUID(one) for one in stored]
