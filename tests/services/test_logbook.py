"""Entering, confirming and correcting practice work and drills; on both databases."""

from __future__ import annotations

from dataclasses import replace
from typing import Any
from uuid import uuid4

import pytest
from sqlalchemy.orm import Session

from academy.domain.curriculum.course import Course
from academy.domain.curriculum.kinds import Supervision
from academy.domain.curriculum.schemes import Requirement
from academy.domain.curriculum.tasks import Drill
from academy.domain.practical.logbook import (
    AlreadyCorrected,
    DayToCome,
    NoReason,
    NotAloneYet,
    NothingToConfirm,
    NotTheirOwnEntry,
    PracticeStage,
)
from academy.services import logbook
from academy.services.actor import Actor, NotAllowed, NotFound
from academy.services.journal import check_journal
from academy.services.logbook import NewEntry
from academy.store.database import Database
from academy.store.queries.logbook import entries_of, entry, waiting_entries
from tests.support.cast import Cast
from tests.support.clock import NOW, later
from tests.support.course import a_course, a_digest, a_scheme
from tests.support.journey import a_signed_practical, sit

DRILL = Drill("arm speed", "Arm speed", (), (), 15, "<p>Slowly.</p>", a_digest("drill"))
COURSE = replace(a_course(), drills=(DRILL,))
TASK = COURSE.tasks[0]


def an_entry(cast: Cast, **overrides: Any) -> NewEntry:
    fields: dict[str, Any] = {
        "id": uuid4(),
        "person_id": cast.shop.trainee.person_id,
        "subject_id": TASK.id,
        "stage": PracticeStage.ASSISTED,
        "worked_on": NOW.date(),
        "worked_at": "a customer's bonnet",
        "note": "held the lamp, then two passes",
    }
    return NewEntry(**(fields | overrides))


def write(session: Session, actor: Actor, new: NewEntry, course: Course = COURSE) -> None:
    logbook.write_entry(session, actor=actor, new=new, course=course, now=NOW)
    session.flush()


def test_what_a_trainee_enters_waits_until_a_supervisor_confirms_it(
    database: Database, cast: Cast
) -> None:
    shop, new = cast.shop, an_entry(cast)
    with database.writing() as session:
        before = check_journal(session, shop.shop_id).entries
        for _ in range(2):
            write(session, shop.trainee, new)
        assert [row.id for row in waiting_entries(session, shop.shop_id)] == [new.id]
        for _ in range(2):
            logbook.confirm_entry(
                session, actor=shop.supervisor, entry_id=new.id, now=later(hours=1)
            )
            session.flush()
        assert waiting_entries(session, shop.shop_id) == []
        (row,) = entries_of(session, shop.shop_id, shop.trainee.person_id)
        assert (row.confirmed_by_name, row.note) == (shop.supervisor.name, new.note)
        assert check_journal(session, shop.shop_id).entries == before + 2
        assert check_journal(session, shop.shop_id).whole


def test_what_a_supervisor_enters_for_a_trainee_is_confirmed_by_it(
    database: Database, cast: Cast
) -> None:
    with database.writing() as session:
        write(session, cast.shop.supervisor, an_entry(cast))
        (row,) = entries_of(session, cast.shop.shop_id, cast.shop.trainee.person_id)
        assert row.confirmed_by_name == cast.shop.supervisor.name


def test_a_supervisors_own_work_waits_for_another_supervisor(
    database: Database, cast: Cast
) -> None:
    shop = cast.shop
    new = an_entry(cast, person_id=shop.supervisor.person_id)
    with database.writing() as session:
        write(session, shop.supervisor, new)
        with pytest.raises(NotTheirOwnEntry):
            logbook.confirm_entry(session, actor=shop.supervisor, entry_id=new.id, now=NOW)
        logbook.confirm_entry(session, actor=shop.second_supervisor, entry_id=new.id, now=NOW)
        session.flush()
        assert waiting_entries(session, shop.shop_id) == []


def test_a_drill_is_logged_and_never_confirmed(database: Database, cast: Cast) -> None:
    new = an_entry(cast, subject_id=DRILL.id, stage=None)
    with database.writing() as session:
        write(session, cast.shop.trainee, new)
        assert waiting_entries(session, cast.shop.shop_id) == []
        with pytest.raises(NothingToConfirm):
            logbook.confirm_entry(session, actor=cast.shop.supervisor, entry_id=new.id, now=NOW)


def test_alone_is_refused_until_the_level_is_alone(database: Database, cast: Cast) -> None:
    scheme = a_scheme(
        requirements=(Requirement(Supervision.ALONE, ("safety",), {TASK.id: 1}),),
        kind_of_work=TASK.kind_of_work,
    )
    course = replace(COURSE, schemes=(scheme,))
    alone = an_entry(cast, stage=PracticeStage.ALONE)
    with database.writing() as session:
        with pytest.raises(NotAloneYet):
            write(session, cast.shop.trainee, alone, course)
        with pytest.raises(NotAloneYet):
            write(session, cast.shop.supervisor, alone, course)
        assert entry(session, cast.shop.shop_id, alone.id) is None
        sit(session, cast.shop.trainee, course, later(days=-3))
        a_signed_practical(session, cast.shop, course, later(days=-2))
        write(session, cast.shop.trainee, alone, course)
        assert entry(session, cast.shop.shop_id, alone.id) is not None


@pytest.mark.parametrize(
    ("overrides", "refused"),
    [
        ({"subject_id": "no such task"}, NotFound),
        ({"subject_id": "no such drill", "stage": None}, NotFound),
        ({"worked_on": later(days=1).date()}, DayToCome),
    ],
)
def test_what_cannot_be_is_not_entered(
    database: Database, cast: Cast, overrides: dict[str, Any], refused: type[Exception]
) -> None:
    with database.writing() as session:
        with pytest.raises(refused):
            write(session, cast.shop.trainee, an_entry(cast, **overrides))
        assert entries_of(session, cast.shop.shop_id, cast.shop.trainee.person_id) == []


def test_nobody_enters_another_persons_work_but_a_supervisor(
    database: Database, cast: Cast
) -> None:
    of_supervisor = an_entry(cast, person_id=cast.shop.supervisor.person_id)
    with database.writing() as session:
        with pytest.raises(NotAllowed):
            write(session, cast.shop.trainee, of_supervisor)
        with pytest.raises(NotAllowed):
            write(session, cast.shop.owner, of_supervisor)
        with pytest.raises(NotFound):
            write(session, cast.strangers.supervisor, an_entry(cast))


def test_another_shop_neither_confirms_nor_corrects(database: Database, cast: Cast) -> None:
    new = an_entry(cast)
    with database.writing() as session:
        write(session, cast.shop.trainee, new)
        with pytest.raises(NotFound):
            logbook.confirm_entry(
                session, actor=cast.strangers.supervisor, entry_id=new.id, now=NOW
            )
        with pytest.raises(NotFound):
            correct(session, cast.strangers.supervisor, new, an_entry(cast))


def correct(session: Session, actor: Actor, old: NewEntry, new: NewEntry, **more: Any) -> None:
    fields: dict[str, Any] = {"new": new, "new_id": new.id, "reason": "it was the wrong task"}
    logbook.correct_entry(
        session, actor=actor, corrected_id=old.id, course=COURSE, now=later(hours=2),
        **(fields | more),
    )  # fmt: skip
    session.flush()


def test_a_correction_takes_the_place_and_the_old_entry_stays(
    database: Database, cast: Cast
) -> None:
    old, new = an_entry(cast), an_entry(cast, stage=PracticeStage.OBSERVED)
    with database.writing() as session:
        write(session, cast.shop.trainee, old)
        logbook.confirm_entry(session, actor=cast.shop.supervisor, entry_id=old.id, now=NOW)
        session.flush()
        for _ in range(2):
            correct(session, cast.shop.trainee, old, new)
        rows = {row.id: row for row in entries_of(session, cast.shop.shop_id, old.person_id)}
        assert set(rows) == {old.id, new.id}
        assert not rows[old.id].counts
        assert rows[new.id].counts
        assert rows[new.id].reason == "it was the wrong task"
        assert rows[new.id].confirmed_at is None, "a corrected entry is confirmed anew"
        assert [row.id for row in waiting_entries(session, cast.shop.shop_id)] == [new.id]


def test_an_entry_is_corrected_once_and_with_a_reason(database: Database, cast: Cast) -> None:
    old = an_entry(cast)
    with database.writing() as session:
        write(session, cast.shop.trainee, old)
        with pytest.raises(NoReason):
            correct(session, cast.shop.trainee, old, an_entry(cast), reason="")
        correct(session, cast.shop.trainee, old, an_entry(cast))
        with pytest.raises(AlreadyCorrected):
            correct(session, cast.shop.trainee, old, an_entry(cast))


def test_an_entry_taken_back_counts_for_nothing_and_stays_on_record(
    database: Database, cast: Cast
) -> None:
    old = an_entry(cast)
    with database.writing() as session:
        write(session, cast.shop.trainee, old)
        logbook.correct_entry(
            session, actor=cast.shop.supervisor, corrected_id=old.id, new=None, new_id=uuid4(),
            reason="entered twice", course=COURSE, now=later(hours=1),
        )  # fmt: skip
        session.flush()
        rows = entries_of(session, cast.shop.shop_id, old.person_id)
        assert len(rows) == 2
        assert not any(row.counts for row in rows)
        assert waiting_entries(session, cast.shop.shop_id) == []
