"""Today's verification of a practical's gauge, and what the gauge can prove for the task."""

from __future__ import annotations

from flask import url_for

from academy.domain.metrology.gauge_reach import what_the_gauge_can_prove
from academy.domain.metrology.verification import Check
from academy.domain.practical.steps import GaugeSeen
from academy.domain.workshop.gauges import method_for, newest_check, verified_now
from academy.store.queries.gauges import checks_of
from academy.store.queries.practicals import StoredPractical
from academy.store.queries.shop_settings import policy
from academy.store.queries.workshop import gauge, section
from academy.web.context import clock, db
from academy.web.formats import sentence_text
from academy.web.identity import signed_in
from academy.web.language import gettext as _
from academy.web.parts import Filled
from academy.web.practicals.stage_pages import AtThePanel, GaugeSeenPage
from academy.web.times import when_words


def gauge_seen(stored: StoredPractical) -> GaugeSeen:
    """Return today's newest verification, as it is shown and recorded."""
    check = _check_today(stored)
    return GaugeSeen(check.at, check.passed) if check else GaugeSeen(None, False)


def gauge_page(stored: StoredPractical, panel: AtThePanel, form: Filled) -> GaugeSeenPage:
    """Return the page that shows the gauge before it is read with."""
    shop_id, seen = signed_in().shop_id, gauge_seen(stored)
    read_with = gauge(db(), shop_id, stored.gauge_id) if stored.gauge_id else None
    reach = what_the_gauge_can_prove(stored.practical.task, read_with) if read_with else None
    return GaugeSeenPage(
        panel=panel,
        form=form,
        gauge=read_with.label if read_with else "–",
        sign="right" if seen.passed else "fault",
        says=_says(seen),
        reach=sentence_text(reach) if reach else "",
        verify_url=_verify_url(stored) if not seen.passed else "",
    )


def _says(seen: GaugeSeen) -> str:
    if seen.verified_at is None:
        return _("Not verified today. Verify it on zero and foil before the first reading.")
    at = when_words(seen.verified_at)
    if seen.passed:
        return _("Verified on %(at)s: passed.", at=at)
    return _("Verified on %(at)s: failed. Nobody reads with it until it passes.", at=at)


def _check_today(stored: StoredPractical) -> Check | None:
    """Return the newest check of this gauge on this metal, if it is today's."""
    shop_id = signed_in().shop_id
    place = section(db(), shop_id, stored.section_id)
    method = method_for(place.substrate) if place else None
    if stored.gauge_id is None or method is None:
        return None
    checks, zone = checks_of(db(), shop_id, stored.gauge_id, method), policy(db(), shop_id).zone
    newest = newest_check(checks)
    if newest is None:
        return None
    today = verified_now([Check(newest.at, True)], clock(), zone)
    return newest if today else None


def _verify_url(stored: StoredPractical) -> str:
    place = section(db(), signed_in().shop_id, stored.section_id)
    method = method_for(place.substrate) if place else None
    if stored.gauge_id is None or method is None:
        return ""
    return url_for("workshop.verify", gauge_id=stored.gauge_id, method=method.value)
