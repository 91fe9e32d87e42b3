"""What stands under a closed practical: its records, an objection, the plan, the second judgement."""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID

from flask import url_for

from academy.domain.people import Permission
from academy.domain.practical.counting import ObjectionState
from academy.domain.practical.second_judgement import how_they_agree, pairs_of
from academy.domain.practical.signatures import Meaning
from academy.services.actor import Actor
from academy.services.amending import amends
from academy.services.practical_record import unchanged
from academy.store.queries import judgement as queries
from academy.store.queries.practicals import StoredPractical
from academy.store.queries.reteaching import PlanRow, plans
from academy.web.context import db
from academy.web.formats import sentence_text
from academy.web.language import day_text
from academy.web.language import gettext as _
from academy.web.parts import Fact, Link, Listed
from academy.web.practicals.record_cards import RecordCard, record_card, utc_text


@dataclass(frozen=True, slots=True)
class AfterClosing:
    """Everything that follows a closed record, for one reader."""

    whole: bool
    record: RecordCard
    superseded: tuple[RecordCard, ...]
    sign: Link | None
    objections: tuple[Listed, ...]
    object_to_it: Link | None
    amend: Link | None
    plan: tuple[Fact, ...]
    plan_url: str
    second: str


def after_closing(stored: StoredPractical, actor: Actor) -> AfterClosing | None:
    """Return what stands under a closed practical, or None while it is open."""
    practical, record = stored.practical, stored.record
    if record is None:
        return None
    rows = queries.records_of(db(), actor.shop_id, practical.id)
    cards = [record_card(practical, row, row.id == record.id) for row in rows]
    raised = queries.objections(db(), actor.shop_id, practical_id=practical.id)
    plan = next(iter(plans(db(), actor.shop_id, practical_id=practical.id)), None)
    objected = any(one.record_id == record.id for one in raised)
    may_object = actor.person_id == practical.trainee_id and not objected
    return AfterClosing(
        whole=unchanged(record),
        record=cards[-1],
        superseded=tuple(cards[-2::-1]),
        sign=_sign(stored, actor),
        objections=tuple(objection_line(one) for one in raised),
        object_to_it=Link(
            _("I do not agree with this record"),
            url_for("practicals.object_to_record", practical_id=practical.id),
        )
        if may_object and not stored.has_signed(Meaning.AGREED)
        else None,
        amend=Link(_("Amend this record"), url_for("practicals.amend", practical_id=practical.id))
        if amends(db(), actor, stored)
        else None,
        plan=plan_facts(plan) if plan else (),
        plan_url=url_for("practicals.plan_again", practical_id=practical.id)
        if plan and plan.coached_at is None and actor.may(Permission.ASSESS_PRACTICAL)
        else "",
        second=_second(stored, actor),
    )


def waits_blind(stored: StoredPractical, actor: Actor) -> str:
    """Return where a reader judges this practical again, blind; empty where they do not.

    Until they do, or say that they want to see it, how it was judged is not
    shown to whoever could be the second judge.
    """
    if stored.record is None or not actor.may(Permission.JUDGE_AGAIN):
        return ""
    for row in queries.second_judgements(db(), actor.shop_id, practical_id=stored.practical.id):
        if row.could_judge(actor.person_id):
            return url_for("practicals.second_judgement", judgement_id=row.id)
    return ""


def blind_to(actor: Actor) -> frozenset[UUID]:
    """Return the practicals whose first judgement a reader does not see yet."""
    if not actor.may(Permission.JUDGE_AGAIN):
        return frozenset()
    rows = queries.second_judgements(db(), actor.shop_id)
    return frozenset(row.practical_id for row in rows if row.could_judge(actor.person_id))


def objection_line(row: queries.ObjectionRow) -> Listed:
    """Return one objection in a list."""
    return Listed(
        _(
            "%(name)s objects, %(task)s, %(at)s",
            name=row.raised_by_name,
            task=row.task_title,
            at=utc_text(row.raised_at),
        ),
        url_for("practicals.objection", objection_id=row.id),
        objection_state(row.state),
        "waiting" if row.state is ObjectionState.OPEN else "saved",
    )


def objection_state(state: ObjectionState) -> str:
    """Return what has become of an objection."""
    return {
        ObjectionState.NONE: _("none"),
        ObjectionState.OPEN: _("not decided; the practical does not count meanwhile"),
        ObjectionState.NOT_UPHELD: _("not upheld; the record stands"),
        ObjectionState.TO_BE_AMENDED: _("upheld; it counts again once it is amended and signed"),
        ObjectionState.SET_ASIDE: _("upheld; the practical is set aside and does not count"),
    }[state]


def plan_facts(plan: PlanRow) -> tuple[Fact, ...]:
    """Return a re-teach plan in words."""
    done = (
        _("done: coached %(at)s", at=utc_text(plan.coached_at))
        if plan.coached_at
        else _("not done; the task is not assessed again before")
    )
    return (
        Fact(_("What to reach"), plan.objective),
        Fact(_("Who teaches it"), plan.responsible_name),
        Fact(_("By when"), day_text(plan.due_on)),
        Fact(_("How it stands"), done),
    )


def _sign(stored: StoredPractical, actor: Actor) -> Link | None:
    if stored.has_signed(Meaning.ASSESSED) and stored.has_signed(Meaning.AGREED):
        return None
    return Link(_("Sign at the desk"), url_for("practicals.desk"))


def _second(stored: StoredPractical, actor: Actor) -> str:
    """Return in words how the second judgement agrees; nothing where none was drawn."""
    row = next(
        iter(queries.second_judgements(db(), actor.shop_id, practical_id=stored.practical.id)), None
    )
    if row is None:
        return ""
    if row.answers is None:
        return _("Chance drew this practical to be judged again by somebody who was not there.")
    agree = sentence_text(how_they_agree(pairs_of(row.first, row.answers)))
    return _("Judged again by %(name)s: %(agree)s", name=row.judged_by_name, agree=agree)
