"""Signing binds a person's proof to the digest of the very record that was shown."""

from __future__ import annotations

import secrets
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID, uuid4

from sqlalchemy.orm import Session

from academy.domain.curriculum.course import Course
from academy.domain.people import Permission, may_sign
from academy.domain.practical.amendments import RecordHasChanged
from academy.domain.practical.outcome import judged
from academy.domain.practical.refusals import PracticalIsOpen, PracticalIsSigned
from academy.domain.practical.signatures import Meaning, is_late, refuse_late_without_reason
from academy.domain.sentences import TradeError
from academy.keys.digests import new_salt, salted_digest
from academy.services import journal
from academy.services.actor import Actor, Proof
from academy.services.practical_rows import locked_practical
from academy.services.reteaching import open_plan
from academy.services.second_judgement import draw
from academy.services.standing import rewrite_standings
from academy.store.queries.people import member
from academy.store.queries.practicals import StoredPractical, StoredRecord
from academy.store.queries.shop_settings import policy
from academy.store.tables.practicals import Practical as PracticalRow
from academy.store.tables.practicals import Signature


@dataclass(eq=False)
class ProofIsSomebodyElses(TradeError):
    """The password proved another person."""

    template = "This password belongs to somebody who does not sign this record"


@dataclass(eq=False)
class NothingChosen(TradeError):
    """No record was ticked."""

    template = "Tick each record you have read and sign; nothing was signed"


@dataclass(frozen=True, slots=True)
class Shown:
    """One record as the desk showed it: its digest, and why it is signed late, where it is."""

    practical_id: UUID
    digest: str
    late_reason: str = ""


def sign_at_desk(
    session: Session,
    *,
    actor: Actor,
    shown: Sequence[Shown],
    proof: Proof,
    course: Course,
    now: datetime,
) -> int:
    """Sign several records with one proof, all or none; return how many were signed now.

    What this person has signed already is answered and not doubled.

    Raises
    ------
    NothingChosen, ProofIsSomebodyElses, RecordHasChanged, LateWithoutReason
        Nothing is signed.
    """
    if not shown:
        raise NothingChosen()
    return sum(
        _sign_shown(session, actor, one, proof, course, now)
        for one in sorted(shown, key=lambda one: one.practical_id)
    )


def sign_practical(
    session: Session,
    *,
    actor: Actor,
    practical_id: UUID,
    proof: Proof,
    course: Course,
    now: datetime,
    late_reason: str = "",
    seed: str | None = None,
) -> None:
    """Sign a closed record as whoever assessed or amended it.

    ``proof`` is a person who has just proved their password on this device; it
    need not be the person signed in, so two people can sign on one device.
    ``seed`` is the chance that may draw it to be judged again.
    """
    actor.require(Permission.SIGN_PRACTICAL)
    stored, record = _closed(session, actor, practical_id)
    practical = stored.practical
    if not may_sign(proof.person_id, practical.trainee_id, record.signer(practical.supervisor_id)):
        raise ProofIsSomebodyElses()
    if stored.has_signed(Meaning.ASSESSED):
        raise PracticalIsSigned()
    chance = draw(session, actor.shop_id, stored, record, seed or secrets.token_hex(16), now)
    _write_signature(
        session, actor.shop_id, stored, record, proof, Meaning.ASSESSED, late_reason, now, chance
    )
    row = session.get_one(PracticalRow, (actor.shop_id, practical_id))
    row.signed_at = row.signed_at or now
    if record.record.get("supersedes"):
        open_plan(session, actor, practical, judged(practical, stored.gauge), now)
    rewrite_standings(
        session, shop_id=actor.shop_id, person_id=practical.trainee_id, course=course, now=now
    )


def countersign_practical(
    session: Session,
    *,
    actor: Actor,
    practical_id: UUID,
    proof: Proof,
    now: datetime,
    late_reason: str = "",
) -> None:
    """Countersign a closed record as its trainee; signing again changes nothing."""
    actor.require(Permission.SIGN_PRACTICAL)
    stored, record = _closed(session, actor, practical_id)
    if proof.person_id != stored.practical.trainee_id:
        raise ProofIsSomebodyElses()
    if not stored.has_signed(Meaning.AGREED):
        _write_signature(
            session, actor.shop_id, stored, record, proof, Meaning.AGREED, late_reason, now, {}
        )


def _sign_shown(
    session: Session, actor: Actor, shown: Shown, proof: Proof, course: Course, now: datetime
) -> int:
    stored, record = _closed(session, actor, shown.practical_id)
    mine = {s.meaning for s in stored.signatures if s.person_id == proof.person_id}
    if shown.digest != record.digest:
        raise RecordHasChanged()
    if mine:
        return 0
    if proof.person_id == stored.practical.trainee_id:
        countersign_practical(
            session, actor=actor, practical_id=shown.practical_id, proof=proof, now=now,
            late_reason=shown.late_reason,
        )  # fmt: skip
    else:
        sign_practical(
            session, actor=actor, practical_id=shown.practical_id, proof=proof, course=course,
            now=now, late_reason=shown.late_reason,
        )  # fmt: skip
    return 1


def _closed(
    session: Session, actor: Actor, practical_id: UUID
) -> tuple[StoredPractical, StoredRecord]:
    stored = locked_practical(session, actor, practical_id)
    if stored.record is None:
        raise PracticalIsOpen()
    return stored, stored.record


def _write_signature(
    session: Session,
    shop_id: UUID,
    stored: StoredPractical,
    record: StoredRecord,
    proof: Proof,
    meaning: Meaning,
    late_reason: str,
    now: datetime,
    chance: dict[str, object],
) -> None:
    if member(session, shop_id, proof.person_id) is None:  # who has left signs nothing here
        raise ProofIsSomebodyElses()
    zone = policy(session, shop_id).zone
    refuse_late_without_reason(record.frozen_at, now, zone, late_reason)
    late = late_reason.strip() if is_late(record.frozen_at, now, zone) else ""
    salt = new_salt() if late else None
    session.add(
        Signature(
            shop_id=shop_id,
            id=uuid4(),
            record_id=record.id,
            record_digest=record.digest,
            person_id=proof.person_id,
            meaning=meaning,
            signed_at=now,
            proved_by=proof.by,
            late_reason=late or None,
            late_salt=salt,
        )
    )
    session.flush()
    body: dict[str, object] = {
        "practical": str(stored.practical.id),
        "record": record.digest,
        "meaning": meaning,
    }
    if salt:
        body["late"] = salted_digest(salt, late)
    journal.append(
        session,
        shop_id=shop_id,
        actor_id=proof.person_id,
        kind="practical signed",
        body=body | chance,
        at=now,
    )
