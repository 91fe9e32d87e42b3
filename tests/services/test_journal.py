"""The journal: whole after everything, and a changed, cut or reordered row is found."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from sqlalchemy import delete, select, update
from sqlalchemy.orm import Session

from academy.domain.curriculum.course import Course
from academy.keys.digests import canonical
from academy.services import journal, people
from academy.services.journal import check_journal
from academy.store.database import Database
from academy.store.tables.journal import JournalEntry, JournalHead
from tests.support.cast import Cast
from tests.support.clock import NOW, later
from tests.support.journey import a_signed_practical, sit
from tests.support.panel_work import CHANGE_NEXT, SEEN_BY_TRAINEE, WENT_WELL


@pytest.fixture
def busy(database: Database, cast: Cast, course: Course) -> Database:
    """Return a database with a day's work in it."""
    with database.writing() as session:
        sit(session, cast.shop.trainee, course)
        a_signed_practical(session, cast.shop, course).countersign(later(hours=4))
    return database


def entries(session: Session, cast: Cast) -> list[JournalEntry]:
    """Return the shop's entries in order."""
    return list(
        session.scalars(
            select(JournalEntry)
            .where(JournalEntry.shop_id == cast.shop.shop_id)
            .order_by(JournalEntry.number)
        )
    )


def test_it_is_whole_after_a_days_work_and_says_what_happened(busy: Database, cast: Cast) -> None:
    with busy.reading() as session:
        check = check_journal(session, cast.shop.shop_id)
        kinds = [entry.kind for entry in entries(session, cast)]
    assert check.whole
    assert check.entries == len(kinds)
    assert kinds == [
        "shop opened",
        *["person joined"] * 4,
        "sitting submitted",
        *["gauge verified"] * 2,
        "practical closed",
        "practical signed",
        "practical signed",
    ]


def test_its_bytes_hold_no_name_and_no_free_text(busy: Database, cast: Cast) -> None:
    with busy.reading() as session:
        rows: list[Any] = [
            [entry.kind, entry.body, str(entry.actor_id)] for entry in entries(session, cast)
        ]
    written = canonical(rows).decode()
    for text in (*cast.names, WENT_WELL, CHANGE_NEXT, SEEN_BY_TRAINEE, "polishing foam"):
        assert text not in written


def test_an_entry_is_signed_by_whoever_proved_their_password(busy: Database, cast: Cast) -> None:
    """The trainee countersigned on the supervisor's device."""
    with busy.reading() as session:
        *_, signed, countersigned = entries(session, cast)
        assert signed.actor_id == cast.shop.supervisor.person_id
        assert countersigned.actor_id == cast.shop.trainee.person_id
        assert signed.body["record"] == countersigned.body["record"]


def one_of(cast: Cast, number: int) -> Any:
    return (JournalEntry.shop_id == cast.shop.shop_id) & (JournalEntry.number == number)


def _other_body(session: Session, cast: Cast) -> None:
    session.execute(update(JournalEntry).where(one_of(cast, 6)).values(body={"passed": True}))


def _other_actor(session: Session, cast: Cast) -> None:
    other = cast.strangers.owner.person_id
    session.execute(update(JournalEntry).where(one_of(cast, 6)).values(actor_id=other))


def _other_time(session: Session, cast: Cast) -> None:
    session.execute(update(JournalEntry).where(one_of(cast, 6)).values(at=later(seconds=1)))


def _other_kind(session: Session, cast: Cast) -> None:
    session.execute(update(JournalEntry).where(one_of(cast, 6)).values(kind="nothing"))


def _other_previous(session: Session, cast: Cast) -> None:
    session.execute(update(JournalEntry).where(one_of(cast, 6)).values(previous="0" * 64))


def _rehashed(session: Session, cast: Cast) -> None:
    """Change an entry and give it the hash that fits; the next one still tells."""
    changed = session.scalars(select(JournalEntry).where(one_of(cast, 6))).one()
    changed.body = {"passed": True}
    link = journal.Link(
        changed.shop_id, 6, changed.at, changed.actor_id, changed.kind, changed.body,
        changed.previous,
    )  # fmt: skip
    changed.hash = link.hash


def _cut_out(session: Session, cast: Cast) -> None:
    session.execute(delete(JournalEntry).where(one_of(cast, 6)))


def _swapped(session: Session, cast: Cast) -> None:
    for old, new in ((6, 99), (7, 6), (99, 7)):
        session.execute(update(JournalEntry).where(one_of(cast, old)).values(number=new))


def _last_cut_off(session: Session, cast: Cast) -> None:
    session.execute(delete(JournalEntry).where(one_of(cast, 11)))


def _all_cut_off(session: Session, cast: Cast) -> None:
    session.execute(delete(JournalEntry).where(JournalEntry.shop_id == cast.shop.shop_id))


def _head_turned_back(session: Session, cast: Cast) -> None:
    before = entries(session, cast)[9].hash
    session.execute(
        update(JournalHead)
        .where(JournalHead.shop_id == cast.shop.shop_id)
        .values(size=10, head=before)
    )


def _one_slipped_in(session: Session, cast: Cast) -> None:
    last = entries(session, cast)[-1]
    session.add(
        JournalEntry(
            shop_id=last.shop_id, number=12, at=NOW, actor_id=None, kind="nothing", body={},
            previous=last.hash,
            hash=journal.Link(last.shop_id, 12, NOW, None, "nothing", {}, last.hash).hash,
        )
    )  # fmt: skip


@pytest.mark.parametrize(
    ("tamper", "found_at"),
    [
        (_other_body, 6),
        (_other_actor, 6),
        (_other_time, 6),
        (_other_kind, 6),
        (_other_previous, 6),
        (_rehashed, 7),
        (_cut_out, 6),
        (_swapped, 6),
        (_last_cut_off, 11),
        (_all_cut_off, 1),
        (_head_turned_back, 12),
        (_one_slipped_in, 13),
    ],
    ids=lambda given: getattr(given, "__name__", given),
)
def test_whatever_is_tampered_with_is_found(
    busy: Database, cast: Cast, tamper: Callable[[Session, Cast], None], found_at: int
) -> None:
    with busy.writing() as session:
        tamper(session, cast)
    with busy.reading() as session:
        check = check_journal(session, cast.shop.shop_id)
        assert not check.whole
        assert check.broken_at == found_at
        assert check_journal(session, cast.strangers.shop_id).whole


def test_an_entry_of_one_shop_does_not_fit_another(busy: Database, cast: Cast) -> None:
    with busy.reading() as session:
        mine, theirs = entries(session, cast)[0], cast.strangers.shop_id
        moved = journal.Link(theirs, 1, mine.at, None, mine.kind, mine.body, mine.previous)
    assert moved.hash != mine.hash


def test_what_is_rolled_back_leaves_no_entry(database: Database, cast: Cast) -> None:
    def size() -> int:
        with database.reading() as session:
            return check_journal(session, cast.shop.shop_id).entries

    def interrupted() -> None:
        with database.writing() as session:
            people.open_shop(session, name="Never", now=NOW)
            journal.append(
                session, shop_id=cast.shop.shop_id, actor_id=None, kind="nothing", body={}, at=NOW
            )
            raise ConnectionError

    before = size()
    with pytest.raises(ConnectionError):
        interrupted()
    assert size() == before
    with database.reading() as session:
        assert check_journal(session, cast.shop.shop_id).whole
