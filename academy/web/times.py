"""Days and times on the shop's clock, for pages; signed records say UTC.

The zone is an owner's setting.  Who is not signed in reads UTC.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, tzinfo

from flask import g, has_request_context
from flask_babel import get_timezone

from academy.domain.workshop.gauges import day_of
from academy.store.queries.shop_settings import policy
from academy.web.context import clock, db
from academy.web.formats import when_text
from academy.web.identity import anybody
from academy.web.language import locale


def shop_zone() -> tzinfo:
    """Return the zone of the shop that this request's reader is signed in to."""
    person = anybody() if has_request_context() else None
    if person is None:
        return UTC
    if "shop_zone" not in g:
        g.shop_zone = policy(db(), person.actor.shop_id).zone
    zone: tzinfo = g.shop_zone
    return zone


def shop_day(moment: datetime) -> date:
    """Return the day of a moment on the shop's calendar."""
    return day_of(moment, shop_zone())


def today() -> date:
    """Return today on the shop's calendar."""
    return shop_day(clock())


def when_words(moment: datetime) -> str:
    """Return a moment for a sentence, such as 2 March 2026, 10:30 Europe/Berlin, UTC+01:00."""
    return str(when_text(moment, get_timezone(), locale=locale()).striptags())
