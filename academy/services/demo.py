"""The demonstration: an invented shop with a few weeks behind it.

People, panels and readings are invented.  Everything is made through the same
services a real shop uses, so the demonstration cannot show what they refuse.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal
from random import Random
from uuid import UUID, uuid4

from sqlalchemy.orm import Session

from academy.domain.assessment.frozen import drawn_form_from_frozen
from academy.domain.assessment.key import right_response
from academy.domain.curriculum.course import Course, Module
from academy.domain.curriculum.kinds import Substrate, Supervision
from academy.domain.curriculum.schemes import Scheme
from academy.domain.curriculum.tasks import PracticalTask
from academy.domain.people import Role
from academy.domain.practical.stages import PracticalKind
from academy.domain.practical.steps import Readings
from academy.files.photographs import PhotographStore
from academy.keys.passwords import hash_password
from academy.services import (
    closing,
    demo_panel,
    examination,
    people,
    practical,
    quiz,
    signing,
    sitting,
    study,
    workshop,
)
from academy.services.actor import Actor, Proof
from academy.services.demo_accounts import ACCOUNTS
from academy.services.demo_accounts import DemoAccount as Account
from academy.services.demo_answers import ask_for_ratings, load_answers
from academy.services.demo_certificates import decide_what_is_ready
from academy.services.demo_logbook import load_logbook
from academy.services.demo_workshop import add_foils, begin_the_day, load_workshop
from academy.store.queries.workshop import SectionRow, sections
from academy.store.tables.people import Person
from academy.store.tables.study import Sitting

SHOP = "Harbour Lane Practice Shop (invented)"
EXPERIENCED = Account("trainee", "Sam Okoro", "sam", "", (Role.TRAINEE,))
PROMISING = Account("trainee", "Noah Winter", "noah", "", (Role.TRAINEE,))
HALF_WAY = Account("trainee", "Lena Brandt", "lena", "", (Role.TRAINEE,))

SAM_REACHES = {
    "preparation-and-inspection": Supervision.ALONE,
    "single-step-polishing": Supervision.ALONE,
    "two-step-correction": Supervision.ON_SITE,
    "protection-application": Supervision.ALONE,
}
NOAH_REACHES = {
    "preparation-and-inspection": Supervision.ON_SITE,
    "single-step-polishing": Supervision.ON_SITE,
}


@dataclass(frozen=True, slots=True)
class _Shop:
    session: Session
    course: Course
    chance: Random
    actors: dict[str, Actor]
    gauge_id: UUID
    sections: tuple[SectionRow, ...]
    pictures: demo_panel.Pictures


def load_demo(
    session: Session,
    *,
    course: Course,
    now: datetime,
    photographs: PhotographStore | None = None,
) -> UUID:
    """Make the demonstration shop, whose history ends today; return its id."""
    began = now - timedelta(days=75)
    shop_id = people.open_shop(session, name=SHOP, now=now - timedelta(days=370), demo=True)
    load_answers(session, shop_id=shop_id, course=course, now=now)
    actors = {
        account.sign_in_name: _member(session, shop_id, account, began)
        for account in (*ACCOUNTS, EXPERIENCED, PROMISING, HALF_WAY)
    }
    supervisor = actors["supervisor"]
    gauge_id = workshop.add_gauge(
        session,
        actor=supervisor,
        gauge_id=uuid4(),
        gauge=workshop.NewGauge("Bench gauge 1", "DEMO-0001", Decimal("0.1"), Decimal("0.4")),
        now=began,
    )
    add_foils(session, actor=supervisor, now=began)
    _add_panels(session, supervisor, began)
    shop = _Shop(
        session,
        course,
        Random(20261125),  # the same invented history every time
        actors,
        gauge_id,
        tuple(sections(session, shop_id)),
        demo_panel.kept_pictures(photographs),
    )
    _let_work_up_to(shop, actors["sam"], SAM_REACHES, began)
    _let_work_up_to(shop, actors["noah"], NOAH_REACHES, began + timedelta(days=20))
    session.flush()
    for name, but in (("sam", ()), ("noah", ("preparation-and-inspection",))):
        decide_what_is_ready(
            session,
            owner=actors["owner"],
            person_id=actors[name].person_id,
            course=course,
            but=but,
            now=now,
        )
    _pass_modules(shop, actors["lena"], course.modules[:3], now - timedelta(days=20))
    if course.modules:
        _read_lessons(shop, actors["trainee"], course.modules[0], now - timedelta(days=1))
    ask_for_ratings(session, owner=actors["owner"], supervisor=supervisor, course=course, now=now)
    load_workshop(session, actor=supervisor, now=now)
    begin_the_day(session, actor=supervisor, gauge_id=gauge_id, now=now)
    load_logbook(session, actors=actors, course=course, now=now)
    return shop_id


def _member(session: Session, shop_id: UUID, account: Account, now: datetime) -> Actor:
    person = Person(
        id=uuid4(),
        name=account.name,
        sign_in_name=account.sign_in_name,
        password_hash=hash_password(account.password) if account.password else None,
        created_at=now,
    )
    session.add(person)
    session.flush()
    people.join_shop(session, shop_id, person.id, account.roles, now)
    return Actor(person.id, shop_id, account.name, frozenset(account.roles))


def _add_panels(session: Session, actor: Actor, now: datetime) -> None:
    for label, substrate, paint, sacrificial in (
        ("Bonnet 7", Substrate.STEEL, "black, two-layer, hard clear", False),
        ("Door 2", Substrate.STEEL, "silver, two-layer, soft clear", False),
        ("Wing 4", Substrate.ALUMINIUM, "dark blue, two-layer", False),
        ("Boot lid 1", Substrate.STEEL, "red, repainted once", True),
        ("Bumper 3", Substrate.PLASTIC, "white, two-layer", False),
    ):
        workshop.add_panel(
            session,
            actor=actor,
            panel_id=uuid4(),
            panel=workshop.NewPanel(label, substrate, paint, 4, 9, sacrificial),
            now=now,
        )


def _read_lessons(shop: _Shop, actor: Actor, module: Module, now: datetime) -> None:
    for lesson in module.lessons:
        study.finish_lesson(shop.session, actor=actor, reading_id=uuid4(), lesson=lesson, now=now)


def _pass_modules(shop: _Shop, actor: Actor, modules: tuple[Module, ...], now: datetime) -> None:
    for day, module in enumerate(modules):
        at = now + timedelta(days=day)
        _read_lessons(shop, actor, module, at)
        _pass_quiz(shop, actor, module, at + timedelta(hours=1))


def _pass_quiz(shop: _Shop, actor: Actor, module: Module, at: datetime) -> None:
    sitting_id = quiz.open_quiz(
        shop.session, actor=actor, sitting_id=uuid4(), module=module, now=at
    )
    shop.session.flush()
    _answer_rightly(shop, actor, sitting_id, at)


def _answer_rightly(shop: _Shop, actor: Actor, sitting_id: UUID, at: datetime) -> None:
    stored = shop.session.get_one(Sitting, (actor.shop_id, sitting_id))
    for number, item in enumerate(drawn_form_from_frozen(stored.form).form.questions, 1):
        sitting.save_answer(
            shop.session,
            actor=actor,
            sitting_id=sitting_id,
            answer_id=uuid4(),
            question_id=item.question.id,
            response=right_response(item.question),
            now=at + timedelta(seconds=40 * number),
        )
    sitting.submit_sitting(
        shop.session,
        actor=actor,
        sitting_id=sitting_id,
        course=shop.course,
        now=at + timedelta(minutes=20),
    )


def _pass_examination(shop: _Shop, trainee: Actor, scheme: Scheme, at: datetime) -> None:
    sitting_id = examination.open_examination(
        shop.session,
        actor=shop.actors["supervisor"],
        new=examination.NewExamination(uuid4(), trainee.person_id, scheme.id),
        course=shop.course,
        now=at,
    )
    shop.session.flush()
    examination.begin_examination(shop.session, actor=trainee, sitting_id=sitting_id, now=at)
    _answer_rightly(shop, trainee, sitting_id, at)


def _let_work_up_to(
    shop: _Shop, actor: Actor, levels: Mapping[str, Supervision], began: datetime
) -> None:
    """Let a person do the practicals that the levels ask for, one a day, never past today."""
    _pass_modules(shop, actor, shop.course.modules, began)
    at = began + timedelta(days=len(shop.course.modules) + 1)
    done: Counter[str] = Counter()
    # with another course than ours everything is worked up to the top
    otherwise = Supervision.NOT_YET if _knows(shop.course, levels) else Supervision.ALONE
    for scheme in shop.course.schemes:
        wanted = levels.get(scheme.id, otherwise)
        asked = [r for r in scheme.requirements if r.level.rank <= wanted.rank]
        if any(requirement.examination for requirement in asked):
            _pass_examination(shop, actor, scheme, at - timedelta(hours=20))
        for task_id in dict.fromkeys(task for r in asked for task in r.practicals):
            task = shop.course.task(task_id)
            needed = max(r.practicals.get(task_id, 0) for r in asked)
            for _ in range(needed - done[task_id] if task else 0):
                assert task is not None
                _do_practical(shop, actor, task, at)
                done[task_id] += 1
                at += timedelta(days=1)


def _knows(course: Course, levels: Mapping[str, Supervision]) -> bool:
    return any(scheme.id in levels for scheme in course.schemes)


def _do_practical(shop: _Shop, trainee: Actor, task: PracticalTask, at: datetime) -> None:
    supervisor, practical_id = shop.actors["supervisor"], uuid4()
    practical.open_practical(
        shop.session,
        actor=supervisor,
        new=practical.NewPractical(
            practical_id,
            trainee.person_id,
            shop.chance.choice([s.id for s in shop.sections if _fits(task, s)]),
            shop.gauge_id if task.spots else None,
            PracticalKind.ASSESSED,
        ),
        task=task,
        now=at,
    )
    shop.session.flush()
    version, film_um = 0, [round(shop.chance.uniform(104, 118), 1) for _ in range(task.spots)]
    demo_panel.add_pictures(shop.session, supervisor, practical_id, task, shop.pictures, at)
    for stage, body in demo_panel.good_work(task, film_um, shop.pictures, shop.chance, at):
        at += timedelta(minutes=4)
        if isinstance(body, Readings):  # it may be past midnight by now
            begin_the_day(shop.session, actor=supervisor, gauge_id=shop.gauge_id, now=at)
        grown = practical.record_step(
            shop.session,
            actor=supervisor,
            practical_id=practical_id,
            step_id=uuid4(),
            stage=stage,
            body=body,
            seen_version=version,
            now=at,
        )
        version = grown.version
        shop.session.flush()
    closing.close_practical(
        shop.session, actor=supervisor, practical_id=practical_id, now=at + timedelta(minutes=5)
    )
    shop.session.flush()
    proof = Proof(supervisor.person_id, at)
    signing.sign_practical(
        shop.session,
        actor=supervisor,
        practical_id=practical_id,
        proof=proof,
        course=shop.course,
        now=at + timedelta(hours=2),
        seed=f"{trainee.name} {task.id} {at:%d}",  # the same draws on the same day
    )
    signing.countersign_practical(
        shop.session,
        actor=supervisor,
        practical_id=practical_id,
        proof=Proof(trainee.person_id, at),
        now=at + timedelta(hours=2),
    )


def _fits(task: PracticalTask, section: SectionRow) -> bool:
    return section.substrate in task.substrates and not section.sacrificial
