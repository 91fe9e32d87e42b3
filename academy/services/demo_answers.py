"""The demonstration's year of answers, so that the questions can be judged: all invented.

Former trainees who have left the shop sat the quizzes of a few modules.  The
rows are the very ones a real sitting leaves, written in bulk.
"""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from random import Random
from typing import Any
from uuid import UUID, uuid4

from sqlalchemy import Text, bindparam, insert
from sqlalchemy.orm import Session

from academy.domain.assessment.drawing import draw_form
from academy.domain.assessment.forms import Form
from academy.domain.assessment.frozen import DrawnForm, frozen_drawn_form, frozen_result
from academy.domain.assessment.progress import Purpose
from academy.domain.assessment.results import result_of
from academy.domain.curriculum.course import Course, Module
from academy.domain.curriculum.frozen import frozen_question
from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.questions import Question
from academy.domain.people import Role
from academy.keys.digests import canonical
from academy.services.actor import Actor
from academy.services.demo_answering import Answering, Habit, answer, answering
from academy.services.rating_round import NewRound, open_round
from academy.services.sitting_rows import note_submitted
from academy.store.tables.people import Membership, MembershipRole, Person
from academy.store.tables.study import Answer, Sitting, SittingQuestion

PEOPLE = 150
# how many modules' quizzes the former trainees sat, and from which on
MODULES = slice(0, 3)
ASKED_AGAIN = 6
STAYED = timedelta(days=45)
TIME_FOR_ONE = timedelta(seconds=50)
BAD_HABITS = (
    Habit.ABLE_TAKE_ANOTHER,
    Habit.READ_IN_TWO_WAYS,
    Habit.ALWAYS_RIGHT,
    Habit.HARDER_THAN_RATED,
)


@dataclass(frozen=True, slots=True)
class _Trainee:
    person_id: UUID
    ability: float
    joined_at: datetime


@dataclass(frozen=True, slots=True)
class _Sat:
    """One sitting before it is written."""

    id: UUID
    trainee: _Trainee
    module: Module
    form: Form
    seed: int
    opened_at: datetime


@dataclass(frozen=True, slots=True)
class _Rows:
    """What one sitting leaves in the tables."""

    sitting: dict[str, Any]
    questions: list[dict[str, Any]]
    answers: list[dict[str, Any]]


def load_answers(session: Session, *, shop_id: UUID, course: Course, now: datetime) -> None:
    """Let the shop have a year of sittings behind it, by people who have left."""
    chance = Random(20251125)  # the same invented year every time
    trainees = _trainees(session, shop_id, chance, now)
    sat = [
        _drawn(trainee, module, day, chance)
        for trainee in trainees
        for day, module in enumerate(course.modules[MODULES])
    ]
    modules = course.modules[MODULES]
    habits = _habits(modules, sat, chance)
    frozen = {
        question.id: canonical(frozen_question(question)).decode()
        for module in modules
        for question in module.questions
    }
    in_time = sorted(sat, key=lambda one: one.opened_at)
    _write(session, shop_id, [_rows(shop_id, one, habits, frozen, chance) for one in in_time])


def ask_for_ratings(
    session: Session, *, owner: Actor, supervisor: Actor, course: Course, now: datetime
) -> None:
    """Leave a round open in which the supervisor is asked to rate what must be known again."""
    for module in course.modules[:1]:
        must_know = {objective.id for objective in module.must_know}
        asked = [question for question in module.questions if question.objective_id in must_know]
        new = NewRound(uuid4(), module.id, asked[:ASKED_AGAIN], [supervisor.person_id])
        if asked:
            open_round(session, actor=owner, new=new, now=now)


def _trainees(
    session: Session, shop_id: UUID, chance: Random, now: datetime
) -> tuple[_Trainee, ...]:
    made = tuple(
        _Trainee(
            uuid4(),
            chance.gauss(0, 1),
            now - timedelta(days=chance.uniform(90, 365), hours=chance.uniform(0, 8)),
        )
        for _ in range(PEOPLE)
    )
    session.execute(
        insert(Person),
        [
            {
                "id": one.person_id,
                "name": f"Former trainee {number} (invented)",
                "sign_in_name": f"invented-{one.person_id}",
                "created_at": one.joined_at,
            }
            for number, one in enumerate(made, 1)
        ],
    )
    keys = [{"shop_id": shop_id, "person_id": one.person_id} for one in made]
    session.execute(
        insert(Membership),
        [
            key | {"joined_at": one.joined_at, "left_at": one.joined_at + STAYED}
            for key, one in zip(keys, made, strict=True)
        ],
    )
    session.execute(insert(MembershipRole), [key | {"role": Role.TRAINEE} for key in keys])
    return made


def _drawn(trainee: _Trainee, module: Module, day: int, chance: Random) -> _Sat:
    seed = chance.getrandbits(64)
    form = draw_form(module.questions, module.blueprint, Random(seed))
    opened_at = trainee.joined_at + timedelta(days=4 * day + 1, minutes=chance.randrange(240))
    return _Sat(uuid4(), trainee, module, form, seed, opened_at)


def _habits(modules: Sequence[Module], sat: Sequence[_Sat], chance: Random) -> dict[str, Answering]:
    """Return how each question is answered; in each module one odd habit falls on a much-asked choice."""
    times = Counter(name for one in sat for name in one.form.question_ids)
    odd: dict[str, Habit] = {}
    for habit, module in zip(BAD_HABITS, (*modules, *modules), strict=False):
        choices = [q for q in module.questions if _one_of_several(q) and q.id not in odd]
        if choices:
            odd[max(choices, key=lambda q: times[q.id]).id] = habit
    return {
        question.id: answering(question, odd.get(question.id, Habit.BY_ABILITY), chance)
        for module in modules
        for question in module.questions
    }


def _one_of_several(question: Question) -> bool:
    return question.interaction is Interaction.CHOICE and not question.marks


def _write(session: Session, shop_id: UUID, rows: Sequence[_Rows]) -> None:
    # the form is given as its finished text: freezing each question once is what makes this quick
    session.execute(
        insert(Sitting).values(form=bindparam("form_text", type_=Text)),
        [one.sitting for one in rows],
    )
    session.execute(insert(SittingQuestion), [row for one in rows for row in one.questions])
    session.execute(insert(Answer), [row for one in rows for row in one.answers])
    for one in rows:
        closed = {name: value for name, value in one.sitting.items() if name != "form_text"}
        note_submitted(session, Sitting(**closed), one.sitting["person_id"])


def _rows(
    shop_id: UUID,
    one: _Sat,
    habits: Mapping[str, Answering],
    frozen: Mapping[str, str],
    chance: Random,
) -> _Rows:
    """Answer a form and return the rows that a sitting of it leaves."""
    must_know = [objective.id for objective in one.module.must_know]
    responses = {
        name: answer(habits[name], one.trainee.ability, chance) for name in one.form.question_ids
    }
    result = result_of(one.form, responses, must_know)
    form = _form_text(one, must_know, frozen)
    key = {"shop_id": shop_id, "sitting_id": one.id}
    return _Rows(
        sitting={
            "shop_id": shop_id,
            "id": one.id,
            "person_id": one.trainee.person_id,
            "module_id": one.module.id,
            "purpose": Purpose.QUIZ,
            "form_text": form,
            "form_digest": hashlib.sha256(form.encode()).hexdigest(),
            "opened_at": one.opened_at,
            "submitted_at": one.opened_at + TIME_FOR_ONE * (len(responses) + 1),
            "result": frozen_result(result),
            "passed": result.passed,
        },
        questions=[
            key
            | {
                "position": position,
                "question_id": item.question.id,
                "question_digest": item.question.digest,
                "marks": earned.marks,
            }
            for position, (item, earned) in enumerate(
                zip(one.form.questions, result.questions, strict=True), 1
            )
        ],
        answers=[
            key
            | {
                "id": uuid4(),
                "number": number,
                "question_id": name,
                "response": response,
                "answered_at": one.opened_at + TIME_FOR_ONE * number,
            }
            for number, (name, response) in enumerate(responses.items(), 1)
        ],
    )


def _form_text(one: _Sat, must_know: Sequence[str], frozen: Mapping[str, str]) -> str:
    """Return the canonical text of the form as a sitting keeps it (``frozen_drawn_form``)."""
    empty = canonical(frozen_drawn_form(DrawnForm(Form(()), tuple(must_know), one.seed))).decode()
    questions = ",".join(
        f'{{"option_order":{canonical(list(item.option_order)).decode()},'
        f'"partner_order":{canonical(list(item.partner_order)).decode()},'
        f'"question":{frozen[item.question.id]}}}'
        for item in one.form.questions
    )
    return empty.replace('"questions":[]', f'"questions":[{questions}]')
