"""How measured values, shares and times are written on a page.

The functions take the locale and the time zone as arguments; ``install`` puts
them into Jinja as the filters ``micrometres``, ``percent``, ``when``, ``day``, ``date``
and ``sentence``, with the reader's locale and the shop's time zone.
"""

from __future__ import annotations

import math
from datetime import date, datetime, tzinfo
from decimal import Decimal
from enum import StrEnum
from numbers import Real

from babel.dates import format_date, format_time
from babel.numbers import format_decimal
from flask import Flask
from flask_babel import get_timezone
from jinja2 import pass_context
from jinja2.runtime import Context
from markupsafe import Markup

from academy.domain.sentences import Sentence
from academy.domain.units import converted
from academy.web.language import day_text, gettext
from academy.web.language import locale as reader_locale
from academy.web.reading_units import chosen_system, in_system

RAMP_STEPS = 6
NO_BREAK = "\N{NO-BREAK SPACE}"


def length_text(value_um: float | Decimal, places: int = 1, *, locale: str = "en") -> Markup:
    """Return a thickness or removal in micrometres with the mil value beside it.

    Parameters
    ----------
    value_um
        Length in micrometres; negative values are written with a minus sign.
    places
        Decimals of the micrometre value.  The mil value carries two more, so
        that it can be turned back into the same micrometres: half a unit of its
        last place is 0.127 of the micrometre value's last place.

    Raises
    ------
    ValueError
        If the value is not a finite number.
    """
    _check_finite(value_um)
    micrometres = _decimal(value_um, places, locale)
    mils = _decimal(converted(value_um, "um", "mil"), places + 2, locale)
    return Markup(
        '<span class="quantity">{um}{gap}µm</span> <span class="quantity">({mil}{gap}mil)</span>'
    ).format(um=micrometres, mil=mils, gap=NO_BREAK)


def percent_text(value: float, places: int = 0, *, of: float = 1.0, locale: str = "en") -> Markup:
    """Return a share in percent; ``of`` is the whole (1 for a share, 100 for a percentage)."""
    _check_finite(value)
    number = _decimal(value / of * 100, places, locale)
    return Markup('<span class="quantity">{}{}%</span>').format(number, NO_BREAK)


def date_text(day: date, *, locale: str = "en") -> Markup:
    """Return a day in words, for example 25 November 2026.

    Raises
    ------
    TypeError
        If given a time: the day of a time depends on the zone, so a time is
        written with ``when_text``.
    """
    if isinstance(day, datetime):
        raise TypeError("a time is shown with 'when': its day depends on the time zone")
    return Markup('<time datetime="{}">{}</time>').format(
        day.isoformat(), _day_in_words(day, locale)
    )


def when_text(moment: datetime, zone: tzinfo, *, locale: str = "en") -> Markup:
    """Return a time on the clock of ``zone``, with the zone's name and its distance from UTC.

    Raises
    ------
    ValueError
        If the time is naive: nobody can say on whose clock it was read.
    """
    if moment.utcoffset() is None:
        raise ValueError(f"{moment!r} has no time zone")
    local = moment.astimezone(zone)
    return Markup('<time datetime="{}">{}, {} <small>{}</small></time>').format(
        local.isoformat(timespec="seconds"),
        _day_in_words(local, locale),
        format_time(local, "HH:mm", locale=locale),
        _clock_name(local),
    )


def sentence_text(says: Sentence | str) -> str:
    """Return a sentence of the trade in the reader's language, its values filled in."""
    if isinstance(says, Sentence):
        return gettext(says.template, **translated_fields(says))
    return says


def translated_fields(says: Sentence) -> dict[str, object]:
    """Return a sentence's values: a sentence or a word in it translated, a day in words."""
    return {name: _in_words(value) for name, value in says.fields().items()}


def _in_words(value: object) -> object:
    if isinstance(value, Sentence):
        return sentence_text(value)
    if isinstance(value, StrEnum):
        return gettext(value.value)
    if isinstance(value, date) and not isinstance(value, datetime):
        return day_text(value)
    return value


def ramp_step(value_um: float, full_um: float) -> int:
    """Return the shade (1 to 6) of a value between nothing and ``full_um``.

    Values outside are drawn at the nearest end: the printed number tells.
    """
    _check_finite(value_um)
    share = value_um / full_um
    return min(max(math.ceil(share * RAMP_STEPS), 1), RAMP_STEPS)


def install(app: Flask) -> None:
    """Make the filters known to the templates of ``app``.

    The length filter is called ``micrometres``: Jinja's own ``length`` counts.
    """
    app.jinja_env.filters.update(
        micrometres=_micrometres,
        percent=_percent,
        date=_date,
        when=_when,
        day=_day,
        sentence=sentence_text,
        in_units=_in_units,
    )


def _in_units(html: str) -> Markup:
    return in_system(html, chosen_system())


# A filter that takes the context is never worked out while a template is compiled,
# when the reader's language is not known yet.
@pass_context
def _micrometres(_context: Context, value_um: float | Decimal, places: int = 1) -> Markup:
    return length_text(value_um, places, locale=reader_locale())


@pass_context
def _percent(_context: Context, value: float, places: int = 0, of: float = 1.0) -> Markup:
    return percent_text(value, places, of=of, locale=reader_locale())


@pass_context
def _date(_context: Context, day: date) -> Markup:
    return date_text(day, locale=reader_locale())


@pass_context
def _when(_context: Context, moment: datetime, zone: tzinfo | None = None) -> Markup:
    return when_text(moment, zone or get_timezone(), locale=reader_locale())


@pass_context
def _day(_context: Context, moment: datetime) -> Markup:
    return date_text(moment.astimezone(get_timezone()).date(), locale=reader_locale())


def _day_in_words(day: date, locale: str) -> str:
    # Babel's plain English is American; day, month, year is read the same everywhere.
    pattern = "d MMMM y" if locale.startswith("en") else "long"
    return str(format_date(day, pattern, locale=locale))


def _decimal(value: float | Decimal, places: int, locale: str) -> str:
    """Return the number with exactly that many decimals and a true minus sign."""
    rounded = Decimal(str(value)).quantize(Decimal(1).scaleb(-places)) + 0  # no minus before a zero
    pattern = "0." + "0" * places if places else "0"
    return str(format_decimal(rounded, pattern, locale=locale)).replace("-", "\N{MINUS SIGN}")


def _check_finite(value: float | Decimal) -> None:
    if not isinstance(value, Real | Decimal) or not math.isfinite(value):
        raise ValueError(f"{value!r} is not a number that can be shown")


def _clock_name(local: datetime) -> str:
    """Return the name of a zone with its distance from UTC at that moment."""
    name = getattr(local.tzinfo, "key", "")
    distance = _distance_from_utc(local)
    return distance if name in {"", "UTC"} else f"{name}, {distance}"


def _distance_from_utc(local: datetime) -> str:
    distance = local.utcoffset()
    if not distance:
        return "UTC"
    minutes = round(distance.total_seconds() / 60)
    sign = "+" if minutes > 0 else "\N{MINUS SIGN}"
    return f"UTC{sign}{abs(minutes) // 60:02d}:{abs(minutes) % 60:02d}"
