"""Write ``dumps/<revision>.sql``: a little invented data in the newest schema.

Run it once for each new migration, from the project's folder::

    .venv-test/bin/python -m tests.store.make_dump

The file is SQL that SQLite and PostgreSQL both read: one INSERT a line, parents
before children.  ``test_dumps.py`` loads every dump into the schema of its own
revision, migrates to the newest and reads it through the queries, so an upgrade is
tried on data as an older version wrote it.  Once a revision has been released its
dump is never written again: the program that wrote it no longer exists.
"""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path
from uuid import UUID, uuid4

from sqlalchemy import Boolean, Table, text
from sqlalchemy.orm import Session

from academy.domain.assessment.mending_notes import Mending
from academy.domain.curriculum.course import Course
from academy.domain.curriculum.kinds import Supervision
from academy.domain.metrology.methods import GaugeMethod
from academy.domain.people import Role
from academy.domain.practical.logbook import PracticeStage
from academy.domain.practical.talks import ChangeSeen
from academy.domain.workshop.corrections import Corrected
from academy.services import logbook, people, practical, study, tool_time
from academy.services.certificates import NewDecision, decide, withdraw
from academy.services.change_follow_up import NewLook, say_whether_it_shows
from academy.services.corrections import NewCorrection, correct_entry
from academy.services.doubt import Decision, decide_doubt
from academy.services.gauges import NewFoil, NewVerification, add_foil, verify_gauge
from academy.services.mending import note_mending
from academy.services.rating_round import NewRound, open_round, rate_questions, take_over
from academy.services.restrictions import (
    NewRestriction,
    NewReturnCheck,
    check_return,
    lift_restriction,
    restrict,
)
from academy.store.database import Database, open_database
from academy.store.schema import upgrade
from academy.store.tables import Base
from tests.support.cast import ShopPeople, proof_of, settle
from tests.support.certificates import a_decided_scheme
from tests.support.clock import NOW, later
from tests.support.course import a_course, a_digest
from tests.support.databases import sqlite_url
from tests.support.journey import PanelSession, a_signed_practical, sit

DUMPS = Path(__file__).parent / "dumps"


def main() -> None:
    """Fill a database of the newest schema and write it down."""
    with tempfile.TemporaryDirectory() as folder:
        database = open_database(sqlite_url(Path(folder) / "dump.sqlite3"))
        upgrade(database)
        with database.writing() as session:
            fill(session)
        path = write_dump(database)
        database.close()
    print(f"{path}: {len(path.read_text('utf-8').splitlines())} lines")  # noqa: T201


def fill(session: Session) -> None:
    """Let two shops have a few days behind them, with a row in every table there is a service for."""
    cast, course = settle(session), a_course()
    shop, trainee = cast.shop, cast.shop.trainee
    people.invite_person(session, actor=shop.owner, name="Edda", roles=[Role.TRAINEE], now=NOW)
    people.start_session(session, person_id=trainee.person_id, shop_id=shop.shop_id, now=NOW)
    people.note_failure(session, "mira", NOW)
    study.finish_lesson(
        session, actor=trainee, reading_id=uuid4(), lesson=course.modules[0].lessons[0], now=NOW
    )
    sit(session, trainee, course)
    signed = a_signed_practical(session, shop, course, later(days=1))
    signed.countersign(later(days=1, hours=4))
    still_open = PanelSession(session, shop, course)
    still_open.open(later(days=2))
    practical.add_photograph(
        session, actor=shop.supervisor, practical_id=still_open.id, photograph_id=uuid4(),
        digest=a_digest("picture"), caption="before the first pass", now=later(days=2),
    )  # fmt: skip
    look = NewLook(uuid4(), signed.id, still_open.id, ChangeSeen.NOT_YET)
    say_whether_it_shows(session, actor=shop.supervisor, new=look, now=later(days=2))
    decide_and_hold_back(session, shop)
    keep_a_logbook(session, shop, course)
    rate_again(session, shop, course)
    settle_a_doubt(session, shop, course, signed.id)


def decide_and_hold_back(session: Session, shop: ShopPeople) -> None:
    """Let the owner give a certificate, hold its holder back and withdraw it; then a return check."""
    course, owner = (
        a_course(schemes=(a_decided_scheme(scheme_id="certified polishing"),)),
        shop.owner,
    )
    trainee_id, proof = shop.trainee.person_id, proof_of(owner)
    decision = NewDecision(uuid4(), trainee_id, "certified polishing", Supervision.ON_SITE, True)
    decide(session, actor=owner, new=decision, proof=proof, course=course, now=later(days=2))
    held = NewRestriction(
        uuid4(), trainee_id, None, Supervision.BESIDE, "a sore wrist", later(days=20).date()
    )
    restrict(session, actor=owner, new=held, proof=proof, course=course, now=later(days=2))
    session.flush()
    lift_restriction(
        session, actor=owner, restriction_id=held.id, proof=proof, course=course, now=later(days=3)
    )
    seen = NewReturnCheck(uuid4(), trainee_id, "certified polishing", "one door, calm and flat")
    check_return(session, actor=owner, new=seen, proof=proof, course=course, now=later(days=3))
    withdraw(
        session, actor=owner, withdrawal_id=uuid4(), person_id=trainee_id,
        scheme_id="certified polishing", reason="an exercise", proof=proof, course=course,
        now=later(days=3),
    )  # fmt: skip


def settle_a_doubt(session: Session, shop: ShopPeople, course: Course, practical_id: UUID) -> None:
    """Let the gauge fail after a signed practical, and the owner let its readings stand."""
    foil = NewFoil("Foil 100", Decimal(100), Decimal("0.5"))
    foil_id = add_foil(session, actor=shop.owner, foil_id=uuid4(), foil=foil, now=later(days=4))
    session.flush()
    failed = NewVerification(
        uuid4(), shop.bench.gauge_id, GaugeMethod.MAGNETIC,
        (Decimal(0),) * 3, {foil_id: (Decimal(104),) * 3},
    )  # fmt: skip
    verify_gauge(session, actor=shop.supervisor, new=failed, now=later(days=4))
    session.flush()
    stands = Decision(uuid4(), practical_id, True, "three spots agreed with the old panel")
    decide_doubt(session, actor=shop.owner, decision=stands, course=course, now=later(days=5))
    label = NewCorrection(
        uuid4(), Corrected.FOIL, foil_id, "label", "Foil 100", "Foil 100, red", "two foils alike"
    )
    correct_entry(session, actor=shop.owner, new=label, now=later(days=5))


def rate_again(session: Session, shop: ShopPeople, course: Course) -> None:
    """Let one supervisor rate two questions again, and take one of them off the list to mend."""
    questions, round_id = course.modules[0].questions[:2], uuid4()
    new = NewRound(round_id, course.modules[0].id, questions, [shop.supervisor.person_id])
    open_round(session, actor=shop.owner, new=new, now=later(days=3))
    session.flush()
    ratings = {question.digest: 60 for question in questions}
    rate_questions(
        session, actor=shop.supervisor, round_id=round_id, ratings=ratings, now=later(days=3)
    )
    session.flush()
    take_over(session, actor=shop.owner, round_id=round_id, now=later(days=4))
    note_mending(
        session, actor=shop.owner, note_id=uuid4(), question=questions[0],
        mending=Mending.DISMISSED, reason="read it again: it is right", now=later(days=4),
    )  # fmt: skip


def keep_a_logbook(session: Session, shop: ShopPeople, course: Course) -> None:
    """Enter one piece of practice work, confirmed, with the time at its machine."""
    trainee, day = shop.trainee, later(days=2).date()
    entry = logbook.NewEntry(
        uuid4(), trainee.person_id, course.tasks[0].id, PracticeStage.ASSISTED, day, "a bonnet"
    )
    logbook.write_entry(session, actor=trainee, new=entry, course=course, now=later(days=2))
    session.flush()
    logbook.confirm_entry(
        session, actor=shop.supervisor, entry_id=entry.id, now=later(days=2, hours=1)
    )
    held = tool_time.NewToolTime(uuid4(), trainee.person_id, day, 900, "a polisher", entry.id)
    tool_time.state_tool_time(session, actor=trainee, new=held, now=later(days=2))


def write_dump(database: Database) -> Path:
    """Write every row of a database as SQL and return the file."""
    with database.reading() as session:
        revision = session.scalar(text("SELECT version_num FROM alembic_version"))
        lines = [line for table in Base.metadata.sorted_tables for line in _rows(session, table)]
    DUMPS.mkdir(exist_ok=True)
    path = DUMPS / f"{revision}.sql"
    path.write_text("".join(f"{line}\n" for line in lines), "utf-8")
    return path


def _rows(session: Session, table: Table) -> Iterator[str]:
    """Yield an INSERT for each row, with the values as SQLite holds them."""
    columns = list(table.columns)
    names = ", ".join(column.name for column in columns)
    for row in session.connection().exec_driver_sql(f"SELECT {names} FROM {table.name}"):
        given = {
            column.name: _literal(value, isinstance(column.type, Boolean))
            for value, column in zip(row, columns, strict=True)
            if value is not None
        }
        filled, values = ", ".join(given), ", ".join(given.values())
        yield f"INSERT INTO {table.name} ({filled}) VALUES ({values});"


def _literal(value: object, is_boolean: bool) -> str:
    if is_boolean:
        return "TRUE" if value else "FALSE"
    if isinstance(value, int):
        return str(value)
    assert isinstance(value, str)
    assert "\n" not in value
    return "'" + value.replace("'", "''") + "'"


if __name__ == "__main__":
    main()
