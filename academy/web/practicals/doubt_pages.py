"""The page on which readings in doubt are settled, and what other pages say about a doubt."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar
from uuid import UUID

from flask import url_for

from academy.domain.people import Permission
from academy.domain.workshop.measured_again import LEAST_AT_A_SPOT, Settled
from academy.services.actor import Actor
from academy.services.doubt import doubt_of, newest_readings
from academy.store.queries.gauge_doubts import SettlementRow, settlements
from academy.store.queries.gauges import SuspectPractical
from academy.store.queries.practicals import StoredPractical
from academy.store.queries.workshop import gauges
from academy.web.context import db
from academy.web.doubts import doubt_says
from academy.web.language import gettext as _
from academy.web.pages import Page
from academy.web.parts import Cell, Choosable, Column, Filled, Link, ReadingsTable, Row
from academy.web.times import when_words


@dataclass(frozen=True, slots=True)
class DoubtShown:
    """What a practical's page says about its gauge; ``settle`` leads to the page below."""

    says: tuple[str, ...]
    settle: Link | None


NO_DOUBT = DoubtShown((), None)


@dataclass(frozen=True, slots=True)
class SettledLine:
    """One settlement in words, with what was read where the section was measured again."""

    says: str
    reason: str
    table: ReadingsTable | None


@dataclass(frozen=True, slots=True)
class DoubtPage(Page):
    """Measure again with a verified gauge, or let the owner decide."""

    template: ClassVar[str] = "practicals/doubt.html"
    practical_id: UUID
    title: str
    says: str
    settled: tuple[SettledLine, ...]
    form: Filled
    settlement_id: UUID
    gauges: tuple[Choosable, ...]
    spots: tuple[tuple[str, str, str], ...]
    least: int
    decisions: tuple[Choosable, ...]
    may_measure: bool
    may_decide: bool


def doubt_shown(stored: StoredPractical, actor: Actor) -> DoubtShown:
    """Return what there is to say about a practical's gauge, oldest first."""
    shop_id, practical_id = actor.shop_id, stored.practical.id
    found = doubt_of(db(), shop_id, practical_id)
    said = [settled_line(row).says for row in settlements(db(), shop_id, practical_id)]
    if found is None and not said:
        return NO_DOUBT
    url = url_for("practicals.doubt", practical_id=practical_id)
    link = Link(_("Settle it") if found else _("How it was settled"), url)
    may_look = actor.may(Permission.READ_BOARD)
    return DoubtShown((*([doubt_says(found)] if found else []), *said), link if may_look else None)


def doubt_page(
    stored: StoredPractical,
    actor: Actor,
    found: SuspectPractical | None,
    form: Filled,
    settlement_id: UUID,
) -> DoubtPage:
    """Return the page for who is signed in; the trainee concerned settles nothing."""
    other = actor.person_id != stored.practical.trainee_id
    ready = found is not None and other and stored.practical.closed_at is not None
    read = newest_readings(stored)
    return DoubtPage(
        practical_id=stored.practical.id,
        title=_("Readings in doubt"),
        says=doubt_says(found) if found else _("Nothing about these readings is in doubt now."),
        settled=tuple(
            settled_line(row) for row in settlements(db(), actor.shop_id, stored.practical.id)
        ),
        form=form,
        settlement_id=settlement_id,
        gauges=tuple(Choosable(str(g.id), g.label) for g in gauges(db(), actor.shop_id)),
        spots=tuple(
            (
                f"spot-{spot.spot}",
                _("Spot %(number)d", number=spot.spot),
                _("on record: %(um)s µm", um=" ".join(f"{um:f}" for um in spot.readings_um)),
            )
            for spot in (read.spots if read else ())
        ),
        least=LEAST_AT_A_SPOT,
        decisions=(Choosable("accept", _("stand")), Choosable("refuse", _("do not count"))),
        may_measure=ready and actor.may(Permission.ASSESS_PRACTICAL),
        may_decide=ready and actor.may(Permission.SETTLE_DOUBT),
    )


def settled_line(row: SettlementRow) -> SettledLine:
    """Return one settlement in words."""
    values = {"person": row.settled_by, "when": when_words(row.settled_at), "gauge": row.gauge}
    return SettledLine(_settled_says(row) % values, row.reason, _again_table(row))


def _settled_says(row: SettlementRow) -> str:
    if row.way is Settled.ACCEPTED:
        return _("%(person)s let the readings stand, %(when)s.")
    if row.way is Settled.REFUSED:
        return _("%(person)s refused the readings, %(when)s. The practical no longer counts.")
    if row.stands:
        return _("%(person)s measured again with %(gauge)s, %(when)s: it agrees, they stand.")
    return _("%(person)s measured again with %(gauge)s, %(when)s: it differs, the owner decides.")


def _again_table(row: SettlementRow) -> ReadingsTable | None:
    if not row.readings:
        return None
    return ReadingsTable(
        _("Measured again with %(gauge)s, in µm", gauge=row.gauge),
        (
            Column(_("Spot")),
            Column(_("On record")),
            Column(_("Again")),
            Column(_("May differ by")),
            Column(_("Outcome"), words=True),
        ),
        tuple(
            Row(
                _("Spot %(number)d", number=number),
                (
                    Cell(f"{float(spot['recorded_um']):.1f}"),
                    Cell(f"{float(spot['again_um']):.1f}"),
                    Cell(f"{float(spot['allowed_um']):.1f}"),
                    Cell(_("agrees"), sign="valid")
                    if spot["agrees"]
                    else Cell(_("differs"), sign="fault"),
                ),
            )
            for number, spot in enumerate(row.readings, 1)
        ),
    )
