"""What a person sees when something is refused, missing or broken."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from flask import Flask, current_app, request
from flask_wtf.csrf import CSRFError
from sqlalchemy.exc import IntegrityError, SQLAlchemyError
from werkzeug.exceptions import HTTPException

from academy.domain.sentences import TradeError
from academy.services.actor import NotAllowed, NotFound
from academy.web.forms import FormRefused, error_text
from academy.web.language import gettext as _
from academy.web.pages import Page, render


@dataclass(frozen=True, slots=True)
class NotFoundPage(Page):
    """Missing, or not yours."""

    template: ClassVar[str] = "errors/404.html"


@dataclass(frozen=True, slots=True)
class NotAllowedPage(Page):
    """Your role does not allow it."""

    template: ClassVar[str] = "errors/403.html"


@dataclass(frozen=True, slots=True)
class RefusedPage(Page):
    """The trade's rules refuse it, with the sentence why; ``sent`` says that something was typed."""

    template: ClassVar[str] = "errors/422.html"
    reason: str
    sent: bool = True


@dataclass(frozen=True, slots=True)
class BrokenPage(Page):
    """Our own fault."""

    template: ClassVar[str] = "errors/500.html"


@dataclass(frozen=True, slots=True)
class PlainPage(Page):
    """Any other refusal of the web itself, in a sentence."""

    template: ClassVar[str] = "errors/plain.html"
    says: str


def install(app: Flask) -> None:
    """Set the error pages up for an application."""
    app.register_error_handler(TradeError, _trade_error)
    app.register_error_handler(FormRefused, _form_refused)
    app.register_error_handler(CSRFError, _form_too_old)
    app.register_error_handler(HTTPException, _http_error)
    app.register_error_handler(IntegrityError, _at_once)
    app.register_error_handler(SQLAlchemyError, _broken)
    app.register_error_handler(500, _broken)


def _trade_error(error: TradeError) -> tuple[str, int]:
    if isinstance(error, NotFound):
        return render(NotFoundPage(), 404)
    if isinstance(error, NotAllowed):
        return render(NotAllowedPage(), 403)
    return render(RefusedPage(error_text(error), request.method == "POST"), 422)


def _form_refused(error: FormRefused) -> tuple[str, int]:
    """Answer a form that has no page of its own to show its faults on."""
    return render(RefusedPage(" ".join(error.filled.faults.values())), 422)


def _at_once(error: IntegrityError) -> tuple[str, int]:
    """Answer the slower of two people, or two taps, that wrote the same thing at once."""
    current_app.logger.warning("two writers at once: %s", error.orig)
    says = _(
        "Somebody recorded the same thing at this very moment; nothing of yours was kept."
        " Reload the page and look at what stands there."
    )
    return render(RefusedPage(says), 422)


def _form_too_old(_error: CSRFError) -> tuple[str, int]:
    says = _(
        "This form was opened in another session. Go back, reload the page and send it again;"
        " nothing was changed."
    )
    return render(RefusedPage(says), 422)


def _http_error(error: HTTPException) -> tuple[str, int] | HTTPException:
    code = error.code or 500
    if code < 400:
        return error
    match code:
        case 404:
            return render(NotFoundPage(), 404)
        case 403:
            return render(NotAllowedPage(), 403)
        case 401:
            return render(PlainPage(_("Sign in first, then open this page again.")), 401)
        case 405:
            return render(PlainPage(_("This address cannot be opened in this way.")), 405)
        case 413:
            return render(PlainPage(_("The file or form is too large; send a smaller one.")), 413)
        case 503:
            return render(
                PlainPage(_("The course is being mended; the shop owner sees what is wrong.")), 503
            )
    return render(PlainPage(error.description or str(error)), code)


def _broken(error: Exception) -> tuple[str, int]:
    original = getattr(error, "original_exception", None) or error
    current_app.logger.error("request failed", exc_info=original)
    return render(BrokenPage(), 500)
