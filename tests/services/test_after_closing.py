"""What follows a closed record: the desk, late signatures, objections, amendments, plans, second judgements."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from random import Random
from typing import Any
from uuid import UUID, uuid4

import pytest
from sqlalchemy import func, select
from sqlalchemy.orm import Session

from academy.domain.curriculum.course import Course
from academy.domain.curriculum.kinds import Supervision
from academy.domain.practical.amendments import (
    NothingAmended,
    NotYoursToAmend,
    ReasonForAmendment,
    RecordHasChanged,
)
from academy.domain.practical.counting import ObjectionState
from academy.domain.practical.objections import (
    AlreadyAgreed,
    AlreadyObjected,
    InvolvedInIt,
    NotYourRecord,
    ObjectionIsDecided,
)
from academy.domain.practical.reteaching import NoNextDrill, ReteachFirst
from academy.domain.practical.second_judgement import (
    Answer,
    AnswerMissing,
    JudgedAgainAlready,
    NotBlind,
    drawn,
)
from academy.domain.practical.signatures import AbsentWithoutReason, LateWithoutReason, Presence
from academy.domain.practical.stages import PracticalKind, Stage
from academy.domain.practical.steps import Judgement, Talk
from academy.services import amending, closing, objections, reteaching, second_judgement
from academy.services.actor import Actor, NotAllowed, NotFound
from academy.services.board import board
from academy.services.journal import check_journal
from academy.services.practical_record import unchanged
from academy.services.signing import NothingChosen, ProofIsSomebodyElses, Shown, sign_at_desk
from academy.store.database import Database
from academy.store.queries import judgement as queries
from academy.store.queries.evidence import signed_practicals
from academy.store.queries.practicals import StoredPractical, practicals, stored_practical
from academy.store.queries.reteaching import plans
from academy.store.tables.journal import JournalEntry
from academy.store.tables.practicals import Signature
from tests.support.cast import Cast, proof_of
from tests.support.clock import NOW, later
from tests.support.course import a_course
from tests.support.journey import PanelSession, a_signed_practical, sit
from tests.support.panel_work import CHANGE_NEXT, WENT_WELL, all_met

UNSAFE = Judgement({"cord safe": False, "even arm": True, "clean wipe": True})
DRAWN = next(str(n) for n in range(1000) if drawn(Random(str(n))))
NOT_DRAWN = next(str(n) for n in range(1000) if not drawn(Random(str(n))))
TALK = Talk(WENT_WELL, CHANGE_NEXT)


@pytest.fixture
def course() -> Course:
    return a_course()


def closed(
    session: Session, cast: Cast, course: Course, at: datetime = NOW, **more: Any
) -> PanelSession:
    """Return a practical that waits for its signatures."""
    overrides = more.pop("overrides", None)
    done = PanelSession(session, cast.shop, course, **more)
    done.open(at)
    done.work(overrides, at)
    done.close(at)
    return done


def stored(done: PanelSession) -> StoredPractical:
    found = stored_practical(done.session, done.people.shop_id, done.id)
    assert found is not None
    return found


def digest(done: PanelSession) -> str:
    record = stored(done).record
    assert record is not None
    return record.digest


def level(session: Session, cast: Cast, course: Course, at: datetime = NOW) -> Supervision:
    session.flush()
    lines = board(session, actor=cast.shop.owner, course=course, now=at).lines
    line = next(one for one in lines if one.person.person_id == cast.shop.trainee.person_id)
    return line.standings[0].level


def kinds(session: Session, cast: Cast) -> list[str]:
    return list(
        session.scalars(
            select(JournalEntry.kind)
            .where(JournalEntry.shop_id == cast.shop.shop_id)
            .order_by(JournalEntry.number)
        )
    )


class TestClosing:
    def test_whether_the_trainee_was_there_is_in_the_record(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            done = PanelSession(session, cast.shop, course)
            done.open()
            done.work()

            def close(presence: Presence) -> Any:
                return closing.close_practical(
                    session, actor=cast.shop.supervisor, practical_id=done.id, now=NOW,
                    presence=presence,
                )  # fmt: skip

            with pytest.raises(AbsentWithoutReason):
                close(Presence(present=False, reason=" "))
            record = close(Presence(present=False, reason="called to the telephone"))
            session.flush()
            assert record.record["trainee_present"] is False
            assert "telephone" not in str(record.record)
            (row,) = queries.records_of(session, cast.shop.shop_id, done.id)
            assert (row.trainee_present, row.absence_reason) == (False, "called to the telephone")

    def test_the_talk_names_one_of_the_tasks_drills(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            done = PanelSession(session, cast.shop, course)
            done.open()
            version = done.work()
            with pytest.raises(NoNextDrill):
                done.record(Stage.TALK, TALK, version, drills=("flat-pad",))
            said = Talk(WENT_WELL, CHANGE_NEXT, "flat-pad")
            done.record(Stage.TALK, said, version, drills=("flat-pad",))
            assert stored(done).practical.talk == said


class TestTheDesk:
    def test_several_records_are_signed_with_one_proof_and_each_is_in_the_journal(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            both = [closed(session, cast, course) for _ in range(2)]
            shown = [Shown(done.id, digest(done)) for done in both]

            def sign(who: Actor) -> int:
                return sign_at_desk(
                    session, actor=who, shown=shown, proof=proof_of(who), course=course,
                    now=later(hours=1),
                )  # fmt: skip

            assert sign(cast.shop.supervisor) == 2
            assert sign(cast.shop.trainee) == 2
            assert sign(cast.shop.supervisor) == 0  # sent again: answered, not doubled
            assert kinds(session, cast).count("practical signed") == 4
            assert check_journal(session, cast.shop.shop_id).whole

    def test_all_or_none(self, database: Database, cast: Cast, course: Course) -> None:
        with database.writing() as session:
            one, other = closed(session, cast, course), closed(session, cast, course)
        with pytest.raises(RecordHasChanged), database.writing() as session:
            sign_at_desk(
                session, actor=cast.shop.supervisor, proof=proof_of(cast.shop.supervisor),
                shown=[Shown(one.id, _digest(session, cast, one)), Shown(other.id, "0" * 64)],
                course=course, now=NOW,
            )  # fmt: skip
        with database.reading() as session:
            assert session.scalar(select(func.count()).select_from(Signature)) == 0

    def test_nothing_ticked_and_nobody_elses(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            done = closed(session, cast, course)
            for shown, who, refusal in (
                ([], cast.shop.supervisor, NothingChosen),
                ([Shown(done.id, digest(done))], cast.shop.owner, ProofIsSomebodyElses),
                ([Shown(done.id, digest(done))], cast.shop.second_supervisor, ProofIsSomebodyElses),
            ):
                with pytest.raises(refusal):
                    sign_at_desk(
                        session, actor=who, shown=shown, proof=proof_of(who), course=course, now=NOW
                    )

    def test_another_shops_record_is_not_there(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            done = closed(session, cast, course)
            stranger = cast.strangers.supervisor
            with pytest.raises(NotFound):
                sign_at_desk(
                    session, actor=stranger, shown=[Shown(done.id, digest(done))],
                    proof=proof_of(stranger), course=course, now=NOW,
                )  # fmt: skip

    def test_late_with_a_reason_that_stays_and_that_the_journal_does_not_hold(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            done = closed(session, cast, course)
            tomorrow = later(days=1)
            with pytest.raises(LateWithoutReason, match="closed on 2026-03-02"):
                done.sign(tomorrow)
            done.sign(tomorrow, late_reason="the trainee fell ill at noon")
            (signature,) = stored(done).signatures
            assert signature.late_reason == "the trainee fell ill at noon"
            entry = session.scalars(
                select(JournalEntry).where(JournalEntry.kind == "practical signed")
            ).one()
            assert len(entry.body["late"]) == 64
            assert "ill" not in str(entry.body)


class TestObjections:
    def object(self, done: PanelSession, course: Course, by: Actor, at: datetime = NOW) -> UUID:
        objection_id = uuid4()
        objections.raise_objection(
            done.session, actor=by, objection_id=objection_id, practical_id=done.id,
            reason="the hose was over my shoulder", course=course, now=at,
        )  # fmt: skip
        done.session.flush()
        return objection_id

    def decide(
        self, done: PanelSession, course: Course, objection_id: UUID, by: Actor, how: ObjectionState
    ) -> None:
        objections.decide_objection(
            done.session, actor=by, objection_id=objection_id, decision=how,
            why="the photograph shows it", course=course, now=later(hours=5),
        )  # fmt: skip
        done.session.flush()

    @pytest.mark.parametrize(
        ("how", "reached"),
        [
            (ObjectionState.NOT_UPHELD, Supervision.ON_SITE),
            (ObjectionState.SET_ASIDE, Supervision.BESIDE),
            (ObjectionState.TO_BE_AMENDED, Supervision.BESIDE),
        ],
    )
    def test_while_it_is_open_it_is_no_evidence_and_the_decision_says_what_it_is(
        self,
        database: Database,
        cast: Cast,
        course: Course,
        how: ObjectionState,
        reached: Supervision,
    ) -> None:
        with database.writing() as session:
            sit(session, cast.shop.trainee, course)
            done = a_signed_practical(session, cast.shop, course)
            assert level(session, cast, course) is Supervision.ON_SITE
            objection_id = self.object(done, course, cast.shop.trainee)
            assert level(session, cast, course) is Supervision.BESIDE
            self.decide(done, course, objection_id, cast.shop.second_supervisor, how)
            assert level(session, cast, course) is reached
            (row,) = queries.objections(session, cast.shop.shop_id, practical_id=done.id)
            assert (row.state, row.decision) == (how, "the photograph shows it")
            assert row.decided_by_name == cast.shop.second_supervisor.name

    def test_an_upheld_record_counts_again_once_it_is_amended_and_signed(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            sit(session, cast.shop.trainee, course)
            done = closed(session, cast, course, overrides={Stage.CRITERIA: UNSAFE})
            done.sign()
            objection_id = self.object(done, course, cast.shop.trainee)
            amend = ObjectionState.TO_BE_AMENDED
            self.decide(done, course, objection_id, cast.shop.owner, amend)
            _amend(done, cast.shop.supervisor, all_met(done.task))
            assert level(session, cast, course) is Supervision.BESIDE
            done.sign(later(hours=6))
            assert level(session, cast, course) is Supervision.ON_SITE

    def test_who_objects_and_when(self, database: Database, cast: Cast, course: Course) -> None:
        with database.writing() as session:
            done = closed(session, cast, course)
            for who in (cast.shop.supervisor, cast.shop.owner, cast.shop.second_supervisor):
                with pytest.raises(NotYourRecord):
                    self.object(done, course, who)
            with pytest.raises(NotFound):
                self.object(done, course, cast.strangers.trainee)
            self.object(done, course, cast.shop.trainee)
            with pytest.raises(AlreadyObjected):
                self.object(done, course, cast.shop.trainee)
            agreed = closed(session, cast, course)
            agreed.countersign()
            with pytest.raises(AlreadyAgreed):
                self.object(agreed, course, cast.shop.trainee)

    def test_nobody_who_taught_or_assessed_decides(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            done = closed(session, cast, course)
            objection_id = self.object(done, course, cast.shop.trainee)
            stands = ObjectionState.NOT_UPHELD
            with pytest.raises(InvolvedInIt):
                self.decide(done, course, objection_id, cast.shop.supervisor, stands)
            with pytest.raises(NotAllowed):
                self.decide(done, course, objection_id, cast.shop.trainee, stands)
            with pytest.raises(NotFound):
                self.decide(done, course, objection_id, cast.strangers.owner, stands)
            coached(session, cast, course, NOW, by=cast.shop.second_supervisor)
            with pytest.raises(InvolvedInIt):
                self.decide(done, course, objection_id, cast.shop.second_supervisor, stands)
            # one supervisor or none left: the owner
            self.decide(done, course, objection_id, cast.shop.owner, stands)
            with pytest.raises(ObjectionIsDecided):
                self.decide(done, course, objection_id, cast.shop.owner, stands)
            assert kinds(session, cast)[-2:] == ["practical closed", "objection decided"]

    def test_an_objection_sent_twice_is_kept_once(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            done = closed(session, cast, course)
            objection_id = self.object(done, course, cast.shop.trainee)
            objections.raise_objection(
                session, actor=cast.shop.trainee, objection_id=objection_id, practical_id=done.id,
                reason="again", course=course, now=NOW,
            )  # fmt: skip
            assert len(queries.objections(session, cast.shop.shop_id)) == 1


class TestAmendments:
    def test_it_supersedes_once_it_is_signed_and_both_stay_readable(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            sit(session, cast.shop.trainee, course)
            done = a_signed_practical(session, cast.shop, course)
            done.countersign(later(hours=3))
            first = stored(done).record
            assert first is not None
            _amend(done, cast.shop.supervisor, UNSAFE)
            second = stored(done).record
            assert second is not None
            assert second.record["supersedes"] == first.digest
            assert second.record["outcome"] == "not yet competent"
            assert unchanged(second)
            assert "wrong box" not in str(second.record)
            # not signed yet: the record before it stands
            assert level(session, cast, course) is Supervision.ON_SITE
            assert stored(done).signatures == ()
            done.sign(later(hours=5))
            done.countersign(later(hours=5))
            assert level(session, cast, course) is Supervision.BESIDE
            old, new = queries.records_of(session, cast.shop.shop_id, done.id)
            assert (old.digest, new.digest) == (first.digest, second.digest)
            assert [len(row.signatures) for row in (old, new)] == [2, 2]
            assert (new.amended_by_name, new.amendment_reason) == (
                cast.shop.supervisor.name,
                "I ticked the wrong box",
            )
            (evidence,) = signed_practicals(session, cast.shop.shop_id, cast.shop.trainee.person_id)
            assert evidence.digest == second.digest
            assert [row.id for row in practicals(session, cast.shop.shop_id)] == [done.id]
            assert check_journal(session, cast.shop.shop_id).whole

    def test_sent_twice_it_amends_once(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            done = closed(session, cast, course)
            new = _new(done, UNSAFE)
            for _ in range(2):
                amending.amend_practical(
                    session, actor=cast.shop.supervisor, practical_id=done.id, new=new, now=NOW
                )
                session.flush()
            assert len(queries.records_of(session, cast.shop.shop_id, done.id)) == 2

    def test_what_is_refused(self, database: Database, cast: Cast, course: Course) -> None:
        with database.writing() as session:
            done = closed(session, cast, course)
            for who, change, refusal in (
                (cast.shop.second_supervisor, {}, NotYoursToAmend),
                (cast.shop.owner, {}, NotYoursToAmend),
                (cast.shop.trainee, {}, NotAllowed),
                (cast.strangers.supervisor, {}, NotFound),
                (cast.shop.supervisor, {"reason": " "}, ReasonForAmendment),
                (cast.shop.supervisor, {"digest": "0" * 64}, RecordHasChanged),
                (cast.shop.supervisor, {"judgement": all_met(done.task)}, NothingAmended),
            ):
                with pytest.raises(refusal):
                    amending.amend_practical(
                        session, actor=who, practical_id=done.id, now=NOW,
                        new=_new(done, UNSAFE, **change),
                    )  # fmt: skip
            assert len(queries.records_of(session, cast.shop.shop_id, done.id)) == 1

    def test_a_page_that_shows_the_record_before_signs_nothing(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            done = closed(session, cast, course)
            shown = Shown(done.id, digest(done))
            _amend(done, cast.shop.supervisor, UNSAFE)
            with pytest.raises(RecordHasChanged):
                sign_at_desk(
                    session, actor=cast.shop.trainee, shown=[shown], course=course, now=NOW,
                    proof=proof_of(cast.shop.trainee),
                )  # fmt: skip


class TestReteaching:
    def test_not_yet_competent_is_taught_again_before_it_is_assessed_again(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            closed(session, cast, course, overrides={Stage.CRITERIA: UNSAFE})
            (plan,) = plans(session, cast.shop.shop_id, cast.shop.trainee.person_id)
            assert plan.objective == "Cord safe all through"
            assert plan.responsible_name == cast.shop.supervisor.name
            assert plan.due_on == later(days=14).date()
            with pytest.raises(ReteachFirst, match="Open this one as coached"):
                PanelSession(session, cast.shop, course).open(later(days=1))
            coached(session, cast, course, later(days=1))
            PanelSession(session, cast.shop, course).open(later(days=1))
            assert plans(session, cast.shop.shop_id)[0].coached_at == later(days=1)

    def test_competent_or_coached_opens_no_plan(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            closed(session, cast, course)
            closed(
                session, cast, course, kind=PracticalKind.COACHED,
                overrides={Stage.CRITERIA: UNSAFE},
            )  # fmt: skip
            assert not plans(session, cast.shop.shop_id)

    def test_an_amendment_to_competent_ends_the_plan_and_one_to_not_yet_opens_it(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            done = closed(session, cast, course, overrides={Stage.CRITERIA: UNSAFE})
            _amend(done, cast.shop.supervisor, all_met(done.task))
            assert not plans(session, cast.shop.shop_id)
            other = closed(session, cast, course)
            _amend(other, cast.shop.supervisor, UNSAFE)
            other.sign(later(hours=1))
            assert [plan.practical_id for plan in plans(session, cast.shop.shop_id)] == [other.id]

    def test_who_changes_a_plan_and_to_what(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            done = closed(session, cast, course, overrides={Stage.CRITERIA: UNSAFE})
            greta = cast.shop.second_supervisor

            def change(who: Actor, responsible: Actor, days: int = 3) -> None:
                reteaching.change_plan(
                    session, actor=who, practical_id=done.id, now=NOW,
                    change=reteaching.PlanChange(
                        "keep the cord up", "cord", responsible.person_id, later(days=days).date()
                    ),
                )  # fmt: skip
                session.flush()

            change(cast.shop.supervisor, greta)
            (plan,) = plans(session, cast.shop.shop_id)
            assert (plan.responsible_name, plan.due_on) == (greta.name, later(days=3).date())
            for who, responsible, days, refusal in (
                (cast.shop.trainee, greta, 3, NotAllowed),
                (cast.strangers.supervisor, greta, 3, NotFound),
                (cast.shop.supervisor, cast.shop.trainee, 3, reteaching.NotASupervisor),
                (cast.shop.supervisor, greta, -1, reteaching.DayHasPassed),
            ):
                with pytest.raises(refusal):
                    change(who, responsible, days)


class TestSecondJudgements:
    def drawn(self, session: Session, cast: Cast, course: Course) -> UUID:
        done = closed(session, cast, course)
        done.sign(seed=DRAWN)
        (row,) = queries.second_judgements(session, cast.shop.shop_id, practical_id=done.id)
        return row.id

    def judge(
        self,
        session: Session,
        judgement_id: UUID,
        by: Actor,
        answers: dict[str, Answer] | None = None,
    ) -> None:
        second_judgement.judge_again(
            session, actor=by, judgement_id=judgement_id, now=later(hours=6),
            answers=answers
            or {"cord safe": Answer.CANNOT_SEE, "even arm": Answer.MET, "clean wipe": Answer.NOT_MET},
        )  # fmt: skip
        session.flush()

    def test_the_draw_is_recorded_with_its_seed_whichever_way_it_went(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            for seed in (DRAWN, NOT_DRAWN):
                closed(session, cast, course).sign(seed=seed)
            draws = [
                entry.body["draw"]
                for entry in session.scalars(
                    select(JournalEntry)
                    .where(JournalEntry.kind == "practical signed")
                    .order_by(JournalEntry.number)
                )
            ]
            assert draws == [
                {"seed": DRAWN, "one_in": 10, "drawn": True},
                {"seed": NOT_DRAWN, "one_in": 10, "drawn": False},
            ]
            assert len(queries.second_judgements(session, cast.shop.shop_id)) == 1

    def test_coached_work_is_not_drawn(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            closed(session, cast, course, kind=PracticalKind.COACHED).sign(seed=DRAWN)
            assert not queries.second_judgements(session, cast.shop.shop_id)

    def test_nobody_judges_again_who_was_there_or_has_looked(
        self, database: Database, cast: Cast, course: Course
    ) -> None:
        with database.writing() as session:
            judgement_id = self.drawn(session, cast, course)
            (row,) = queries.second_judgements(session, cast.shop.shop_id)
            with pytest.raises(NotBlind):
                self.judge(session, judgement_id, cast.shop.supervisor)
            with pytest.raises(NotFound):
                self.judge(session, judgement_id, cast.strangers.owner)
            second_judgement.see_first_judgement(
                session, actor=cast.shop.second_supervisor, practical_id=row.practical_id, now=NOW
            )
            with pytest.raises(NotBlind):
                self.judge(session, judgement_id, cast.shop.second_supervisor)
            with pytest.raises(AnswerMissing):
                self.judge(session, judgement_id, cast.shop.owner, {"even arm": Answer.MET})
            self.judge(session, judgement_id, cast.shop.owner)
            self.judge(session, judgement_id, cast.shop.owner)  # sent again
            (row,) = queries.second_judgements(session, cast.shop.shop_id)
            assert row.judged_by_name == cast.shop.owner.name
            assert row.answers == {
                "cord safe": "cannot be seen from the record",
                "even arm": "met",
                "clean wipe": "not met",
            }

    def test_it_is_judged_again_once(self, database: Database, cast: Cast, course: Course) -> None:
        with database.writing() as session:
            judgement_id = self.drawn(session, cast, course)
            self.judge(session, judgement_id, cast.shop.owner)
            with pytest.raises(JudgedAgainAlready):
                self.judge(session, judgement_id, cast.shop.second_supervisor)


def coached(
    session: Session, cast: Cast, course: Course, at: datetime, by: Actor | None = None
) -> None:
    """Let a coached practical be done and closed, with either supervisor."""
    people = replace(cast.shop, supervisor=by) if by else cast.shop
    done = PanelSession(session, people, course, PracticalKind.COACHED)
    done.open(at)
    done.work(None, at)
    done.close(at)


def _new(done: PanelSession, otherwise: Judgement, **change: Any) -> amending.NewAmendment:
    fields: dict[str, Any] = {
        "id": uuid4(),
        "digest": digest(done),
        "judgement": otherwise,
        "talk": TALK,
        "reason": "I ticked the wrong box",
    }
    return amending.NewAmendment(**(fields | change))


def _amend(done: PanelSession, who: Actor, judgement: Judgement) -> None:
    amending.amend_practical(
        done.session, actor=who, practical_id=done.id, new=_new(done, judgement),
        now=later(hours=4),
    )  # fmt: skip
    done.session.flush()


def _digest(session: Session, cast: Cast, done: PanelSession) -> str:
    found = stored_practical(session, cast.shop.shop_id, done.id)
    assert found is not None
    assert found.record is not None
    return found.record.digest
