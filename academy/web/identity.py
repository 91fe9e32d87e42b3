"""Who is signed in, on which session, and what their role lets them see.

The cookie carries a token; the session itself is a row in the database, so
that signing out, leaving the shop or ending a session works at the server.
This is the only module that knows flask_login.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from typing import ParamSpec, TypeVar
from urllib.parse import urlsplit

from flask import Flask, Request, Response, abort, current_app, g, redirect, request, url_for
from flask_login import LoginManager, current_user, login_user, logout_user
from werkzeug.wrappers import Response as AnyResponse

from academy.domain.people import Permission
from academy.keys.links import token_digest
from academy.keys.passwords import verify_password
from academy.services import people
from academy.services.actor import Actor, Proof
from academy.store.queries import people as queries
from academy.web.context import academy, clock, db, release, unit_of_work
from academy.web.forms import FormRefused
from academy.web.language import gettext as _
from academy.web.parts import Filled

P = ParamSpec("P")
R = TypeVar("R")
SEEN_EVERY = timedelta(minutes=1)
PUBLIC = "academy_public"
PERMISSION = "academy_permission"


class SignedInPerson:
    """What flask_login keeps on ``g`` for one request."""

    is_authenticated = True
    is_active = True
    is_anonymous = False

    def __init__(self, token: str, row: queries.SignedIn) -> None:
        self.token = token
        self.row = row
        self.actor = Actor(row.person_id, row.shop_id, row.name, row.roles)

    def get_id(self) -> str:
        """Return the session's token, which is what the cookie carries."""
        return self.token


def install(app: Flask) -> None:
    """Set the sign-in up for an application."""
    manager = LoginManager()
    manager.session_protection = None  # a phone that changes network stays signed in
    manager.user_loader(_load)
    manager.init_app(app)
    app.before_request(_guard)
    app.after_request(_note_seen)


def requires(permission: Permission) -> Callable[[Callable[P, R]], Callable[P, R]]:
    """Mark a view with the permission a person's role has to carry."""

    def mark(view: Callable[P, R]) -> Callable[P, R]:
        setattr(view, PERMISSION, permission)
        return view

    return mark


def public(view: Callable[P, R]) -> Callable[P, R]:
    """Mark a view that anybody may open; each one also stands on the tests' explicit list."""
    setattr(view, PUBLIC, True)
    return view


def signed_in() -> Actor:
    """Return who is signed in.  Views without ``public`` always have somebody."""
    person = _person()
    if person is None:
        abort(401)
    return person.actor


def anybody() -> SignedInPerson | None:
    """Return who is signed in, or None on a public page."""
    return _person()


def sign_in(token: str) -> None:
    """Begin the session of a token on this device."""
    with academy().database.reading() as session:
        row = queries.signed_in(session, token_digest(token))
    if row is not None:
        login_user(SignedInPerson(token, row))


def sign_out() -> None:
    """End this session at the server and forget the cookie."""
    person = _person()
    if person is not None:
        with unit_of_work() as session:
            people.end_session(session, person.token, clock())
    logout_user()


def proof_of(sign_in_name: str, password: str) -> Proof:
    """Return the proof that somebody knows their password, with no transaction open.

    Raises
    ------
    FormRefused
        The name and password do not belong together, or were tried too often.
    """
    credentials = queries.credentials(db(), people.sign_in_key(sign_in_name))
    return _proved(credentials, sign_in_name, password)


def _proved(credentials: queries.Credentials | None, name: str, password: str) -> Proof:
    now = clock()
    try:
        people.refuse_guessing(db(), name, now)
    except people.TooManyFailures as refusal:
        raise FormRefused(
            Filled({"sign_in_name": name}, {"": _(refusal.template, **refusal.fields())})
        ) from None
    release()
    right = verify_password(credentials.password_hash if credentials else None, password)
    if credentials is None or not right:
        with unit_of_work() as session:
            people.note_failure(session, name, now)
        raise FormRefused(
            Filled(
                {"sign_in_name": name},
                {"password": _("Name and password do not belong together; try again")},
            )
        )
    return Proof(credentials.person_id, now)


def safe_next(target: str | None) -> str:
    """Return where to go after signing in: a path of this site, or the start page."""
    if not target or not target.startswith("/") or target.startswith(("//", "/\\")):
        return "/"
    parts = urlsplit(target)
    return "/" if parts.scheme or parts.netloc or "\\" in target else target


def _person() -> SignedInPerson | None:
    return current_user._get_current_object() if current_user.is_authenticated else None


def _load(token: str) -> SignedInPerson | None:
    row = queries.signed_in(db(), token_digest(token))
    if row is None:
        return None
    now = clock()
    idle, age = now - row.last_seen_at, now - row.started_at
    if idle > people.SESSION_IDLE or age > people.SESSION_LONGEST:
        return None
    return SignedInPerson(token, row)


def _guard() -> AnyResponse | None:
    """Refuse every view that is neither public nor allowed to this person's role."""
    view = current_app.view_functions.get(request.endpoint or "")
    if view is None or request.endpoint == "static" or getattr(view, PUBLIC, False):
        return None
    person = _person()
    if person is None:
        return redirect(url_for("people.sign_in", next=_here(request)), code=303)
    permission = getattr(view, PERMISSION, None)
    if not isinstance(permission, Permission) or not person.actor.may(permission):
        abort(403)
    return None


def _here(request: Request) -> str | None:
    if request.method != "GET":
        return None
    return request.full_path.rstrip("?")


def _note_seen(response: Response) -> Response:
    """Move last-seen on at most once a minute, after the reply and in its own transaction."""
    person = g.get("_login_user")
    if not isinstance(person, SignedInPerson):
        return response
    composed, now = academy(), clock()
    if now - person.row.last_seen_at >= SEEN_EVERY:

        def write() -> None:
            with composed.database.writing() as session:
                people.touch_session(session, person.token, now)

        response.call_on_close(write)
    return response
