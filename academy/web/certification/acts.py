"""Signed acts: withdrawing, holding back, lifting that, and checking who returns."""

from __future__ import annotations

from collections.abc import Callable
from uuid import UUID, uuid4

from flask import flash, redirect, request, url_for
from flask.typing import ResponseReturnValue
from sqlalchemy.orm import Session

from academy.domain.curriculum.course import Course
from academy.domain.curriculum.kinds import Supervision
from academy.domain.people import Permission
from academy.domain.sentences import TradeError
from academy.services import certificates
from academy.services import restrictions as service
from academy.services.actor import NotFound, Proof
from academy.store.queries.decisions import RestrictionRow
from academy.store.queries.decisions import restrictions as restriction_rows
from academy.store.queries.people import members
from academy.web.certification.blueprint import bp
from academy.web.certification.forms import RestrictionForm, SignedForm
from academy.web.certification.pages import RestrictionLine, RestrictionsPage, SignedActPage
from academy.web.certification.words import level_word
from academy.web.context import clock, course, db, unit_of_work
from academy.web.forms import FormRefused, kept_id, refused
from academy.web.identity import proof_of, requires, signed_in
from academy.web.language import day_text
from academy.web.language import gettext as _
from academy.web.pages import render
from academy.web.parts import Choosable, Filled, Link
from academy.web.times import shop_day

LOWER = (Supervision.NOT_YET, Supervision.BESIDE, Supervision.ON_SITE)


@bp.get("/restrictions")
@requires(Permission.READ_BOARD)
def restrictions() -> ResponseReturnValue:
    """Show who and what is held back."""
    rows = restriction_rows(db(), signed_in().shop_id)
    good = course()
    return render(
        RestrictionsPage(
            standing=tuple(restriction_line(row, good) for row in rows if not row.lifted_at),
            lifted=tuple(restriction_line(row, good) for row in rows if row.lifted_at),
            may_restrict=signed_in().may(Permission.RESTRICT_WORK),
        )
    )


@bp.get("/restrictions/new")
@requires(Permission.RESTRICT_WORK)
def restrict() -> ResponseReturnValue:
    """Ask whom or what to hold back."""
    asked = {name: request.args.get(name, "") for name in ("person_id", "scheme_id")}
    return render(_restriction_page(Filled(asked), uuid4()))


@bp.post("/restrictions/new")
@requires(Permission.RESTRICT_WORK)
def sign_restriction() -> ResponseReturnValue:
    """Hold somebody or some work back, signed."""

    def page(filled: Filled) -> SignedActPage:
        return _restriction_page(filled, kept_id(request.form, "act_id"))

    try:
        form = RestrictionForm.of(request.form)
        proof = proof_of(form.sign_in_name, form.password)
        new = service.NewRestriction(
            form.act_id, form.person_id, form.scheme_id, form.level, form.reason, form.review_on
        )
        good = course()
        with unit_of_work() as session:
            service.restrict(
                session, actor=signed_in(), new=new, proof=proof, course=good, now=clock()
            )
    except FormRefused as fault:
        return render(page(fault.filled), 422)
    except TradeError as refusal:
        return render(page(refused(request.form, refusal)), 422)
    flash(_("Held back from now on. The board shows it."))
    return redirect(url_for(".restrictions"), code=303)


@bp.get("/restrictions/<uuid:restriction_id>/lift")
@requires(Permission.RESTRICT_WORK)
def lift(restriction_id: UUID) -> ResponseReturnValue:
    """Ask for the signature that ends a restriction."""
    return render(_lift_page(restriction_id, Filled()))


@bp.post("/restrictions/<uuid:restriction_id>/lift")
@requires(Permission.RESTRICT_WORK)
def sign_lifting(restriction_id: UUID) -> ResponseReturnValue:
    """End a restriction, signed."""

    def write(session: Session, _form: SignedForm, proof: Proof, good: Course) -> None:
        service.lift_restriction(
            session, actor=signed_in(), restriction_id=restriction_id, proof=proof, course=good,
            now=clock(),
        )  # fmt: skip

    says = _("Lifted. What the certificate says holds again.")
    return _signed(
        write, lambda filled: _lift_page(restriction_id, filled), url_for(".restrictions"), says
    )


@bp.get("/<uuid:person_id>/<scheme_id>/withdrawal")
@requires(Permission.RESTRICT_WORK)
def withdraw(person_id: UUID, scheme_id: str) -> ResponseReturnValue:
    """Ask for the reason and the signature that withdraw a certificate."""
    return render(_withdrawal_page(person_id, scheme_id, Filled()))


@bp.post("/<uuid:person_id>/<scheme_id>/withdrawal")
@requires(Permission.RESTRICT_WORK)
def sign_withdrawal(person_id: UUID, scheme_id: str) -> ResponseReturnValue:
    """Withdraw a certificate, signed."""

    def write(session: Session, form: SignedForm, proof: Proof, good: Course) -> None:
        certificates.withdraw(
            session, actor=signed_in(), withdrawal_id=form.act_id, person_id=person_id,
            scheme_id=scheme_id, reason=form.reason, proof=proof, course=good, now=clock(),
        )  # fmt: skip

    return _signed(
        write,
        lambda filled: _withdrawal_page(person_id, scheme_id, filled),
        url_for(".evidence", person_id=person_id, scheme_id=scheme_id),
        _("Withdrawn. What was done before counts no more for this certificate."),
    )


@bp.get("/<uuid:person_id>/<scheme_id>/return-check")
@requires(Permission.DECIDE_CERTIFICATE)
def check_return(person_id: UUID, scheme_id: str) -> ResponseReturnValue:
    """Ask what was seen of somebody who returns to a kind of work."""
    return render(_return_page(person_id, scheme_id, Filled()))


@bp.post("/<uuid:person_id>/<scheme_id>/return-check")
@requires(Permission.DECIDE_CERTIFICATE)
def sign_return_check(person_id: UUID, scheme_id: str) -> ResponseReturnValue:
    """Write down a return check, signed."""

    def write(session: Session, form: SignedForm, proof: Proof, good: Course) -> None:
        new = service.NewReturnCheck(form.act_id, person_id, scheme_id, form.reason)
        service.check_return(
            session, actor=signed_in(), new=new, proof=proof, course=good, now=clock()
        )

    return _signed(
        write,
        lambda filled: _return_page(person_id, scheme_id, filled),
        url_for(".evidence", person_id=person_id, scheme_id=scheme_id),
        _("Written down. The certificate's level holds again."),
    )


def restriction_line(row: RestrictionRow, good: Course) -> RestrictionLine:
    """Return one restriction in words; its reason is shown to those who may lift it."""
    scheme = good.scheme(row.scheme_id) if row.scheme_id else None
    may_lift = signed_in().may(Permission.RESTRICT_WORK)
    who = row.person_name or _("everybody")
    what = scheme.title if scheme else row.scheme_id or _("every kind of work")
    return RestrictionLine(
        _("%(who)s, %(what)s", who=who, what=what),
        _(
            "held at '%(level)s' since %(since)s by %(name)s; looked at again on %(review)s",
            level=level_word(row.level),
            since=day_text(shop_day(row.since)),
            name=row.restricted_by_name,
            review=day_text(row.review_on),
        ),
        row.reason if may_lift else "",
        url_for(".lift", restriction_id=row.id) if may_lift and not row.lifted_at else "",
    )


def _signed(
    write: Callable[[Session, SignedForm, Proof, Course], None],
    page: Callable[[Filled], SignedActPage],
    then: str,
    says: str,
) -> ResponseReturnValue:
    """Parse, prove, write and go on; or show the form again with its faults."""
    try:
        form = SignedForm.of(request.form)
        proof = proof_of(form.sign_in_name, form.password)
        good = course()
        with unit_of_work() as session:
            write(session, form, proof, good)
    except FormRefused as fault:
        return render(page(fault.filled), 422)
    except NotFound:
        raise
    except TradeError as refusal:
        return render(page(refused(request.form, refusal)), 422)
    flash(says)
    return redirect(then, code=303)


def _restriction_page(form: Filled, act_id: UUID) -> SignedActPage:
    people = [
        Choosable(str(member.person_id), member.name)
        for member in members(db(), signed_in().shop_id)
        if member.person_id != signed_in().person_id
    ]
    return SignedActPage(
        heading=_("Hold back"),
        explains=(
            _("A restriction only lowers what somebody may do, from now until you lift it."),
            _("It is no incident and changes no certificate. The board shows it, without the reason."),
        ),
        back=Link(_("What is held back"), url_for(".restrictions")),
        action=url_for(".sign_restriction"),
        act_id=act_id,
        form=form,
        people=tuple(people),
        schemes=tuple(Choosable(scheme.id, scheme.title) for scheme in course().schemes),
        levels=tuple(Choosable(level.value, level_word(level)) for level in LOWER),
        asks_review=True,
        reason_label=_("Why"),
        button=_("Hold back and sign"),
    )  # fmt: skip


def _lift_page(restriction_id: UUID, form: Filled) -> SignedActPage:
    rows = restriction_rows(db(), signed_in().shop_id)
    row = next((row for row in rows if row.id == restriction_id), None)
    if row is None:
        raise NotFound()
    line = restriction_line(row, course())
    return _plain_act(
        _("Lift the restriction"), (line.title, line.says), form,
        back=Link(_("What is held back"), url_for(".restrictions")),
        action=url_for(".sign_lifting", restriction_id=restriction_id),
        reason_label="", button=_("Lift and sign"),
    )  # fmt: skip


def _withdrawal_page(person_id: UUID, scheme_id: str, form: Filled) -> SignedActPage:
    who, what, back = _about(person_id, scheme_id)
    explains = (
        who,
        _("What was assessed before the withdrawal counts no more for this certificate."),
        _("Only new evidence and a new decision give it again. To lower it for a time, hold back."),
    )
    return _plain_act(
        _("Withdraw: %(scheme)s", scheme=what), explains, form, back=back,
        action=url_for(".sign_withdrawal", person_id=person_id, scheme_id=scheme_id),
        reason_label=_("Why"), button=_("Withdraw and sign"),
    )  # fmt: skip


def _return_page(person_id: UUID, scheme_id: str, form: Filled) -> SignedActPage:
    who, what, back = _about(person_id, scheme_id)
    explains = (
        who,
        _("Sign that you have seen this person do this work again, safely and within the limit."),
    )
    return _plain_act(
        _("Return check: %(scheme)s", scheme=what), explains, form, back=back,
        action=url_for(".sign_return_check", person_id=person_id, scheme_id=scheme_id),
        reason_label=_("What you saw"), button=_("Sign the return check"),
    )  # fmt: skip


def _plain_act(
    heading: str,
    explains: tuple[str, ...],
    form: Filled,
    *,
    back: Link,
    action: str,
    reason_label: str,
    button: str,
) -> SignedActPage:
    return SignedActPage(
        heading, explains, back, action, kept_id(request.form, "act_id"), form, (), (), (), False,
        reason_label, button,
    )  # fmt: skip


def _about(person_id: UUID, scheme_id: str) -> tuple[str, str, Link]:
    """Return the name, the scheme and the way back; nobody of this shop is not found."""
    person, scheme = (
        certificates.member_of(db(), signed_in(), person_id),
        course().scheme(scheme_id),
    )
    if scheme is None:
        raise NotFound()
    back = url_for(".evidence", person_id=person_id, scheme_id=scheme_id)
    return person.name, scheme.title, Link(_("The evidence"), back)
