"""The composition root: everything the site is made of is put together here."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from flask import Flask
from flask_babel import Babel
from flask_wtf.csrf import CSRFProtect
from jinja2 import StrictUndefined

from academy.content.library import CourseLibrary
from academy.files.photographs import PhotographStore
from academy.settings import PROJECT, Settings
from academy.store.database import Database, open_database
from academy.web import errors, formats, identity, shell
from academy.web.context import EXTENSION, Academy, release, wall_clock
from academy.web.secured import secure, secure_with_tls
from academy.web.times import shop_zone

LARGEST_REQUEST_BYTES = 16_000_000


def create_app(
    settings: Settings,
    *,
    database: Database | None = None,
    library: CourseLibrary | None = None,
    now: Callable[[], datetime] = wall_clock,
) -> Flask:
    """Return the application; a database, a course and a clock may be handed in."""
    app = Flask("academy.web", root_path=str(PROJECT / "academy" / "web"))
    app.config.update(
        SECRET_KEY=settings.secret_key,
        SESSION_COOKIE_NAME="__Host-academy" if settings.secure else "academy",
        SESSION_COOKIE_SECURE=settings.secure,
        SESSION_COOKIE_HTTPONLY=True,
        SESSION_COOKIE_SAMESITE="Lax",
        WTF_CSRF_TIME_LIMIT=None,  # a trainee thinks longer than an hour
        WTF_CSRF_SSL_STRICT=False,  # SameSite and the token suffice; no-referrer browsers may post
        MAX_CONTENT_LENGTH=LARGEST_REQUEST_BYTES,
        MAX_FORM_PARTS=2000,
        BABEL_TRANSLATION_DIRECTORIES=str(PROJECT / "academy" / "locale"),
    )
    app.jinja_env.undefined = StrictUndefined
    app.jinja_env.trim_blocks = True
    app.jinja_env.lstrip_blocks = True
    app.extensions[EXTENSION] = Academy(
        settings,
        database or open_database(settings.database_url),
        library or CourseLibrary(settings.content, kept_at=settings.last_good_course),
        PhotographStore(settings.photographs_url),
        now,
    )
    Babel(app, default_timezone="UTC", timezone_selector=shop_zone)
    CSRFProtect(app)
    for part in (formats, identity, errors, shell):
        part.install(app)
    _register_blueprints(app)
    app.after_request(secure_with_tls if settings.strict_transport else secure)
    app.teardown_request(lambda _error: release())
    return app


def _register_blueprints(app: Flask) -> None:
    """Register one blueprint per capability."""
    from academy.web import elements
    from academy.web.calculators.routes import bp as calculators
    from academy.web.certification.routes import bp as certification
    from academy.web.logbook.routes import bp as logbook
    from academy.web.people.routes import bp as people
    from academy.web.practicals.routes import bp as practicals
    from academy.web.quizzes.routes import bp as quizzes
    from academy.web.study.routes import bp as study
    from academy.web.workshop.routes import bp as workshop

    for blueprint in (
        study,
        quizzes,
        practicals,
        logbook,
        workshop,
        certification,
        people,
        calculators,
        elements.bp,
    ):
        app.register_blueprint(blueprint)
