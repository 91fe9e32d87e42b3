"""Closing and signing a practical, and everything they refuse."""

from __future__ import annotations

import pytest
from sqlalchemy import func, select, update
from sqlalchemy.orm import Session

from academy.domain.curriculum.course import Course
from academy.domain.practical.outcome import Outcome, judged
from academy.domain.practical.refusals import (
    PracticalIsClosed,
    PracticalIsOpen,
    PracticalIsSigned,
    StageNotReached,
)
from academy.domain.practical.stages import PracticalKind, Stage, stages_of
from academy.domain.practical.steps import Judgement, Talk
from academy.services.signing import ProofIsSomebodyElses
from academy.store.database import Database
from academy.store.queries.practicals import stored_practical
from academy.store.tables.people import Membership
from academy.store.tables.practicals import Signature
from tests.support.cast import Cast
from tests.support.clock import NOW, later
from tests.support.course import a_course
from tests.support.journey import PanelSession
from tests.support.panel_work import readings


@pytest.fixture
def course() -> Course:
    return a_course()


def at_the_panel(session: Session, cast: Cast, course: Course) -> PanelSession:
    """Return an open practical of the shop's trainee."""
    opened = PanelSession(session, cast.shop, course)
    opened.open()
    return opened


def count(session: Session, table: type) -> int:
    """Return how many rows a table has."""
    return session.scalar(select(func.count()).select_from(table)) or 0


class TestClosing:
    def test_closing_twice_gives_the_first_record(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            opened = at_the_panel(session, cast, course)
            opened.work()
            first = opened.close(later(minutes=40))
            assert opened.close(later(minutes=50)) == first
            stored = stored_practical(session, cast.shop.shop_id, opened.id)
            assert stored is not None
            assert stored.practical.closed_at == later(minutes=40)

    def test_nothing_is_closed_before_every_stage_is_there(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            opened = at_the_panel(session, cast, course)
            with pytest.raises(StageNotReached, match="Record 'first-look' first"):
                opened.close()

    def test_a_closed_record_is_not_edited(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            opened = at_the_panel(session, cast, course)
            version = opened.work()
            opened.close()
            with pytest.raises(PracticalIsClosed):
                opened.record(Stage.TALK, Talk("better", "nothing"), version)

    def test_the_outcome_is_the_one_the_steps_show(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        unsafe = Judgement({"cord safe": False, "even arm": True, "clean wipe": True})
        deep = readings(["101.0", "109.0"])
        with database.writing() as session:
            for overrides, outcome in (
                ({}, "competent"),
                ({Stage.CRITERIA: unsafe}, "not yet competent"),
                ({Stage.AFTER: deep}, "not yet competent"),
            ):
                done = PanelSession(session, cast.shop, course, PracticalKind.COACHED)
                done.open()
                done.work(dict(overrides))
                assert done.close().record["outcome"] == outcome
                stored = stored_practical(session, cast.shop.shop_id, done.id)
                assert stored is not None
                assert judged(stored.practical, stored.gauge).outcome == Outcome(outcome)


class TestSigning:
    def closed(self, session: Session, cast: Cast, course: Course) -> PanelSession:
        """Return a practical that waits for its signatures."""
        done = at_the_panel(session, cast, course)
        done.work()
        done.close()
        return done

    def test_the_supervisor_signs_and_the_trainee_countersigns(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            done = self.closed(session, cast, course)
            done.sign(later(hours=1))
            done.countersign(later(hours=2))
            stored = stored_practical(session, cast.shop.shop_id, done.id)
            assert stored is not None
            assert stored.record is not None
            assert stored.signed_at == later(hours=1)
            assert [(s.name, s.meaning, s.record_digest) for s in stored.signatures] == [
                (cast.shop.supervisor.name, "assessed", stored.record.digest),
                (cast.shop.trainee.name, "seen and agreed", stored.record.digest),
            ]

    def test_an_open_practical_is_not_signed(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            opened = at_the_panel(session, cast, course)
            opened.work()
            with pytest.raises(PracticalIsOpen):
                opened.sign()
            with pytest.raises(PracticalIsOpen):
                opened.countersign()
            assert count(session, Signature) == 0

    @pytest.mark.parametrize("who", ["trainee", "owner", "second_supervisor"])
    def test_nobody_signs_for_the_supervisor(
        self, database: Database, cast: Cast, course: Course, who: str
    ) -> None:
        with database.writing() as session:
            done = self.closed(session, cast, course)
            with pytest.raises(ProofIsSomebodyElses):
                done.sign(by=getattr(cast.shop, who))
            assert count(session, Signature) == 0

    @pytest.mark.parametrize("who", ["supervisor", "owner", "second_supervisor"])
    def test_nobody_countersigns_for_the_trainee(
        self, database: Database, cast: Cast, course: Course, who: str
    ) -> None:
        with database.writing() as session:
            done = self.closed(session, cast, course)
            with pytest.raises(ProofIsSomebodyElses):
                done.countersign(by=getattr(cast.shop, who))
            assert count(session, Signature) == 0

    def test_a_signed_record_is_never_signed_or_edited_again(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            done = self.closed(session, cast, course)
            version = len(stages_of(done.task))
            done.sign()
            with pytest.raises(PracticalIsSigned):
                done.sign()
            with pytest.raises(PracticalIsClosed):
                done.record(Stage.TALK, Talk("better", "nothing"), version)
            assert count(session, Signature) == 1

    def test_countersigning_twice_changes_nothing(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            done = self.closed(session, cast, course)
            done.countersign()
            done.countersign()
            assert count(session, Signature) == 1

    def test_who_has_left_the_shop_signs_nothing_in_it(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            done = self.closed(session, cast, course)
            session.execute(
                update(Membership)
                .where(
                    Membership.shop_id == cast.shop.shop_id,
                    Membership.person_id == cast.shop.supervisor.person_id,
                )
                .values(left_at=NOW)
            )
            with pytest.raises(ProofIsSomebodyElses):
                done.sign()
