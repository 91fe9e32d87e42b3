"""Supervised panel work: what there is, and what is chosen before the first reading."""

from __future__ import annotations

from uuid import UUID, uuid4

from flask import redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.domain.people import Permission, Role
from academy.domain.sentences import TradeError
from academy.services import practical as service
from academy.services.actor import Actor, NotFound
from academy.services.gauges import suspect_practicals
from academy.store.queries import people as people_queries
from academy.store.queries import practicals as queries
from academy.store.queries import workshop as workshop_queries
from academy.store.queries.desk import unsigned
from academy.store.queries.panels import SectionLeft, sections_left
from academy.web.context import clock, course, db, unit_of_work
from academy.web.forms import FormRefused, kept_id, refused
from academy.web.identity import requires, signed_in
from academy.web.language import gettext as _
from academy.web.pages import Page, render
from academy.web.parts import Choosable, Filled, Link
from academy.web.practicals import (
    amending_routes,
    closing_routes,
    desk_routes,
    doubt_routes,
    objection_routes,
    offline_routes,
    photograph_routes,
    reference_routes,
    second_routes,
    stage_routes,
)
from academy.web.practicals.after_closing import blind_to
from academy.web.practicals.blueprint import bp
from academy.web.practicals.forms import OpenForm
from academy.web.practicals.one import practical_for, shown_practical
from academy.web.practicals.pages import OpenPage, OverviewPage
from academy.web.practicals.panel import practical_line
from academy.web.practicals.words import kinds

# Importing the others puts their addresses into the blueprint.
__all__ = [
    "amending_routes",
    "bp",
    "closing_routes",
    "desk_routes",
    "doubt_routes",
    "objection_routes",
    "offline_routes",
    "photograph_routes",
    "reference_routes",
    "second_routes",
    "stage_routes",
]


@bp.get("/")
@requires(Permission.READ_PRACTICAL)
def overview() -> ResponseReturnValue:
    """Show the shop's practicals to who may see the board, one's own to a trainee."""
    actor = signed_in()
    everybody = actor.may(Permission.READ_BOARD)
    found = queries.practicals(db(), actor.shop_id, None if everybody else actor.person_id)
    doubts = {one.practical_id: one for one in suspect_practicals(db(), actor.shop_id)}
    blind = blind_to(actor)
    return render(
        OverviewPage(
            title=_("Practicals") if everybody else _("Your logbook"),
            practicals=tuple(
                practical_line(summary, doubts.get(summary.id), blind=summary.id in blind)
                for summary in found
            ),
            may_open=actor.may(Permission.ASSESS_PRACTICAL),
            places=_places(actor),
        )
    )


@bp.get("/new")
@requires(Permission.ASSESS_PRACTICAL)
def choose() -> ResponseReturnValue:
    """Show what is chosen before the first reading."""
    scanned = request.args.get("section_id", "")  # from a panel's label
    return render(_open_page(signed_in(), Filled({"section_id": scanned}), uuid4()))


@bp.post("/")
@requires(Permission.ASSESS_PRACTICAL)
def open_practical() -> ResponseReturnValue:
    """Open the practical under the id the page was made with."""
    actor, practical_id = signed_in(), kept_id(request.form, "practical_id")
    try:
        form = OpenForm.of(request.form)
        task = course().task(form.task_id)
        if task is None:
            raise NotFound()
        new = service.NewPractical(
            form.practical_id, form.trainee_id, form.section_id, form.gauge_id, form.kind
        )
        with unit_of_work() as session:
            service.open_practical(session, actor=actor, new=new, task=task, now=clock())
    except FormRefused as fault:
        return render(_open_page(actor, fault.filled, practical_id), 422)
    except TradeError as refusal:
        return render(_open_page(actor, refused(request.form, refusal), practical_id), 422)
    return redirect(url_for("practicals.practical", practical_id=practical_id), code=303)


@bp.get("/<uuid:practical_id>")
@requires(Permission.READ_PRACTICAL)
def practical(practical_id: UUID) -> ResponseReturnValue:
    """Show a practical with everything recorded so far."""
    return render(shown_practical(practical_for(signed_in(), practical_id)))


def _places(actor: Actor) -> tuple[Link, ...]:
    """Return where a person signs, decides and judges again, with how much waits."""
    waiting = sum(one.person_id == actor.person_id for one in unsigned(db(), actor.shop_id))
    places = [Link(_("To sign (%(num)d)", num=waiting), url_for("practicals.desk"))]
    if actor.may(Permission.DECIDE_OBJECTION):
        places.append(Link(_("Objections"), url_for("practicals.objections_of_shop")))
    if actor.may(Permission.JUDGE_AGAIN):
        places.append(Link(_("Second judgements"), url_for("practicals.second_judgements")))
    if actor.may(Permission.KEEP_REFERENCES):
        places.append(Link(_("Reference panels"), url_for("practicals.references")))
    return tuple(places)


def _open_page(actor: Actor, form: Filled, practical_id: UUID) -> Page:
    members = people_queries.members(db(), actor.shop_id)
    return OpenPage(
        form=form,
        practical_id=practical_id,
        trainees=tuple(
            Choosable(str(m.person_id), m.name)
            for m in members
            if Role.TRAINEE in m.roles and m.person_id != actor.person_id
        ),
        tasks=tuple(Choosable(task.id, task.title) for task in course().tasks),
        sections=tuple(
            Choosable(str(one.section.id), _section_words(one))
            for one in sections_left(db(), actor.shop_id)
        ),
        gauges=tuple(
            Choosable(str(g.id), g.label) for g in workshop_queries.gauges(db(), actor.shop_id)
        ),
        kinds=kinds(),
    )


def _section_words(one: SectionLeft) -> str:
    """Return a section with what decides whether it suits: its metal and what is left of it."""
    row = one.section
    if row.sacrificial:
        return _("%(name)s, %(made_of)s, sacrificial", name=row.name, made_of=_(row.substrate))
    if one.state.retired:
        return _("%(name)s, %(made_of)s, retired", name=row.name, made_of=_(row.substrate))
    return _(
        "%(name)s, %(made_of)s, %(left).1f µm left",
        name=row.name,
        made_of=_(row.substrate),
        left=one.state.left_um,
    )
