"""What people do at the academy, in plain calls: sit a quiz, work at a panel, sign."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID, uuid4

from sqlalchemy.orm import Session

from academy.domain.assessment.forms import Form
from academy.domain.assessment.frozen import drawn_form_from_frozen
from academy.domain.assessment.key import right_response
from academy.domain.assessment.results import SittingResult
from academy.domain.curriculum.course import Course, Module
from academy.domain.curriculum.tasks import PracticalTask
from academy.domain.practical.stages import PracticalKind, Stage
from academy.domain.practical.steps import Readings, StepBody
from academy.services import closing, practical, quiz, signing, sitting
from academy.services.actor import Actor
from academy.store.queries.practicals import StoredRecord
from academy.store.tables.study import Sitting
from tests.support.cast import ShopPeople, proof_of
from tests.support.clock import NOW
from tests.support.morning import verify_for_the_day
from tests.support.panel_work import bodies


def form_of(session: Session, shop_id: UUID, sitting_id: UUID) -> Form:
    """Return the form a sitting was drawn."""
    session.flush()
    stored = session.get_one(Sitting, (shop_id, sitting_id))
    return drawn_form_from_frozen(stored.form).form


def give(
    session: Session,
    actor: Actor,
    sitting_id: UUID,
    question_id: str,
    response: dict[str, Any],
    at: datetime = NOW,
) -> UUID:
    """Save one answer and return its id."""
    answer_id = uuid4()
    sitting.save_answer(
        session, actor=actor, sitting_id=sitting_id, answer_id=answer_id,
        question_id=question_id, response=response, now=at,
    )  # fmt: skip
    session.flush()
    return answer_id


def sit(
    session: Session,
    actor: Actor,
    course: Course,
    at: datetime = NOW,
    *,
    module: Module | None = None,
    wrong: Collection[str] = (),
) -> SittingResult:
    """Sit the quiz of a module, of the course's first one unless told otherwise.

    Every question is answered right but those of the objectives in ``wrong``.
    """
    sitting_id = quiz.open_quiz(
        session, actor=actor, sitting_id=uuid4(), module=module or course.modules[0], now=at
    )
    for item in form_of(session, actor.shop_id, sitting_id).questions:
        missed = item.question.objective_id in wrong
        response = {"chosen": 2} if missed else right_response(item.question)
        give(session, actor, sitting_id, item.question.id, response, at)
    result = sitting.submit_sitting(
        session, actor=actor, sitting_id=sitting_id, course=course, now=at
    )
    session.flush()
    return result


@dataclass(frozen=True, slots=True)
class PanelSession:
    """One practical at a shop's panel, from opening to signing."""

    session: Session
    people: ShopPeople
    course: Course
    kind: PracticalKind = PracticalKind.ASSESSED
    id: UUID = field(default_factory=uuid4)

    @property
    def task(self) -> PracticalTask:
        """Return the course's first task."""
        return self.course.tasks[0]

    def new(self, **overrides: Any) -> practical.NewPractical:
        """Return what is chosen before the first reading."""
        fields: dict[str, Any] = {
            "id": self.id,
            "trainee_id": self.people.trainee.person_id,
            "section_id": self.people.bench.section_ids[0],
            "gauge_id": self.people.bench.gauge_id,
            "kind": self.kind,
        }
        return practical.NewPractical(**(fields | overrides))

    def open(self, at: datetime = NOW, **overrides: Any) -> UUID:
        """Open it and return its id."""
        opened = practical.open_practical(
            self.session, actor=self.people.supervisor, new=self.new(**overrides),
            task=self.task, now=at,
        )  # fmt: skip
        self.session.flush()
        return opened

    def record(
        self, stage: Stage, body: StepBody, seen_version: int, at: datetime = NOW, **more: Any
    ) -> int:
        """Record one step and return the version after it; readings begin with a verified gauge."""
        if isinstance(body, Readings):
            verify_for_the_day(self.session, self.people, at)
        fields: dict[str, Any] = {"actor": self.people.supervisor, "step_id": uuid4()}
        grown = practical.record_step(
            self.session, practical_id=self.id, stage=stage, body=body,
            seen_version=seen_version, now=at, **(fields | more),
        )  # fmt: skip
        self.session.flush()
        return grown.version

    def work(self, overrides: dict[Stage, StepBody] | None = None, at: datetime = NOW) -> int:
        """Record every stage and return the version after the last."""
        version = 0
        for stage, body in bodies(self.task, overrides):
            version = self.record(stage, body, version, at)
        return version

    def close(self, at: datetime = NOW) -> StoredRecord:
        """Close it at the panel."""
        frozen = closing.close_practical(
            self.session, actor=self.people.supervisor, practical_id=self.id, now=at
        )
        self.session.flush()
        return frozen

    def sign(self, at: datetime = NOW, *, by: Actor | None = None, **more: Any) -> None:
        """Sign it as its supervisor, or as somebody else who proved their password."""
        signing.sign_practical(
            self.session, actor=self.people.supervisor, practical_id=self.id,
            proof=proof_of(by or self.people.supervisor), course=self.course, now=at, **more,
        )  # fmt: skip
        self.session.flush()

    def countersign(self, at: datetime = NOW, *, by: Actor | None = None, **more: Any) -> None:
        """Countersign it as its trainee, on the supervisor's device."""
        signing.countersign_practical(
            self.session, actor=self.people.supervisor, practical_id=self.id,
            proof=proof_of(by or self.people.trainee), now=at, **more,
        )  # fmt: skip
        self.session.flush()


def a_signed_practical(
    session: Session,
    people: ShopPeople,
    course: Course,
    at: datetime = NOW,
    overrides: dict[Stage, StepBody] | None = None,
    **fields: Any,
) -> PanelSession:
    """Return a practical that went all the way; every stage is a good one unless told otherwise."""
    at_panel = PanelSession(session, people, course, **fields)
    at_panel.open(at)
    at_panel.work(overrides, at)
    at_panel.close(at + timedelta(minutes=40))
    at_panel.sign(at + timedelta(hours=3))
    return at_panel
