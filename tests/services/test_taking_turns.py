"""Two devices that do the same thing at the same moment."""

from __future__ import annotations

import threading
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from uuid import UUID, uuid4

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from academy.domain.curriculum.course import Course
from academy.domain.people import Role
from academy.services import people, quiz
from academy.services.journal import check_journal
from academy.services.people import InvitationUsed
from academy.store.database import Database
from academy.store.tables.practicals import PracticalStep
from academy.store.tables.study import Sitting
from tests.support.cast import Cast, password_hash
from tests.support.clock import NOW
from tests.support.journey import PanelSession
from tests.support.panel_work import bodies


def at_once(
    database: Database, first: Callable[[Session], object], second: Callable[[Session], object]
) -> list[object]:
    """Do the first, let the second begin before it is kept, and return what both said.

    What was raised stands in the place of what would have been said.
    """
    begun = threading.Event()

    def other() -> object:
        begun.set()
        with database.writing() as session:
            return second(session)

    with ThreadPoolExecutor(1) as pool:
        with database.writing() as session:
            said = first(session)
            session.flush()
            waiting = pool.submit(other)
            begun.wait(10)
            threading.Event().wait(0.2)
        return [said, _outcome(waiting)]


def _outcome(waiting: Future[object]) -> object:
    raised = waiting.exception(timeout=30)
    return waiting.result() if raised is None else raised


def test_two_devices_open_one_sitting(database: Database, cast: Cast, course: Course) -> None:
    def opened(session: Session) -> UUID:
        return quiz.open_quiz(
            session, actor=cast.shop.trainee, sitting_id=uuid4(), module=course.modules[0], now=NOW
        )

    on_phone, on_pc = at_once(database, opened, opened)
    assert on_phone == on_pc
    with database.reading() as session:
        assert session.scalar(select(func.count()).select_from(Sitting)) == 1


def test_one_step_of_two_sent_at_once_is_recorded_and_the_other_page_is_stale(
    database: Database, cast: Cast, course: Course
) -> None:
    with database.writing() as session:
        panel = PanelSession(session, cast.shop, course)
        panel.open()
    before, *_ = bodies(course.tasks[0])

    def recorded(session: Session) -> int:
        return PanelSession(session, cast.shop, course, id=panel.id).record(*before, 0)

    first, second = at_once(database, recorded, recorded)
    assert first == 1
    assert type(second).__name__ == "PageIsStale"
    with database.reading() as session:
        assert session.scalar(select(func.count()).select_from(PracticalStep)) == 1


def test_one_record_is_closed_and_signed_once(
    database: Database, cast: Cast, course: Course
) -> None:
    with database.writing() as session:
        panel = PanelSession(session, cast.shop, course)
        panel.open()
        panel.work()

    def closed(session: Session) -> str:
        return PanelSession(session, cast.shop, course, id=panel.id).close().digest

    def signed(session: Session) -> None:
        PanelSession(session, cast.shop, course, id=panel.id).sign()

    first, second = at_once(database, closed, closed)
    assert first == second
    assert [type(said).__name__ for said in at_once(database, signed, signed)] == [
        "NoneType",
        "PracticalIsSigned",
    ]
    with database.reading() as session:
        assert check_journal(session, cast.shop.shop_id).whole


def test_one_of_two_who_hold_a_link_joins(database: Database, cast: Cast) -> None:
    with database.writing() as session:
        token = people.invite_person(
            session, actor=cast.shop.owner, name="Edda", roles=[Role.TRAINEE], now=NOW
        ).token

    def joined(name: str) -> Callable[[Session], object]:
        return lambda session: people.accept_invitation(
            session, token=token, name=name, sign_in_name=name, password_hash=password_hash(),
            now=NOW,
        )  # fmt: skip

    first, second = at_once(database, joined("edda"), joined("voss"))
    assert not isinstance(first, Exception)
    assert isinstance(second, InvitationUsed)
