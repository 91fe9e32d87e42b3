"""The standing rows and the board: always what a full recomputation gives."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from random import Random
from uuid import UUID

import pytest
from sqlalchemy.orm import Session

from academy.domain.certification import Register, Status, status
from academy.domain.curriculum.course import Course
from academy.domain.curriculum.kinds import Supervision
from academy.domain.curriculum.schemes import Requirement
from academy.domain.practical.stages import Help, PracticalKind, Stage
from academy.domain.practical.steps import Judgement, StepBody
from academy.services.actor import NotAllowed, NotFound
from academy.services.board import board, cell_evidence
from academy.services.schemes_in_force import adopt, schemes_on
from academy.services.standing import person_on, standings_today
from academy.store.database import Database
from academy.store.queries.evidence import StandingOfPerson, signed_practicals, standing_rows
from tests.support.cast import Cast
from tests.support.clock import NOW, later
from tests.support.course import a_course, a_digest, a_scheme
from tests.support.evidence import evidence_on
from tests.support.journey import PanelSession, a_signed_practical, sit
from tests.support.panel_work import a_working_step

FAILED: dict[Stage, StepBody] = {
    Stage.CRITERIA: Judgement({"cord safe": False, "even arm": True, "clean wipe": True})
}
TAKEN_OVER: dict[Stage, StepBody] = {Stage.WORKING: a_working_step(help_given=Help.TOOK_OVER)}


def level(database: Database, cast: Cast, course: Course, at: datetime = NOW) -> Supervision:
    """Return the trainee's level on the board of that day."""
    with database.reading() as session:
        shown = board(session, actor=cast.shop.owner, course=course, now=at)
        line = next(
            line for line in shown.lines if line.person.person_id == cast.shop.trainee.person_id
        )
        return line.standings[0].level


def recomputed(
    session: Session, shop_id: UUID, person_id: UUID, course: Course, on: date
) -> dict[str, Status]:
    """Return every standing from the evidence alone."""
    found = person_on(session, shop_id, person_id, course, on)
    return {scheme.id: found.under(scheme) for scheme in schemes_on(session, shop_id, course, on)}


def rows_of(session: Session, cast: Cast) -> list[StandingOfPerson]:
    return list(standing_rows(session, cast.shop.shop_id, cast.shop.trainee.person_id))


def test_the_rows_equal_a_full_recomputation_after_any_history(
    database: Database, cast: Cast, chance: Random
) -> None:
    course = a_course(
        schemes=(
            a_scheme(),
            a_scheme(
                "inspecting",
                requirements=(Requirement(Supervision.BESIDE, ("safety",), {"polish a section": 2}),),
                digest=a_digest("inspecting"),
            ),
        )
    )  # fmt: skip
    trainee = cast.shop.trainee
    histories: list[dict[Stage, StepBody]] = [{}, {}, {}, FAILED, TAKEN_OVER]
    for day in range(1, 9):
        at = later(days=day)
        with database.writing() as session:
            if day == 3:
                sit(session, trainee, course, at, wrong=("cord",))
            elif day == 5:
                sit(session, trainee, course, at)
            else:
                a_signed_practical(
                    session, cast.shop, course, at, chance.choice(histories),
                    kind=chance.choice([*PracticalKind, PracticalKind.ASSESSED]),
                )  # fmt: skip
        with database.reading() as session:
            rows = rows_of(session, cast)
            shown = standings_today(
                session, shop_id=trainee.shop_id, person_id=trainee.person_id, course=course,
                rows=rows, now=at,
            )  # fmt: skip
            expected = recomputed(session, trainee.shop_id, trainee.person_id, course, at.date())
            assert shown == expected
            assert {row.scheme_id: row.level for row in rows} == {
                name: known.level for name, known in expected.items()
            }


class TestWhatCounts:
    @pytest.fixture
    def passed(self, database: Database, cast: Cast, course: Course) -> Database:
        """Return a database in which the trainee has passed the quiz."""
        with database.writing() as session:
            sit(session, cast.shop.trainee, course)
        return database

    @pytest.mark.parametrize(
        ("overrides", "kind", "expected"),
        [
            ({}, PracticalKind.ASSESSED, Supervision.ON_SITE),
            ({}, PracticalKind.COACHED, Supervision.BESIDE),
            (TAKEN_OVER, PracticalKind.ASSESSED, Supervision.BESIDE),
            (FAILED, PracticalKind.ASSESSED, Supervision.BESIDE),
        ],
        ids=["assessed and competent", "coached", "taken over", "not yet competent"],
    )
    def test_only_assessed_work_done_alone_and_judged_competent(
        self,
        passed: Database,
        cast: Cast,
        course: Course,
        overrides: dict[Stage, StepBody],
        kind: PracticalKind,
        expected: Supervision,
    ) -> None:
        with passed.writing() as session:
            a_signed_practical(session, cast.shop, course, overrides=overrides, kind=kind)
        assert level(passed, cast, course) is expected

    def test_a_practical_counts_when_it_is_signed_and_not_when_it_is_closed(
        self, passed: Database, cast: Cast, course: Course
    ) -> None:
        with passed.writing() as session:
            done = PanelSession(session, cast.shop, course)
            done.open()
            done.work()
            done.close()
            waiting = done.id
            known = evidence_on(session, cast.shop.shop_id, cast.shop.trainee.person_id, NOW.date())
            assert known.practicals == ()
        assert level(passed, cast, course) is Supervision.BESIDE
        with passed.writing() as session:
            PanelSession(session, cast.shop, course, id=waiting).sign()
        assert level(passed, cast, course) is Supervision.ON_SITE

    def test_the_term_runs_from_the_day_at_the_panel(
        self, passed: Database, cast: Cast, course: Course
    ) -> None:
        with passed.writing() as session:
            done = PanelSession(session, cast.shop, course)
            done.open()
            done.work()
            done.close(NOW)
            done.sign(later(days=9), late_reason="the trainee was away")
        assert level(passed, cast, course, datetime(2027, 3, 2, 23, tzinfo=NOW.tzinfo)) is (
            Supervision.ON_SITE
        )
        assert level(passed, cast, course, datetime(2027, 3, 3, 0, tzinfo=NOW.tzinfo)) is (
            Supervision.BESIDE
        )

    def test_what_was_done_in_another_shop_counts_there(
        self, passed: Database, cast: Cast, course: Course
    ) -> None:
        with passed.writing() as session:
            sit(session, cast.strangers.trainee, course)
            a_signed_practical(session, cast.strangers, course)
        assert level(passed, cast, course) is Supervision.BESIDE


class TestTheBoard:
    def test_it_shows_everybody_in_training_and_nobody_else(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.reading() as session:
            shown = board(session, actor=cast.shop.supervisor, course=course, now=NOW)
        names = [line.person.name for line in shown.lines]
        assert names == sorted([cast.shop.supervisor.name, cast.shop.trainee.name])

    def test_somebody_without_any_evidence_is_not_yet_and_sees_what_is_missing(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.reading() as session:
            shown = board(session, actor=cast.shop.owner, course=course, now=NOW)
            (today,) = shown.lines[0].standings
            assert today == status(
                course.schemes[0],
                evidence_on(session, cast.shop.shop_id, UUID(int=1), NOW.date()),
                Register(),
                NOW.date(),
            )

    def test_a_trainee_does_not_open_it(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.reading() as session:
            with pytest.raises(NotAllowed):
                board(session, actor=cast.shop.trainee, course=course, now=NOW)
            with pytest.raises(NotAllowed):
                cell_evidence(
                    session, actor=cast.shop.trainee, person_id=cast.shop.trainee.person_id,
                    scheme_id="polishing", course=course, now=NOW,
                )  # fmt: skip

    def test_a_changed_scheme_waits_until_the_owner_adopts_it(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        """The shop works by the version it began with; a new file alone lowers nobody."""
        with database.writing() as session:
            sit(session, cast.shop.trainee, course)
            a_signed_practical(session, cast.shop, course)
        assert level(database, cast, course) is Supervision.ON_SITE
        stricter = replace(
            course.schemes[0],
            version=2,
            digest=a_digest("stricter"),
            requirements=(
                course.schemes[0].requirements[0],
                Requirement(Supervision.ON_SITE, (), {"polish a section": 2}),
            ),
        )
        changed = replace(course, schemes=(stricter,))
        assert level(database, cast, changed) is Supervision.ON_SITE
        with database.writing() as session:
            adopt(session, cast.shop.shop_id, stricter, later(days=9).date(), None, later(days=1))
        assert level(database, cast, changed, later(days=8)) is Supervision.ON_SITE
        assert level(database, cast, changed, later(days=9)) is Supervision.BESIDE

    def test_a_cell_shows_the_evidence_it_rests_on(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            sit(session, cast.shop.trainee, course)
            counted = a_signed_practical(session, cast.shop, course)
            a_signed_practical(session, cast.shop, course, kind=PracticalKind.COACHED)
        with database.reading() as session:
            cell = cell_evidence(
                session, actor=cast.shop.owner, person_id=cast.shop.trainee.person_id,
                scheme_id="polishing", course=course, now=NOW,
            )  # fmt: skip
            assert [row.practical_id for row in cell.practicals] == [counted.id]
            assert cell.today.level is Supervision.ON_SITE
            assert cell.evidence.modules_passed == {"safety": NOW.date()}
            everything = signed_practicals(session, cast.shop.shop_id, cast.shop.trainee.person_id)
            assert len(everything) == 2

    def test_a_cell_of_strangers_or_of_no_scheme_is_not_found(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.reading() as session:
            for person, scheme in (
                (cast.strangers.trainee, "polishing"),
                (cast.shop.trainee, "sanding"),
            ):
                with pytest.raises(NotFound):
                    cell_evidence(
                        session, actor=cast.shop.owner, person_id=person.person_id,
                        scheme_id=scheme, course=course, now=NOW,
                    )  # fmt: skip
