"""The board: people, kinds of work, and what is true today."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from sqlalchemy.orm import Session

from academy.domain.certification import Evidence, Status
from academy.domain.curriculum.course import Course
from academy.domain.curriculum.schemes import Scheme
from academy.domain.people import Permission, Role
from academy.services.actor import Actor, NotFound
from academy.services.schemes_in_force import schemes_on
from academy.services.shop_clock import today_in_shop
from academy.services.standing import person_on, standings_under
from academy.store.queries.decisions import (
    DecisionRow,
    RestrictionRow,
    decisions_of,
    restrictions,
)
from academy.store.queries.evidence import (
    SignedPracticalRow,
    StandingOfPerson,
    standing_rows,
)
from academy.store.queries.people import Member, member, members


@dataclass(frozen=True, slots=True)
class BoardLine:
    """One person with the standing under every scheme, in the schemes' order."""

    person: Member
    standings: tuple[Status, ...]


@dataclass(frozen=True, slots=True)
class Board:
    """Everybody in training in a shop."""

    schemes: tuple[Scheme, ...]
    lines: tuple[BoardLine, ...]


@dataclass(frozen=True, slots=True)
class CellEvidence:
    """All that stands behind one cell of the board."""

    person: Member
    scheme: Scheme
    today: Status
    evidence: Evidence
    practicals: tuple[SignedPracticalRow, ...]
    decisions: tuple[DecisionRow, ...]
    restrictions: tuple[RestrictionRow, ...]


def board(session: Session, *, actor: Actor, course: Course, now: datetime) -> Board:
    """Return who may do what today."""
    actor.require(Permission.READ_BOARD)
    today = today_in_shop(session, actor.shop_id, now)
    schemes = schemes_on(session, actor.shop_id, course, today)
    rows: dict[UUID, list[StandingOfPerson]] = defaultdict(list)
    for row in standing_rows(session, actor.shop_id):
        rows[row.person_id].append(row)
    lines = []
    for person in members(session, actor.shop_id):
        if Role.TRAINEE in person.roles:
            found = standings_under(
                session,
                shop_id=actor.shop_id,
                person_id=person.person_id,
                course=course,
                schemes=schemes,
                rows=rows[person.person_id],
                today=today,
            )
            lines.append(BoardLine(person, tuple(found[scheme.id] for scheme in schemes)))
    return Board(schemes, tuple(lines))


def cell_evidence(
    session: Session,
    *,
    actor: Actor,
    person_id: UUID,
    scheme_id: str,
    course: Course,
    now: datetime,
) -> CellEvidence:
    """Return the evidence behind one cell, recomputed from what it rests on."""
    actor.require(Permission.READ_BOARD)
    today = today_in_shop(session, actor.shop_id, now)
    person, scheme = member(session, actor.shop_id, person_id), course.scheme(scheme_id)
    if person is None or scheme is None:
        raise NotFound()
    scheme = next(s for s in schemes_on(session, actor.shop_id, course, today) if s.id == scheme_id)
    found = person_on(session, actor.shop_id, person_id, course, today)
    tasks = {task for r in scheme.requirements for task in r.evidence}
    counts = {one.practical_id for one in found.evidence.practicals}
    counted = tuple(
        row for row in found.signed if row.task_id in tasks and row.practical_id in counts
    )
    return CellEvidence(
        person,
        scheme,
        found.under(scheme),
        found.evidence,
        counted,
        tuple(
            row
            for row in decisions_of(session, actor.shop_id, person_id)
            if row.scheme_id == scheme_id
        ),
        tuple(
            row
            for row in restrictions(session, actor.shop_id, person_id)
            if row.scheme_id in (None, scheme_id) and row.lifted_at is None
        ),
    )
