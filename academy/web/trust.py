"""The one page served over plain HTTP: how a phone comes to trust the shop's own authority.

It gives away the authority's certificate, which is public, and nothing else.
It is an application of its own: no database, no cookie, nobody signed in.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import ClassVar

from flask import Flask, Response, redirect
from flask.typing import ResponseReturnValue
from flask_babel import Babel
from jinja2 import StrictUndefined

from academy.settings import PROJECT
from academy.web.language import gettext as _
from academy.web.language import locale
from academy.web.pages import Page, render
from academy.web.parts import Shell
from academy.web.secured import secure

CERTIFICATE = "academy-authority.crt"


@dataclass(frozen=True, slots=True)
class Trusted:
    """The site's address, and the authority a phone is asked to trust."""

    address: str
    fingerprint: str
    certificate: bytes


@dataclass(frozen=True, slots=True)
class TrustPage(Page):
    """What to do on a phone, once."""

    template: ClassVar[str] = "trust/phone.html"
    address: str
    fingerprint: tuple[str, ...]
    certificate_url: str


def create_trust_app(trusted: Callable[[], Trusted]) -> Flask:
    """Return the application; ``trusted`` is asked at each request, as addresses change."""
    app = Flask("academy.web", root_path=str(PROJECT / "academy" / "web"))
    app.config["BABEL_TRANSLATION_DIRECTORIES"] = str(PROJECT / "academy" / "locale")
    app.jinja_env.undefined = StrictUndefined
    app.jinja_env.trim_blocks = app.jinja_env.lstrip_blocks = True
    app.context_processor(lambda: {"shell": Shell(_("Paint correction training"), locale())})
    Babel(app)
    app.after_request(secure)

    @app.get("/")
    def show() -> ResponseReturnValue:
        return render(_page(trusted()))

    @app.get(f"/{CERTIFICATE}")
    def certificate() -> ResponseReturnValue:
        reply = Response(trusted().certificate, mimetype="application/x-x509-ca-cert")
        reply.headers["Content-Disposition"] = f'attachment; filename="{CERTIFICATE}"'
        return reply

    @app.errorhandler(404)
    def elsewhere(_error: Exception) -> ResponseReturnValue:
        return redirect("/", code=303)

    return app


def _page(now: Trusted) -> TrustPage:
    pairs = now.fingerprint.split(":")
    groups = tuple(" ".join(pairs[start : start + 4]) for start in range(0, len(pairs), 4))
    return TrustPage(now.address, groups, f"/{CERTIFICATE}")
