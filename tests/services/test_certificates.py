"""Deciding, withdrawing, holding back and checking a return: who may, and what is then true."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from typing import Any
from uuid import UUID, uuid4

import pytest
from sqlalchemy import select
from sqlalchemy.orm import Session

from academy.domain.certification import Status, StatusWord
from academy.domain.certification.deciding import (
    NotTheirOwnCertificate,
    RoleDoesNotDecide,
    TrainerDoesNotDecide,
)
from academy.domain.curriculum.course import Course
from academy.domain.curriculum.kinds import Supervision
from academy.domain.curriculum.schemes import DecisionRule
from academy.domain.people import Role
from academy.domain.sentences import TradeError
from academy.services.actor import Actor, NotAllowed, NotFound
from academy.services.board import board
from academy.services.certificates import (
    NewDecision,
    NothingToDecide,
    NothingToWithdraw,
    SayWhy,
    certificate,
    decide,
    withdraw,
)
from academy.services.journal import check_journal
from academy.services.restrictions import (
    AloneHoldsNobodyBack,
    NewRestriction,
    NewReturnCheck,
    NobodyMeant,
    ReviewInThePast,
    check_return,
    lift_restriction,
    restrict,
)
from academy.services.schemes_in_force import schemes_on
from academy.services.signing import ProofIsSomebodyElses
from academy.services.standing import person_on, standings_today
from academy.store.database import Database
from academy.store.queries.evidence import standing_rows
from academy.store.tables.journal import JournalEntry
from tests.support.cast import Cast, proof_of
from tests.support.certificates import a_decided_scheme
from tests.support.clock import later
from tests.support.course import a_course
from tests.support.journey import a_signed_practical, sit

ON_SITE, ALONE = Supervision.ON_SITE, Supervision.ALONE
DECIDED = later(days=4)


@pytest.fixture
def course() -> Course:
    return a_course(schemes=(a_decided_scheme(),))


@pytest.fixture
def shown(database: Database, cast: Cast, course: Course) -> Database:
    """Return a database in which the trainee has shown everything for 'alone'."""
    with database.writing() as session:
        sit(session, cast.shop.trainee, course)
        for day in range(3):
            a_signed_practical(session, cast.shop, course, later(days=day))
    return database


def today(session: Session, cast: Cast, course: Course, at: datetime = DECIDED) -> Status:
    """Return the trainee's status by the rows, which always equal a full recomputation."""
    shop_id, person_id = cast.shop.shop_id, cast.shop.trainee.person_id
    known = standings_today(
        session, shop_id=shop_id, person_id=person_id, course=course,
        rows=standing_rows(session, shop_id, person_id), now=at,
    )["polishing"]  # fmt: skip
    (scheme,) = schemes_on(session, shop_id, course, at.date())
    assert known == person_on(session, shop_id, person_id, course, at.date()).under(scheme)
    return known


def grant(
    session: Session,
    cast: Cast,
    course: Course,
    *,
    actor: Actor | None = None,
    at: datetime = DECIDED,
    **fields: Any,
) -> UUID:
    """Let the owner give the trainee 'alone', or what is asked instead."""
    decider = actor or cast.shop.owner
    new = replace(
        NewDecision(uuid4(), cast.shop.trainee.person_id, "polishing", ALONE, grant=True),
        **fields,
    )
    decided = decide(
        session, actor=decider, new=new, proof=proof_of(decider), course=course, now=at
    )
    session.flush()
    return decided


def hold(session: Session, cast: Cast, course: Course, **fields: Any) -> UUID:
    new = replace(
        NewRestriction(
            uuid4(), cast.shop.trainee.person_id, "polishing", Supervision.BESIDE,
            "two lifted edges this week", later(days=30).date(),
        ),
        **fields,
    )  # fmt: skip
    restrict(
        session, actor=cast.shop.owner, new=new, proof=proof_of(cast.shop.owner), course=course,
        now=later(days=5),
    )  # fmt: skip
    session.flush()
    return new.id


def test_evidence_waits_for_a_decision_and_the_decision_gives_the_level(
    shown: Database, cast: Cast, course: Course
) -> None:
    with shown.writing() as session:
        before = today(session, cast, course)
        assert (before.word, before.level) == (StatusWord.READY, Supervision.BESIDE)
        grant(session, cast, course)
        after = today(session, cast, course)
        assert (after.word, after.level) == (StatusWord.CERTIFIED, ALONE)
        assert after.valid_until == date(2027, 3, 4)
        assert not after.by_trainer


def test_a_decision_sent_twice_is_one(shown: Database, cast: Cast, course: Course) -> None:
    act = uuid4()
    with shown.writing() as session:
        assert grant(session, cast, course, id=act) == grant(session, cast, course, id=act)
        kinds = session.scalars(
            select(JournalEntry.kind).where(JournalEntry.shop_id == cast.shop.shop_id)
        ).all()
        assert kinds.count("certificate decided") == 1
        assert check_journal(session, cast.shop.shop_id).whole


class TestWhoDecides:
    @pytest.mark.parametrize(
        ("who", "rule", "refused"),
        [
            ("owner", DecisionRule(ON_SITE), None),
            ("supervisor", DecisionRule(ON_SITE), RoleDoesNotDecide),
            ("second_supervisor", DecisionRule(ON_SITE, (Role.SUPERVISOR,)), None),
            ("supervisor", DecisionRule(ON_SITE, (Role.SUPERVISOR,)), None),
            (
                "supervisor",
                DecisionRule(ON_SITE, (Role.SUPERVISOR,), trainer_may_decide=False),
                TrainerDoesNotDecide,
            ),
            (
                "second_supervisor",
                DecisionRule(ON_SITE, (Role.SUPERVISOR,), trainer_may_decide=False),
                None,
            ),
            ("trainee", DecisionRule(ON_SITE), NotAllowed),
        ],
    )
    def test_the_scheme_says_who(
        self,
        database: Database,
        cast: Cast,
        who: str,
        rule: DecisionRule,
        refused: type[TradeError] | None,
    ) -> None:
        course = a_course(schemes=(a_decided_scheme(decision=rule),))
        with database.writing() as session:
            sit(session, cast.shop.trainee, course)
            a_signed_practical(session, cast.shop, course)
            actor = getattr(cast.shop, who)
            if refused is None:
                grant(session, cast, course, actor=actor, level=ON_SITE)
                known = today(session, cast, course)
                assert known.level is ON_SITE
                assert known.by_trainer == (who == "supervisor")
                return
            with pytest.raises(refused):
                grant(session, cast, course, actor=actor, level=ON_SITE)

    def test_nobody_decides_on_themselves(self, database: Database, cast: Cast) -> None:
        course = a_course(
            schemes=(a_decided_scheme(decision=DecisionRule(ON_SITE, (Role.SUPERVISOR,))),)
        )
        with database.writing() as session, pytest.raises(NotTheirOwnCertificate):
            grant(
                session, cast, course, actor=cast.shop.supervisor,
                person_id=cast.shop.supervisor.person_id,
            )  # fmt: skip

    def test_another_s_password_does_not_sign(
        self, shown: Database, cast: Cast, course: Course
    ) -> None:
        new = NewDecision(uuid4(), cast.shop.trainee.person_id, "polishing", ALONE, grant=True)
        with shown.writing() as session, pytest.raises(ProofIsSomebodyElses):
            decide(
                session, actor=cast.shop.owner, new=new, proof=proof_of(cast.shop.supervisor),
                course=course, now=DECIDED,
            )  # fmt: skip

    def test_somebody_of_another_shop_is_not_found(
        self, shown: Database, cast: Cast, course: Course
    ) -> None:
        with shown.writing() as session, pytest.raises(NotFound):
            grant(session, cast, course, actor=cast.strangers.owner)


class TestWhatIsDecided:
    def test_nothing_is_given_without_the_evidence(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            sit(session, cast.shop.trainee, course)
            a_signed_practical(session, cast.shop, course)
            with pytest.raises(NothingToDecide):
                grant(session, cast, course)
            grant(session, cast, course, level=ON_SITE)
            with pytest.raises(NothingToDecide):
                grant(session, cast, course, level=ON_SITE)

    def test_against_needs_a_reason_and_waits_for_more(
        self, shown: Database, cast: Cast, course: Course
    ) -> None:
        with shown.writing() as session:
            with pytest.raises(SayWhy):
                grant(session, cast, course, grant=False)
            grant(session, cast, course, grant=False, reason="rushes the last pass")
            assert today(session, cast, course).ready_for is None
            a_signed_practical(session, cast.shop, course, later(days=6))
            assert today(session, cast, course, later(days=7)).ready_for is ALONE

    def test_the_journal_holds_no_reason(self, shown: Database, cast: Cast, course: Course) -> None:
        with shown.writing() as session:
            grant(session, cast, course, grant=False, reason="rushes the last pass")
            bodies = session.scalars(
                select(JournalEntry.body).where(JournalEntry.shop_id == cast.shop.shop_id)
            )
            assert all("rushes" not in str(body) for body in bodies)

    def test_a_certificate_says_who_trained_assessed_and_decided(
        self, shown: Database, cast: Cast, course: Course
    ) -> None:
        with shown.writing() as session:
            issued = grant(session, cast, course)
            found = certificate(session, actor=cast.shop.trainee, decision_id=issued)
            assert found.holder == cast.shop.trainee.name
            assert (found.trained_by, found.assessed_by) == ((), (cast.shop.supervisor.name,))
            assert found.row.decided_by_name == cast.shop.owner.name
            assert found.last_assessed_on == date(2026, 3, 4)
            for stranger in (cast.strangers.owner, cast.strangers.trainee):
                with pytest.raises(NotFound):
                    certificate(session, actor=stranger, decision_id=issued)

    def test_another_trainee_does_not_read_it(
        self, shown: Database, cast: Cast, course: Course
    ) -> None:
        with shown.writing() as session:
            issued = grant(session, cast, course)
            other = replace(cast.shop.trainee, person_id=uuid4())
            with pytest.raises(NotFound):
                certificate(session, actor=other, decision_id=issued)


class TestTakenBack:
    def test_a_withdrawn_certificate_needs_new_evidence_and_a_new_decision(
        self, shown: Database, cast: Cast, course: Course
    ) -> None:
        with shown.writing() as session:
            with pytest.raises(NothingToWithdraw):
                self.take_back(session, cast, course, "left unsafe twice")
            grant(session, cast, course)
            with pytest.raises(SayWhy):
                self.take_back(session, cast, course, "")
            self.take_back(session, cast, course, "left unsafe twice")
            known = today(session, cast, course, later(days=5))
            assert (known.word, known.level) == (StatusWord.WITHDRAWN, Supervision.NOT_YET)
            a_signed_practical(session, cast.shop, course, later(days=6))
            grant(session, cast, course, level=ON_SITE, at=later(days=7))
            assert today(session, cast, course, later(days=7)).level is ON_SITE

    @staticmethod
    def take_back(session: Session, cast: Cast, course: Course, reason: str) -> None:
        withdraw(
            session, actor=cast.shop.owner, withdrawal_id=uuid4(),
            person_id=cast.shop.trainee.person_id, scheme_id="polishing", reason=reason,
            proof=proof_of(cast.shop.owner), course=course, now=later(days=5),
        )  # fmt: skip
        session.flush()


class TestHeldBack:
    @pytest.fixture
    def certified(self, shown: Database, cast: Cast, course: Course) -> Database:
        with shown.writing() as session:
            grant(session, cast, course)
        return shown

    @pytest.mark.parametrize(
        ("person", "scheme"), [(True, "polishing"), (True, None), (False, "polishing")]
    )
    def test_a_person_or_a_kind_of_work_is_held_until_it_is_lifted(
        self, certified: Database, cast: Cast, course: Course, person: bool, scheme: str | None
    ) -> None:
        who = cast.shop.trainee.person_id if person else None
        with certified.writing() as session:
            held = hold(session, cast, course, person_id=who, scheme_id=scheme)
            known = today(session, cast, course, later(days=40))
            assert (known.word, known.level) == (StatusWord.CERTIFIED, Supervision.BESIDE)
            owner = cast.shop.owner
            lift_restriction(
                session, actor=owner, restriction_id=held, proof=proof_of(owner), course=course,
                now=later(days=41),
            )  # fmt: skip
            assert today(session, cast, course, later(days=41)).level is ALONE

    @pytest.mark.parametrize(
        ("fields", "refused"),
        [
            ({"person_id": None, "scheme_id": None}, NobodyMeant),
            ({"level": ALONE}, AloneHoldsNobodyBack),
            ({"reason": ""}, SayWhy),
            ({"review_on": later(days=5).date()}, ReviewInThePast),
            ({"person_id": UUID(int=1)}, NotFound),
            ({"scheme_id": "gilding"}, NotFound),
        ],
    )
    def test_what_makes_no_sense_is_refused(
        self, certified: Database, cast: Cast, course: Course, fields: dict[str, Any],
        refused: type[TradeError],
    ) -> None:  # fmt: skip
        with certified.writing() as session, pytest.raises(refused):
            hold(session, cast, course, **fields)

    def test_only_the_owner_holds_back_and_only_in_their_shop(
        self, certified: Database, cast: Cast, course: Course
    ) -> None:
        with certified.writing() as session:
            held = hold(session, cast, course)
            for actor, refused in (
                (cast.shop.supervisor, NotAllowed),
                (cast.strangers.owner, NotFound),
            ):
                with pytest.raises(refused):
                    lift_restriction(
                        session, actor=actor, restriction_id=held, proof=proof_of(actor),
                        course=course, now=later(days=6),
                    )  # fmt: skip

    def test_who_was_away_for_long_comes_back_by_a_return_check(
        self, certified: Database, cast: Cast, course: Course
    ) -> None:
        back = later(days=200)
        with certified.writing() as session:
            assert today(session, cast, course, back).level is Supervision.BESIDE
            check_return(
                session, actor=cast.shop.owner, proof=proof_of(cast.shop.owner), course=course,
                new=NewReturnCheck(
                    uuid4(), cast.shop.trainee.person_id, "polishing", "one door, calm and flat"
                ),
                now=back,
            )  # fmt: skip
            assert today(session, cast, course, back).level is ALONE


def test_the_board_shows_it_in_one_place(shown: Database, cast: Cast, course: Course) -> None:
    with shown.writing() as session:
        grant(session, cast, course)
        lines = board(session, actor=cast.shop.supervisor, course=course, now=DECIDED).lines
        by_name = {line.person.name: line.standings[0].level for line in lines}
        assert by_name[cast.shop.trainee.name] is ALONE
