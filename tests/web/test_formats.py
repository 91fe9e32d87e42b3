"""How lengths, shares and times are written on a page."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta, timezone
from decimal import Decimal
from zoneinfo import ZoneInfo

import pytest
from flask import Flask
from flask_babel import Babel
from hypothesis import given
from hypothesis import strategies as st
from markupsafe import Markup

from academy.domain.units import converted
from academy.web import formats
from academy.web.formats import date_text, length_text, percent_text, ramp_step, when_text

GAP = "\N{NO-BREAK SPACE}"
MINUS = "\N{MINUS SIGN}"


def plain(text: object) -> str:
    return Markup(str(text)).striptags().replace(GAP, " ")


@pytest.mark.parametrize(
    ("value_um", "places", "shown"),
    [
        (3.4, 1, "3.4 µm (0.134 mil)"),
        (100, 0, "100 µm (3.94 mil)"),
        (Decimal("0.1"), 1, "0.1 µm (0.004 mil)"),
        (25.4, 1, "25.4 µm (1.000 mil)"),
        (0.04, 1, "0.0 µm (0.002 mil)"),
        (-0.04, 1, f"0.0 µm ({MINUS}0.002 mil)"),
        (-2.5, 1, f"{MINUS}2.5 µm ({MINUS}0.098 mil)"),
    ],
)
def test_a_thickness_is_shown_in_micrometres_with_mils_beside_it(
    value_um: float | Decimal, places: int, shown: str
) -> None:
    assert plain(length_text(value_um, places)) == shown


@given(tenths=st.integers(-20_000, 20_000))
def test_the_mils_shown_turn_back_into_the_micrometres_shown(tenths: int) -> None:
    shown = plain(length_text(tenths / 10)).replace(MINUS, "-")
    micrometres, mils = shown.removesuffix(" mil)").split(" µm (")
    back_um = converted(Decimal(mils), "mil", "um")
    assert abs(back_um - float(micrometres)) < 0.05


def test_number_and_unit_never_part_at_the_end_of_a_line() -> None:
    assert f"3.4{GAP}µm" in length_text(3.4)
    assert f"73{GAP}%" in percent_text(0.734)


def test_a_reader_of_german_sees_a_decimal_comma() -> None:
    assert plain(length_text(3.4, locale="de")) == "3,4 µm (0,134 mil)"


def test_a_long_length_is_not_broken_into_groups_that_look_like_decimals() -> None:
    assert plain(length_text(1250, 0, locale="de")).startswith("1250 µm")


@pytest.mark.parametrize("nonsense", [float("nan"), float("inf"), Decimal("NaN"), "3.4", None])
def test_what_is_not_a_number_is_refused_rather_than_shown(nonsense: object) -> None:
    with pytest.raises(ValueError, match="not a number"):
        length_text(nonsense)  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="not a number"):
        percent_text(nonsense)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("value", "places", "of", "shown"),
    [(0.734, 0, 1, "73 %"), (0.734, 1, 1, "73.4 %"), (60, 0, 100, "60 %"), (0, 0, 1, "0 %")],
)
def test_a_share_is_shown_in_percent(value: float, places: int, of: float, shown: str) -> None:
    assert plain(percent_text(value, places, of=of)) == shown


def test_a_time_says_on_whose_clock_it_was() -> None:
    moment = datetime(2026, 11, 25, 23, 30, tzinfo=UTC)
    assert plain(when_text(moment, UTC)) == "25 November 2026, 23:30 UTC"
    berlin = when_text(moment, ZoneInfo("Europe/Berlin"))
    assert plain(berlin) == "26 November 2026, 00:30 Europe/Berlin, UTC+01:00"
    assert 'datetime="2026-11-26T00:30:00+01:00"' in berlin


@pytest.mark.parametrize(
    ("minutes", "shown"), [(-210, f"UTC{MINUS}03:30"), (345, "UTC+05:45"), (0, "UTC")]
)
def test_the_distance_from_utc_is_shown_to_the_minute(minutes: int, shown: str) -> None:
    zone = timezone(timedelta(minutes=minutes))
    assert plain(when_text(datetime(2026, 6, 1, 12, tzinfo=UTC), zone)).endswith(shown)


def test_a_time_without_a_zone_is_refused() -> None:
    with pytest.raises(ValueError, match="has no time zone"):
        when_text(datetime(2026, 11, 25, 8, 0), UTC)  # noqa: DTZ001


def test_a_day_is_written_in_words_and_a_time_is_not_taken_for_a_day() -> None:
    shown = date_text(date(2026, 11, 25))
    assert plain(shown) == "25 November 2026"
    assert 'datetime="2026-11-25"' in shown
    with pytest.raises(TypeError, match="time zone"):
        date_text(datetime(2026, 11, 25, tzinfo=UTC))


@pytest.mark.parametrize(
    ("value_um", "step"), [(-1, 1), (0, 1), (0.5, 1), (0.51, 2), (1.5, 3), (3, 6), (99, 6)]
)
def test_a_shade_is_one_of_six_and_stays_at_the_ends(value_um: float, step: int) -> None:
    assert ramp_step(value_um, 3) == step


def test_templates_write_values_with_the_filters() -> None:
    app = Flask(__name__)
    Babel(app, default_timezone="Europe/Berlin", default_locale="de")
    formats.install(app)
    shown = app.jinja_env.from_string(
        "{{ 3.4 | micrometres }}; {{ 0.5 | percent }}; {{ day | date }}; {{ moment | when }}; "
        "{{ [1, 2] | length }}"
    )
    with app.test_request_context():
        text = shown.render(day=date(2026, 3, 1), moment=datetime(2026, 3, 1, 8, tzinfo=UTC))
    assert plain(text) == (
        "3,4 µm (0,134 mil); 50 %; 1. März 2026; 1. März 2026, 09:00 UTC+01:00; 2"
    )
