"""Signing in and out, invitations, the people of a shop."""

from __future__ import annotations

from flask import Blueprint, flash, redirect, request, url_for
from flask.typing import ResponseReturnValue

from academy.documents.qr import qr_svg
from academy.domain.people import Permission, Role
from academy.domain.sentences import TradeError
from academy.keys.password_rules import password_fault
from academy.keys.passwords import SHORTEST, hash_password
from academy.services import demo_accounts, people
from academy.store.queries import people as queries
from academy.store.tables.people import Invitation
from academy.web.context import academy, clock, db, release, unit_of_work
from academy.web.forms import FormRefused, refused
from academy.web.identity import (
    anybody,
    proof_of,
    public,
    requires,
    safe_next,
    signed_in,
)
from academy.web.identity import (
    sign_in as begin,
)
from academy.web.identity import (
    sign_out as end,
)
from academy.web.language import gettext as _
from academy.web.pages import Page, render
from academy.web.parts import Choosable, Filled
from academy.web.people.forms import AcceptForm, InviteForm, ShopForm, SignInForm
from academy.web.people.pages import AcceptPage, InvitePage, PeoplePage, SignInPage, SlipPage

bp = Blueprint("people", __name__)


@bp.get("/sign-in")
@public
def sign_in() -> ResponseReturnValue:
    """Show the sign-in page."""
    target = safe_next(request.args.get("next"))
    if anybody() is not None:
        return redirect(target, code=303)
    return render(_sign_in_page(Filled(), target))


@bp.post("/sign-in")
@public
def begin_session() -> ResponseReturnValue:
    """Check the password with no transaction open, then begin a session."""
    target = safe_next(request.form.get("next"))
    try:
        form = SignInForm.of(request.form)
        proof = proof_of(form.sign_in_name, form.password)
        shops = queries.shops_of(db(), proof.person_id)
        if not shops:
            return render(_sign_in_page(_no_shop(), target), 422)
    except FormRefused as fault:
        return render(_sign_in_page(fault.filled, target), 422)
    with unit_of_work() as session:
        token = people.start_session(
            session, person_id=proof.person_id, shop_id=shops[0].shop_id, now=clock()
        )
    begin(token)
    return redirect(target, code=303)


@bp.post("/sign-out")
@public
def sign_out() -> ResponseReturnValue:
    """End the session at the server."""
    end()
    return redirect(url_for("people.sign_in"), code=303)


@bp.post("/shop")
@requires(Permission.STUDY)
def choose_shop() -> ResponseReturnValue:
    """Look at another shop one belongs to."""
    form = ShopForm.of(request.form)
    person = anybody()
    assert person is not None
    with unit_of_work() as session:
        people.choose_shop(session, token=person.token, actor=person.actor, shop_id=form.shop_id)
    return redirect("/", code=303)


@bp.get("/invitations/<token>")
@public
def invitation(token: str) -> ResponseReturnValue:
    """Show an invitation to whoever holds its link."""
    found = people.open_invitation(db(), token, clock())
    return render(_accept_page(found, token, Filled({"name": found.name})))


@bp.post("/invitations/<token>")
@public
def accept_invitation(token: str) -> ResponseReturnValue:
    """Make the invited person a member and sign them in."""
    found = people.open_invitation(db(), token, clock())
    try:
        form = AcceptForm.of(request.form)
    except FormRefused as fault:
        return render(_accept_page(found, token, fault.filled), 422)
    weak = password_fault(form.password, form.name, form.sign_in_name, form.shop_name)
    if weak is not None:
        return render(_accept_page(found, token, refused(request.form, weak, "password")), 422)
    release()
    hashed = hash_password(form.password)
    try:
        with unit_of_work() as session:
            actor = people.accept_invitation(
                session,
                token=token,
                name=form.name,
                sign_in_name=form.sign_in_name,
                password_hash=hashed,
                shop_name=form.shop_name,
                now=clock(),
            )
            session_token = people.start_session(
                session, person_id=actor.person_id, shop_id=actor.shop_id, now=clock()
            )
    except people.NameTaken as taken:
        return render(_accept_page(found, token, refused(request.form, taken, "sign_in_name")), 422)
    begin(session_token)
    return redirect("/", code=303)


@bp.get("/people")
@requires(Permission.READ_PEOPLE)
def overview() -> ResponseReturnValue:
    """Show the people of the shop."""
    actor = signed_in()
    return render(
        PeoplePage(
            people=tuple(queries.members(db(), actor.shop_id)),
            may_invite=actor.may(Permission.INVITE_PERSON),
            shops=tuple(
                shop
                for shop in queries.shops_of(db(), actor.person_id)
                if shop.shop_id != actor.shop_id
            ),
        )
    )


@bp.get("/people/invitation")
@requires(Permission.INVITE_PERSON)
def invite() -> ResponseReturnValue:
    """Show the form to invite somebody."""
    return render(_invite_page(Filled()))


@bp.post("/people/invitation")
@requires(Permission.INVITE_PERSON)
def send_invitation() -> ResponseReturnValue:
    """Make the invitation and show its slip, once."""
    try:
        form = InviteForm.of(request.form)
        with unit_of_work() as session:
            token = people.invite_person(
                session, actor=signed_in(), name=form.name, roles=form.roles, now=clock()
            )
    except FormRefused as fault:
        return render(_invite_page(fault.filled), 422)
    except TradeError as refusal:
        return render(_invite_page(refused(request.form, refusal, "roles")), 422)
    link = academy().settings.base_url + url_for("people.invitation", token=token.token)
    flash(_("The invitation is ready. The link is shown only now: print the slip."))
    return render(SlipPage(form.name, link, qr_svg(link), people.INVITATION_LASTS.days))


def _sign_in_page(form: Filled, target: str) -> Page:
    accounts = demo_accounts.ACCOUNTS if academy().settings.demo else ()
    return SignInPage(
        form=form,
        next=target,
        demo_accounts=tuple(
            (account.says, account.sign_in_name, account.password) for account in accounts
        ),
    )


def _no_shop() -> Filled:
    return Filled({}, {"": _("You belong to no shop any more; ask the owner for an invitation")})


def _accept_page(found: Invitation, token: str, form: Filled) -> Page:
    return AcceptPage(form, token, found.invited_by is None and "owner" in found.roles, SHORTEST)


def _invite_page(form: Filled) -> Page:
    return InvitePage(
        form,
        (
            Choosable(Role.TRAINEE, _("trainee"), _("studies, sits quizzes, works at panels")),
            Choosable(Role.SUPERVISOR, _("supervisor"), _("stands at the panel, judges and signs")),
            Choosable(Role.OWNER, _("owner"), _("sees the board, invites people")),
        ),
    )
