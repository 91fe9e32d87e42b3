"""Deciding on a certificate: the evidence, the people behind it, and the signature."""

from __future__ import annotations

from uuid import UUID, uuid4

from flask import flash, redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.domain.curriculum.kinds import Supervision
from academy.domain.people import Permission
from academy.domain.sentences import TradeError
from academy.services import certificates
from academy.services.board import CellEvidence, cell_evidence
from academy.store.queries.people import names
from academy.web.certification.blueprint import bp
from academy.web.certification.forms import DecisionForm
from academy.web.certification.pages import DecidePage, EvidenceLine
from academy.web.certification.words import level_word
from academy.web.context import clock, course, db, unit_of_work
from academy.web.forms import FormRefused, kept_id, refused
from academy.web.identity import proof_of, requires, signed_in
from academy.web.language import day_text
from academy.web.language import gettext as _
from academy.web.pages import render
from academy.web.parts import Choosable, Fact, Filled
from academy.web.times import shop_day


@bp.get("/<uuid:person_id>/<scheme_id>/decision")
@requires(Permission.DECIDE_CERTIFICATE)
def decide(person_id: UUID, scheme_id: str) -> ResponseReturnValue:
    """Show what a decision would rest on, and ask for it."""
    return render(_page(person_id, scheme_id, Filled()))


@bp.post("/<uuid:person_id>/<scheme_id>/decision")
@requires(Permission.DECIDE_CERTIFICATE)
def sign_decision(person_id: UUID, scheme_id: str) -> ResponseReturnValue:
    """Decide and sign."""
    try:
        form = DecisionForm.of(request.form)
        proof = proof_of(form.sign_in_name, form.password)
        new = certificates.NewDecision(
            form.act_id, person_id, scheme_id, form.level, form.grant == "yes", form.reason
        )
        good = course()
        with unit_of_work() as session:
            certificates.decide(
                session, actor=signed_in(), new=new, proof=proof, course=good, now=clock()
            )
    except FormRefused as fault:
        return render(_page(person_id, scheme_id, fault.filled), 422)
    except TradeError as refusal:
        return render(_page(person_id, scheme_id, refused(request.form, refusal)), 422)
    if form.grant == "yes":
        flash(_("Decided and signed. The certificate can be printed."))
        return redirect(url_for(".certificate_of", decision_id=form.act_id), code=303)
    flash(_("Decided against and signed, with the reason."))
    return redirect(url_for(".evidence", person_id=person_id, scheme_id=scheme_id), code=303)


def _page(person_id: UUID, scheme_id: str, form: Filled) -> DecidePage:
    found = cell_evidence(
        db(), actor=signed_in(), person_id=person_id, scheme_id=scheme_id, course=course(),
        now=clock(),
    )  # fmt: skip
    trained = certificates.who_trained(db(), signed_in().shop_id, person_id, found.scheme)
    known = names(db(), list(trained.everybody))
    return DecidePage(
        person_name=found.person.name,
        scheme_title=found.scheme.title,
        evidence_url=url_for(".evidence", person_id=person_id, scheme_id=scheme_id),
        action=url_for(".sign_decision", person_id=person_id, scheme_id=scheme_id),
        act_id=kept_id(request.form, "act_id") if form.typed else uuid4(),
        form=form if form.typed else Filled(_suggested(found)),
        levels=_levels(found),
        answers=(
            Choosable("yes", _("give the certificate"), _("the evidence is enough")),
            Choosable("no", _("decide against"), _("say why below")),
        ),
        facts=(
            Fact(_("Trained by"), _listed(trained.trained_by, known)),
            Fact(_("Assessed by"), _listed(trained.assessed_by, known)),
            Fact(_("Decides"), signed_in().name),
        ),
        lines=_lines(found),
        one_person=signed_in().person_id in trained.everybody,
    )


def _suggested(found: CellEvidence) -> dict[str, str]:
    return {"level": found.today.ready_for.value} if found.today.ready_for else {}


def _levels(found: CellEvidence) -> tuple[Choosable, ...]:
    rule, ready = found.scheme.decision, found.today.ready_for
    if rule is None or ready is None:
        return ()
    return tuple(
        Choosable(level.value, level_word(level))
        for level in Supervision
        if rule.asked_at(level) and level.rank <= ready.rank
    )


def _lines(found: CellEvidence) -> tuple[EvidenceLine, ...]:
    good = course()
    titles = {task.id: task.title for task in good.tasks}
    return tuple(
        EvidenceLine(
            titles.get(row.task_id, row.task_id),
            _("assessed %(day)s", day=day_text(shop_day(row.closed_at))),
            "competent" if row.record["outcome"] == "competent" else "not-yet-competent",
            url_for("practicals.practical", practical_id=row.practical_id),
        )
        for row in found.practicals
    )


def _listed(people: tuple[UUID, ...], known: dict[UUID, str]) -> str:
    return ", ".join(known[one] for one in people) or _("nobody recorded")
