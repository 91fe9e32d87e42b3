"""New supervisors judge the reference panels blind before they assess."""

from __future__ import annotations

from dataclasses import replace
from uuid import UUID, uuid4

import pytest
from sqlalchemy import update
from sqlalchemy.orm import Session

from academy.domain.curriculum.course import Course
from academy.domain.practical.reference_panels import (
    AgreedAlone,
    JudgedThisRound,
    MayAssess,
    ReferencesFirst,
    ReferencesLeft,
    TooFarFromReferences,
    TooSoonAgain,
)
from academy.domain.practical.second_judgement import AnswerMissing
from academy.domain.practical.stages import PracticalKind
from academy.services import references as service
from academy.services.actor import Actor, NotAllowed, NotFound
from academy.services.reteaching import NotASupervisor
from academy.store.database import Database
from academy.store.tables.judgement import ReferencePanel
from academy.store.tables.people import Membership
from tests.support.cast import Cast
from tests.support.clock import NOW, later
from tests.support.course import a_course
from tests.support.journey import PanelSession, a_signed_practical

AGREED = {"cord safe": True, "even arm": False}


@pytest.fixture
def course() -> Course:
    return a_course()


@pytest.fixture
def shop(database: Database, cast: Cast) -> Cast:
    """Return the cast with the second supervisor joining a week after the first."""
    with database.writing() as session:
        session.execute(
            update(Membership)
            .where(Membership.person_id == cast.shop.second_supervisor.person_id)
            .values(joined_at=later(days=7))
        )
    return cast


def keep(
    session: Session, cast: Cast, course: Course, by: tuple[Actor, ...] = (), label: str = "Bonnet"
) -> UUID:
    """Keep a reference panel; the owner writes down what the first supervisor and somebody agreed."""
    agreed_by = by or (cast.shop.supervisor, cast.shop.second_supervisor)
    new = service.NewReference(
        uuid4(), cast.shop.bench.section_ids[0], label, AGREED, [a.person_id for a in agreed_by]
    )
    kept = service.add_reference(
        session, actor=cast.shop.owner, new=new, task=course.tasks[0], now=later(days=8)
    )
    session.flush()
    return kept


def judge(
    session: Session, who: Actor, reference_id: UUID, met: dict[str, bool], days: int = 9
) -> None:
    service.judge_reference(
        session, actor=who, judgement_id=uuid4(), reference_id=reference_id, met=met,
        now=later(days=days),
    )  # fmt: skip
    session.flush()


def standing(session: Session, who: Actor) -> object:
    return service.own_references(session, who.shop_id, who.person_id).standing


def open_one(session: Session, cast: Cast, course: Course, kind: PracticalKind) -> None:
    people = replace(cast.shop, supervisor=cast.shop.second_supervisor)
    PanelSession(session, people, course, kind).open(later(days=9))


def kept_by_one(session: Session, cast: Cast, course: Course, label: str = "Bonnet") -> UUID:
    """Keep a panel on which only the first supervisor agreed, as in a shop that had one."""
    reference_id = keep(session, cast, course, label=label)
    row = session.get_one(ReferencePanel, (cast.shop.shop_id, reference_id))
    row.agreed_by = [str(cast.shop.supervisor.person_id)]
    session.flush()
    return reference_id


def test_a_shop_without_reference_panels_works(
    database: Database, shop: Cast, course: Course
) -> None:
    with database.writing() as session:
        open_one(session, shop, course, PracticalKind.ASSESSED)
        found = standing(session, shop.shop.second_supervisor)
        assert found == MayAssess("this shop keeps no reference panels")


def test_a_new_supervisor_coaches_but_assesses_only_after_the_panels(
    database: Database, shop: Cast, course: Course
) -> None:
    greta = shop.shop.second_supervisor
    with database.writing() as session:
        one, other = (kept_by_one(session, shop, course, label) for label in ("A", "B"))
        assert standing(session, shop.shop.supervisor) == MayAssess("the shop's first supervisor")
        open_one(session, shop, course, PracticalKind.COACHED)
        with pytest.raises(ReferencesFirst, match="2 of 2 are left"):
            open_one(session, shop, course, PracticalKind.ASSESSED)
        judge(session, greta, one, AGREED)
        assert standing(session, greta) == ReferencesLeft(1, 2)
        judge(session, greta, other, AGREED)
        assert isinstance(standing(session, greta), MayAssess)
        open_one(session, shop, course, PracticalKind.ASSESSED)


def test_too_far_from_what_was_agreed_is_judged_again_two_weeks_later(
    database: Database, shop: Cast, course: Course
) -> None:
    greta = shop.shop.second_supervisor
    with database.writing() as session:
        one = kept_by_one(session, shop, course)
        judge(session, greta, one, {"cord safe": False, "even arm": False})
        found = standing(session, greta)
        assert isinstance(found, TooFarFromReferences)
        assert (found.same, found.n, found.critical) == (1, 2, 1)
        with pytest.raises(ReferencesFirst, match="1 of 2 criteria"):
            open_one(session, shop, course, PracticalKind.ASSESSED)
        with pytest.raises(TooSoonAgain):
            judge(session, greta, one, AGREED, days=10)
        judge(session, greta, one, AGREED, days=24)
        assert isinstance(standing(session, greta), MayAssess)
        with pytest.raises(JudgedThisRound):
            judge(session, greta, one, AGREED, days=60)


def test_who_assessed_before_the_panels_were_kept_goes_on(
    database: Database, shop: Cast, course: Course
) -> None:
    with database.writing() as session:
        people = replace(shop.shop, supervisor=shop.shop.second_supervisor)
        a_signed_practical(session, people, course, later(days=7))
        kept_by_one(session, shop, course)
        found = standing(session, shop.shop.second_supervisor)
        assert found == MayAssess("assessed here before there were reference panels")


def test_what_is_refused(database: Database, shop: Cast, course: Course) -> None:
    people = shop.shop
    with database.writing() as session:
        for by, refusal in (
            ((people.supervisor,), AgreedAlone),
            ((people.supervisor, people.trainee), NotASupervisor),
        ):
            with pytest.raises(refusal):
                keep(session, shop, course, by)
        one = kept_by_one(session, shop, course)
        for who, met, wrong in (
            (people.trainee, AGREED, NotAllowed),
            (people.owner, AGREED, NotAllowed),
            (shop.strangers.supervisor, AGREED, NotFound),
            (people.second_supervisor, {"cord safe": True}, AnswerMissing),
        ):
            with pytest.raises(wrong):
                judge(session, who, one, met)
        judge(session, people.second_supervisor, one, AGREED)


def test_a_retired_panel_is_asked_of_nobody(database: Database, shop: Cast, course: Course) -> None:
    with database.writing() as session:
        one = kept_by_one(session, shop, course)
        service.retire_reference(session, actor=shop.shop.owner, reference_id=one, now=NOW)
        session.flush()
        assert isinstance(standing(session, shop.shop.second_supervisor), MayAssess)
        with pytest.raises(NotFound):
            service.retire_reference(session, actor=shop.strangers.owner, reference_id=one, now=NOW)
