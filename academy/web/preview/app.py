"""The preview's own composition: the site's pages over a draft, for the author alone.

It is the shop's application with other views behind the addresses for
studying.  Nobody signs in, nothing is recorded, and it answers this computer
only.  The shop's application never registers any of it.
"""

from __future__ import annotations

import ipaddress
import secrets
from pathlib import Path
from urllib.parse import urlsplit

from flask import Flask, Response, request
from flask.typing import ResponseReturnValue

from academy.content.library import CourseLibrary
from academy.domain.curriculum.course import Course
from academy.settings import Settings
from academy.web.app import create_app
from academy.web.errors import PlainPage
from academy.web.language import gettext as _
from academy.web.pages import render
from academy.web.preview import frame, routes, studying


class DraftLibrary(CourseLibrary):
    """Serves the newest source as far as it could be read, errors and all."""

    @property
    def course(self) -> Course:
        """Return the draft of the newest source."""
        compiled = self.compiled
        return compiled.draft if compiled else super().course


def create_preview(content: Path, scratch: Path) -> Flask:
    """Return the preview of a course; ``scratch`` is a folder for its search file."""
    app = create_app(_settings(content, scratch), library=DraftLibrary(content))
    # Cookies do not know ports: the preview must not sign an author out of a site beside it.
    app.config["SESSION_COOKIE_NAME"] = "academy-preview"
    app.register_blueprint(routes.bp)
    app.view_functions.update(studying.VIEWS)
    frame.install(app)
    # Before anybody is asked who they are.
    app.before_request_funcs[None].insert(0, _refuse)
    return app


def _settings(content: Path, scratch: Path) -> Settings:
    return Settings(
        database_url=f"sqlite:///{(scratch / 'none.sqlite3').as_posix()}",
        secret_key=secrets.token_hex(32),
        content=content,
        instance=scratch,
        base_url="http://127.0.0.1",
        photographs_url=(scratch / "photographs").as_uri(),
    )


def _refuse() -> ResponseReturnValue | None:
    """Answer this computer alone, and only what the preview shows."""
    # The name that was asked for counts as well: a page from elsewhere can point its own at us.
    if not (is_loopback(request.remote_addr) and is_loopback(_host())):
        # In plain words: the page would tell a stranger what is wrong with the source.
        return Response(_("The preview answers this computer only."), 403, mimetype="text/plain")
    if request.endpoint is None or request.endpoint in _shown():
        return None
    return render(PlainPage(_("The preview shows the course; nothing is recorded here.")), 404)


def _shown() -> frozenset[str]:
    return frozenset({"static", *studying.VIEWS, *routes.ENDPOINTS})


def _host() -> str | None:
    try:
        return urlsplit(f"//{request.host}").hostname
    except ValueError:  # brackets that do not close
        return None


def is_loopback(host: str | None) -> bool:
    """Return whether a name or an address is this computer's own."""
    if host == "localhost":
        return True
    try:
        return ipaddress.ip_address(host or "").is_loopback
    except ValueError:
        return False
