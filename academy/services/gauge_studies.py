"""A gauge study: begun, read round by round, and answered in plain figures."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from uuid import UUID

from sqlalchemy.orm import Session

from academy.domain.metrology.crossed_study import crossed_study
from academy.domain.metrology.gauge_study import gauge_study_by_anova
from academy.domain.people import Permission
from academy.domain.sentences import TradeError
from academy.services.actor import Actor, NotFound
from academy.store.queries.gauge_studies import StudyRow, study
from academy.store.queries.people import member
from academy.store.queries.workshop import gauge, sections
from academy.store.tables.gauge_checks import GaugeStudy, GaugeStudyRound

FEWEST, MOST_PEOPLE, MOST_SECTIONS, MOST_REPEATS = 2, 5, 10, 5


@dataclass(eq=False)
class StudyOutOfBounds(TradeError):
    """A study needs several of everything, and not too many."""

    template = (
        "A gauge study takes 2 to 5 people, 2 to 10 sections and 2 to 5 repeats;"
        " %(people)d people, %(sections)d sections and %(repeats)d repeats chosen"
    )
    people: int
    sections: int
    repeats: int


@dataclass(eq=False)
class NotTheirTurn(TradeError):
    """A page was sent out of order."""

    template = "This page has been read already. Open the study again: it shows whose turn it is"


@dataclass(eq=False)
class ReadEverySection(TradeError):
    """A round has one reading for each section."""

    template = "Read every section once: %(needed)d readings are needed, %(taken)d given"
    taken: int
    needed: int


@dataclass(frozen=True, slots=True)
class NewStudy:
    """What is chosen before the first reading."""

    id: UUID
    gauge_id: UUID
    people: tuple[UUID, ...]
    sections: tuple[UUID, ...]
    repeats: int


@dataclass(frozen=True, slots=True)
class StudyAnswer:
    """What a finished study says, as standard deviations of one reading in micrometres.

    ``repeatability_um`` is one person at one spot, ``hands_um`` what different
    people add, ``gauge_um`` both together.
    """

    repeatability_um: float
    hands_um: float
    gauge_um: float


def begin_study(session: Session, *, actor: Actor, new: NewStudy, now: datetime) -> UUID:
    """Begin a study; a known id is answered and not doubled.

    Raises
    ------
    NotFound, StudyOutOfBounds
        Nothing is written.
    """
    actor.require(Permission.VERIFY_GAUGE)
    if session.get(GaugeStudy, (actor.shop_id, new.id)) is not None:
        return new.id
    _refuse_wrong_choice(session, actor.shop_id, new)
    session.add(
        GaugeStudy(
            shop_id=actor.shop_id,
            id=new.id,
            gauge_id=new.gauge_id,
            people=[str(person) for person in new.people],
            sections=[str(section) for section in new.sections],
            repeats=new.repeats,
            begun_at=now,
            begun_by=actor.person_id,
        )
    )
    session.flush()
    return new.id


def record_round(
    session: Session,
    *,
    actor: Actor,
    study_id: UUID,
    round_id: UUID,
    readings_um: tuple[Decimal, ...],
    now: datetime,
) -> None:
    """Keep what the next person read, a reading for each section; a known id changes nothing.

    Raises
    ------
    NotFound, NotTheirTurn, ReadEverySection
        Nothing is written.
    """
    actor.require(Permission.VERIFY_GAUGE)
    if session.get(GaugeStudyRound, (actor.shop_id, round_id)) is not None:
        return
    found = study(session, actor.shop_id, study_id)
    if found is None:
        raise NotFound()
    turn = found.next_turn
    if turn is None:
        raise NotTheirTurn()
    if len(readings_um) != len(found.sections):
        raise ReadEverySection(len(readings_um), len(found.sections))
    session.add(
        GaugeStudyRound(
            shop_id=actor.shop_id,
            id=round_id,
            study_id=study_id,
            person_id=turn.person_id,
            round=turn.round,
            readings_um=[str(reading) for reading in readings_um],
            recorded_at=now,
            recorded_by=actor.person_id,
        )
    )
    session.flush()


def answer_of(found: StudyRow) -> StudyAnswer | None:
    """Return what a study says, or None while a round is missing.

    Raises
    ------
    NothingVaries
        Every reading is the same, so nothing can be told.
    """
    if found.next_turn is not None:
        return None
    parts = gauge_study_by_anova(crossed_study(found.measurements())).components
    return StudyAnswer(
        math.sqrt(parts["repeatability"]),
        math.sqrt(parts["reproducibility"]),
        math.sqrt(parts["gauge"]),
    )


def _refuse_wrong_choice(session: Session, shop_id: UUID, new: NewStudy) -> None:
    people, chosen = set(new.people), set(new.sections)
    bounded = (
        FEWEST <= len(people) <= MOST_PEOPLE
        and FEWEST <= len(chosen) <= MOST_SECTIONS
        and FEWEST <= new.repeats <= MOST_REPEATS
        and len(people) == len(new.people)
        and len(chosen) == len(new.sections)
    )
    if not bounded:
        raise StudyOutOfBounds(len(people), len(chosen), new.repeats)
    if gauge(session, shop_id, new.gauge_id) is None:
        raise NotFound()
    if not chosen <= {one.id for one in sections(session, shop_id)}:
        raise NotFound()
    if any(member(session, shop_id, person) is None for person in people):
        raise NotFound()
