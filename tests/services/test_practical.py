"""A practical at the panel, and everything it refuses."""

from __future__ import annotations

from dataclasses import replace
from uuid import UUID, uuid4

import pytest
from sqlalchemy import func, select
from sqlalchemy.orm import Session

from academy.domain.curriculum.course import Course
from academy.domain.curriculum.kinds import Substrate
from academy.domain.people import NotTheirOwn
from academy.domain.practical.refusals import (
    PracticalIsClosed,
    SacrificialIsForPractice,
    SectionIsRetired,
    SetUpIncomplete,
    StageNotReached,
    WrongSpots,
    WrongSubstrate,
)
from academy.domain.practical.stages import PracticalKind, Stage
from academy.domain.practical.steps import SetUp, Talk
from academy.services import practical, workshop
from academy.services.actor import NotAllowed, NotFound
from academy.services.practical import (
    GaugeNeeded,
    NotATrainee,
    PageIsStale,
)
from academy.store.database import Database
from academy.store.queries.practicals import practicals, stored_practical
from academy.store.queries.workshop import sections
from academy.store.tables.certification import FrozenDocument
from academy.store.tables.practicals import Photograph, PracticalStep
from academy.store.tables.practicals import Practical as PracticalRow
from tests.support.cast import Cast
from tests.support.clock import NOW, later
from tests.support.course import a_course, a_digest, a_task_by_eye
from tests.support.journey import PanelSession, a_signed_practical
from tests.support.panel_work import a_panel, bodies, readings


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


def a_section_on(session: Session, cast: Cast, substrate: Substrate, spots: int = 9) -> UUID:
    """Add a panel to the shop and return its first section."""
    panel_id = workshop.add_panel(
        session, actor=cast.shop.supervisor, panel_id=uuid4(),
        panel=a_panel(label="Another", substrate=substrate, spots=spots), now=NOW,
    )  # fmt: skip
    session.flush()
    return next(s.id for s in sections(session, cast.shop.shop_id) if s.panel_id == panel_id)


class TestOpening:
    def test_the_same_id_sent_twice_opens_one_practical(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        wanted = uuid4()
        for _ in range(2):
            with database.writing() as session:
                assert PanelSession(session, cast.shop, course, id=wanted).open() == wanted
        with database.reading() as session:
            assert count(session, PracticalRow) == 1

    def test_the_task_is_kept_as_it_stood(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            opened = at_the_panel(session, cast, course)
            PanelSession(session, cast.shop, course).open()
        with database.reading() as session:
            stored = stored_practical(session, cast.shop.shop_id, opened.id)
            assert stored is not None
            assert stored.practical.task == course.tasks[0]
            assert count(session, FrozenDocument) == 1

    def test_nobody_assesses_their_own_work(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session, pytest.raises(NotTheirOwn):
            PanelSession(session, cast.shop, course).open(trainee_id=cast.shop.supervisor.person_id)

    @pytest.mark.parametrize("who", ["trainee", "owner"])
    def test_only_a_supervisor_opens_a_practical(
        self, database: Database, cast: Cast, course: Course, who: str
    ) -> None:
        opened_by = replace(cast.shop, supervisor=getattr(cast.shop, who))
        with database.writing() as session, pytest.raises(NotAllowed):
            PanelSession(session, opened_by, course).open()

    def test_the_person_at_the_panel_is_in_training_here(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        others = (cast.shop.owner, cast.shop.second_supervisor, cast.strangers.trainee)
        with database.writing() as session:
            for other in others:
                with pytest.raises(NotATrainee):
                    PanelSession(session, cast.shop, course).open(trainee_id=other.person_id)
            with pytest.raises(NotATrainee):
                PanelSession(session, cast.shop, course).open(trainee_id=uuid4())
            assert count(session, PracticalRow) == 0

    def test_a_supervisor_in_training_is_assessed_by_another_one(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        others_work = replace(cast.shop, supervisor=cast.shop.second_supervisor)
        with database.writing() as session:
            opened = PanelSession(session, others_work, course)
            assert opened.open(trainee_id=cast.shop.supervisor.person_id) == opened.id

    def test_a_section_of_strangers_is_not_found(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            for section_id in (cast.strangers.bench.section_ids[0], uuid4()):
                with pytest.raises(NotFound):
                    PanelSession(session, cast.shop, course).open(section_id=section_id)

    def test_readings_need_a_gauge_of_this_shop(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            for gauge_id in (None, cast.strangers.bench.gauge_id, uuid4()):
                with pytest.raises(GaugeNeeded):
                    PanelSession(session, cast.shop, course).open(gauge_id=gauge_id)

    def test_work_judged_by_eye_needs_no_gauge_and_keeps_none(
        self, database: Database, cast: Cast
    ) -> None:
        by_eye = a_course(tasks=(a_task_by_eye(),))
        with database.writing() as session:
            for gauge_id in (None, cast.shop.bench.gauge_id):
                opened = PanelSession(session, cast.shop, by_eye)
                opened.open(gauge_id=gauge_id)
                stored = stored_practical(session, cast.shop.shop_id, opened.id)
                assert stored is not None
                assert stored.gauge_id is None

    def test_a_panel_of_another_metal_or_with_too_few_spots_is_refused(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            plastic = a_section_on(session, cast, Substrate.PLASTIC)
            small = a_section_on(session, cast, Substrate.STEEL, spots=1)
            with pytest.raises(WrongSubstrate, match="not done on plastic"):
                PanelSession(session, cast.shop, course).open(section_id=plastic)
            with pytest.raises(WrongSpots):
                PanelSession(session, cast.shop, course).open(section_id=small)

    def test_a_section_whose_budget_is_used_is_retired(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        deep = {Stage.AFTER: readings(["101.5", "109.9"])}
        with database.writing() as session:
            coached = PracticalKind.COACHED
            a_signed_practical(session, cast.shop, course, overrides=dict(deep), kind=coached)
            with pytest.raises(SectionIsRetired, match="Bonnet 3, 1 is retired"):
                PanelSession(session, cast.shop, course).open()
            other = cast.shop.bench.section_ids[1]
            PanelSession(session, cast.shop, course).open(section_id=other)

    def test_a_sacrificial_panel_is_for_coached_practice(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            panel_id = workshop.add_panel(
                session, actor=cast.shop.supervisor, panel_id=uuid4(),
                panel=a_panel(label="Scrap", sacrificial=True), now=NOW,
            )  # fmt: skip
            session.flush()
            scrap = next(
                s.id for s in sections(session, cast.shop.shop_id) if s.panel_id == panel_id
            )
            with pytest.raises(SacrificialIsForPractice):
                PanelSession(session, cast.shop, course).open(section_id=scrap)
            coached = PanelSession(session, cast.shop, course, kind=PracticalKind.COACHED)
            coached.open(section_id=scrap)


class TestRecording:
    def test_a_step_sent_twice_is_recorded_once(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        step_id = uuid4()
        with database.writing() as session:
            opened = at_the_panel(session, cast, course)
            (stage, body), *_ = bodies(course.tasks[0])
            for _ in range(2):
                assert opened.record(stage, body, 0, step_id=step_id) == 1
            assert count(session, PracticalStep) == 1

    def test_a_page_that_shows_fewer_steps_is_stale(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            opened = at_the_panel(session, cast, course)
            (before, taken), (set_up, checks), *_ = bodies(course.tasks[0])
            opened.record(before, taken, 0)
            for stage, body in ((before, taken), (set_up, checks)):
                with pytest.raises(PageIsStale):
                    opened.record(stage, body, 0)
            with pytest.raises(PageIsStale):
                opened.record(set_up, checks, 2)
            assert count(session, PracticalStep) == 1

    def test_a_refused_step_leaves_no_trace(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            opened = at_the_panel(session, cast, course)
            look, gauge_seen, before, *_ = bodies(course.tasks[0])
            for version, good in enumerate((look, gauge_seen, before)):
                opened.record(*good, version)
            with pytest.raises(SetUpIncomplete, match="goggles on"):
                opened.record(Stage.SET_UP, SetUp(()), 3)
            with pytest.raises(StageNotReached):
                opened.record(Stage.TALK, Talk("good", "slower"), 3)
            assert count(session, PracticalStep) == 3

    @pytest.mark.parametrize(
        ("who", "refusal"),
        [
            ("second_supervisor", NotAllowed),
            ("trainee", NotAllowed),
            ("owner", NotAllowed),
        ],
    )
    def test_only_the_supervisor_at_the_panel_records(
        self, database: Database, cast: Cast, course: Course, who: str, refusal: type[Exception]
    ) -> None:
        with database.writing() as session:
            opened = at_the_panel(session, cast, course)
            before, *_ = bodies(course.tasks[0])
            with pytest.raises(refusal):
                opened.record(*before, 0, actor=getattr(cast.shop, who))

    def test_a_strangers_practical_is_not_found(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            theirs = PanelSession(session, cast.strangers, course)
            theirs.open()
            theirs.work()
            mine = PanelSession(session, cast.shop, course, id=theirs.id)
            before, *_ = bodies(course.tasks[0])
            with pytest.raises(NotFound):
                mine.record(*before, 7)
            with pytest.raises(NotFound):
                mine.close()
            theirs.close()
            with pytest.raises(NotFound):
                mine.sign()
            with pytest.raises(NotFound):
                mine.countersign()
            assert stored_practical(session, cast.shop.shop_id, theirs.id) is None
            assert list(practicals(session, cast.shop.shop_id)) == []

    def test_a_photograph_is_added_once_and_only_while_it_is_open(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        photograph_id = uuid4()
        with database.writing() as session:
            opened = at_the_panel(session, cast, course)

            def add(new_id: UUID) -> None:
                practical.add_photograph(
                    session, actor=cast.shop.supervisor, practical_id=opened.id,
                    photograph_id=new_id, digest=a_digest("picture"), caption="the haze", now=NOW,
                )  # fmt: skip
                session.flush()

            add(photograph_id)
            add(photograph_id)
            assert count(session, Photograph) == 1
            opened.work()
            assert opened.close().record["photographs"] == [a_digest("picture")]
            with pytest.raises(PracticalIsClosed):
                add(uuid4())


def test_a_shops_practicals_are_listed_newest_first_with_names_and_outcome(
    database: Database, cast: Cast, course: Course
) -> None:
    with database.writing() as session:
        old = a_signed_practical(session, cast.shop, course, later(days=-2))
        new = PanelSession(session, cast.shop, course, PracticalKind.COACHED)
        new.open(later(days=-1))
    with database.reading() as session:
        first, second = practicals(session, cast.shop.shop_id)
        assert (first.id, second.id) == (new.id, old.id)
        assert (first.outcome, second.outcome) == (None, "competent")
        assert (first.kind, second.kind) == (PracticalKind.COACHED, PracticalKind.ASSESSED)
        assert second.trainee_name == cast.shop.trainee.name
        assert second.supervisor_name == cast.shop.supervisor.name
        assert second.section_name == "Bonnet 3, 1"
        own = practicals(session, cast.shop.shop_id, cast.shop.trainee.person_id)
        assert [row.id for row in own] == [new.id, old.id]
        assert not practicals(session, cast.shop.shop_id, cast.shop.owner.person_id)
