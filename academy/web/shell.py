"""What stands round every page: the shop, the person, and where their roles let them go."""

from __future__ import annotations

from flask import Flask, has_request_context, request, url_for
from flask_babel import lazy_gettext

from academy.domain.people import Permission
from academy.web.identity import SignedInPerson, anybody
from academy.web.language import gettext as _
from academy.web.language import locale
from academy.web.parts import Link, Shell
from academy.web.plain_http import what_is_missing

# label, endpoint, permission: the order is the order of a working day
PLACES = (
    (lazy_gettext("Study"), "study.course_overview", Permission.STUDY),
    (lazy_gettext("Practicals"), "practicals.overview", Permission.READ_PRACTICAL),
    (lazy_gettext("Logbook"), "logbook.own", Permission.READ_OWN_LOGBOOK),
    (lazy_gettext("Board"), "certification.board", Permission.READ_BOARD),
    (lazy_gettext("People"), "people.overview", Permission.READ_PEOPLE),
    (lazy_gettext("Examinations"), "quizzes.examinations_of_shop", Permission.ENTER_PAPER),
    (lazy_gettext("Disputes"), "quizzes.disputes_of_shop", Permission.DECIDE_DISPUTE),
    (lazy_gettext("Ratings"), "quizzes.own_ratings", Permission.RATE_QUESTIONS),
    (lazy_gettext("Question quality"), "quizzes.quality", Permission.JUDGE_QUESTIONS),
    (lazy_gettext("Workshop"), "workshop.overview", Permission.READ_WORKSHOP),
    (lazy_gettext("Calculators"), "calculators.overview", Permission.USE_CALCULATORS),
    (lazy_gettext("Course check"), "study.problems", Permission.READ_COURSE_PROBLEMS),
)


def install(app: Flask) -> None:
    """Give every template its ``shell``."""
    app.context_processor(lambda: {"shell": shell()})


def shell() -> Shell:
    """Return the frame of this request's page."""
    asked = has_request_context()
    person, missing = (anybody(), what_is_missing()) if asked else (None, "")
    language = locale()
    if person is None:
        account = (Link(_("Sign in"), url_for("people.sign_in")),)
        return Shell(
            _("Paint correction training"), language, account=account, missing_without_tls=missing
        )
    return Shell(
        shop_name=person.row.shop_name,
        language=language,
        person_name=person.row.name,
        roles=tuple(_role_word(role) for role in sorted(person.row.roles)),
        navigation=_navigation(person),
        sign_out_url=url_for("people.sign_out"),
        demo=person.row.demo,
        missing_without_tls=missing,
    )


def _navigation(person: SignedInPerson) -> tuple[Link, ...]:
    here = (request.endpoint or "").split(".")[0]
    return tuple(
        Link(str(label), url_for(endpoint), _current(endpoint, here))
        for label, endpoint, permission in PLACES
        if person.actor.may(permission)
    )


def _current(endpoint: str, here: str) -> bool:
    if here == "quizzes":
        return endpoint == _place_of_sittings(request.path)
    if endpoint == "study.problems" or request.endpoint == "study.problems":
        return endpoint == request.endpoint
    return endpoint.split(".")[0] == here


def _place_of_sittings(path: str) -> str:
    """Return the place a page about sittings belongs to; a sitting itself is part of studying."""
    if path.startswith("/disputes"):
        return "quizzes.disputes_of_shop"
    if path.startswith("/ratings"):
        return "quizzes.own_ratings"
    if path.startswith("/questions"):
        return "quizzes.quality"
    if path.startswith(("/examinations", "/experience")):
        return "quizzes.examinations_of_shop"
    return "study.course_overview"


def _role_word(role: str) -> str:
    words = {"trainee": _("trainee"), "supervisor": _("supervisor"), "owner": _("owner")}
    return words[role]
