"""What was typed wrong is put right with a reason; the old value and the journal keep what was."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from uuid import UUID, uuid4

import pytest
from sqlalchemy import select
from sqlalchemy.orm import Session

from academy.domain.curriculum.course import Course
from academy.domain.practical.outcome import GaugeFigures
from academy.domain.workshop.corrections import (
    AlreadyRight,
    Correctable,
    Corrected,
    CorrectedMeanwhile,
    NotCorrectable,
)
from academy.domain.workshop.measured_again import ReasonNeeded
from academy.keys.digests import salted_digest
from academy.services.actor import Actor, NotAllowed, NotFound
from academy.services.corrections import NewCorrection, correct_entry
from academy.services.journal import check_journal
from academy.store.database import Database
from academy.store.queries.corrections import corrections, present_values
from academy.store.queries.practicals import stored_practical
from academy.store.queries.workshop import gauge, sections
from academy.store.tables.corrections import WorkshopCorrection
from academy.store.tables.journal import JournalEntry
from tests.support.cast import Cast, ShopPeople
from tests.support.clock import later
from tests.support.journey import PanelSession, a_signed_practical

WHY = "read off the wrong gauge"


def correct(
    session: Session, shop: ShopPeople, field: str, seen: str, value: Correctable,
    *, actor: Actor | None = None, thing: Corrected = Corrected.GAUGE, thing_id: UUID | None = None,
    reason: str = WHY, correction_id: UUID | None = None,
) -> None:  # fmt: skip
    """Correct one value of the shop's gauge unless told otherwise."""
    new = NewCorrection(
        correction_id or uuid4(), thing, thing_id or shop.bench.gauge_id, field, seen, value, reason
    )
    correct_entry(session, actor=actor or shop.supervisor, new=new, now=later(hours=1))
    session.flush()


def test_the_new_value_holds_and_the_old_one_stays_readable(database: Database, cast: Cast) -> None:
    shop = cast.shop
    with database.writing() as session:
        correct(session, shop, "serial", "T-0001", "T-1000")
        correct(session, shop, "certificate_due_on", "", date(2027, 5, 1))
        correct(session, shop, "tolerance_um", "1", Decimal("1.5"))
    with database.reading() as session:
        row = gauge(session, shop.shop_id, shop.bench.gauge_id)
        assert row is not None
        assert (row.serial, row.certificate_due_on) == ("T-1000", date(2027, 5, 1))
        assert row.tolerance.absolute_um == Decimal("1.5")
        kept = {
            one.field: (one.before, one.after, one.reason, one.corrected_by)
            for one in corrections(session, shop.shop_id, shop.bench.gauge_id)
        }
        assert kept == {
            "serial": ("T-0001", "T-1000", WHY, shop.supervisor.name),
            "certificate_due_on": ("", "2027-05-01", WHY, shop.supervisor.name),
            "tolerance_um": ("1", "1.5", WHY, shop.supervisor.name),
        }


def test_the_journal_knows_it_by_a_digest_that_the_kept_words_open(
    database: Database, cast: Cast
) -> None:
    shop = cast.shop
    with database.writing() as session:
        correct(session, shop, "serial", "T-0001", "T-1000")
    with database.reading() as session:
        entry = session.scalars(
            select(JournalEntry).where(JournalEntry.kind == "entry corrected")
        ).one()
        assert (entry.body["thing"], entry.body["field"]) == ("gauge", "serial")
        assert "T-1000" not in str(entry.body)
        kept = session.scalars(select(WorkshopCorrection)).one()
        told = f"T-0001\nT-1000\n{WHY}"
        assert entry.body["values"] == salted_digest(kept.salt, told)
        assert check_journal(session, shop.shop_id).whole


def test_a_panels_words_are_corrected_and_its_metal_is_not(database: Database, cast: Cast) -> None:
    shop = cast.shop
    with database.writing() as session:
        panel_id = sections(session, shop.shop_id)[0].panel_id
        panel = {"thing": Corrected.PANEL, "thing_id": panel_id}
        correct(session, shop, "paint_system", "black, two-layer", "blue, two-layer", **panel)  # type: ignore[arg-type]
        for field in ("substrate", "id", "shop_id", "created_at", "__tablename__"):
            with pytest.raises(NotCorrectable):
                correct(session, shop, field, "steel", "aluminium", **panel)  # type: ignore[arg-type]
        present = present_values(session, shop.shop_id, Corrected.PANEL, panel_id)
        assert present == {"label": "Bonnet 3", "paint_system": "blue, two-layer", "colour": ""}


@pytest.mark.parametrize(
    ("seen", "value", "reason", "refusal"),
    [
        ("T-0001", "T-1000", "  ", ReasonNeeded),
        ("T-0001", "T-0001", WHY, AlreadyRight),
        ("T-0009", "T-1000", WHY, CorrectedMeanwhile),
    ],
)
def test_what_would_say_nothing_or_undo_anothers_is_refused(
    database: Database,
    cast: Cast,
    seen: str,
    value: str,
    reason: str,
    refusal: type[Exception],
) -> None:
    with database.writing() as session:
        with pytest.raises(refusal):
            correct(session, cast.shop, "serial", seen, value, reason=reason)
        assert not corrections(session, cast.shop.shop_id, cast.shop.bench.gauge_id)


def test_only_who_keeps_the_workshop_corrects_and_only_its_own(
    database: Database, cast: Cast
) -> None:
    shop, theirs = cast.shop, cast.strangers.bench.gauge_id
    with database.writing() as session:
        with pytest.raises(NotAllowed):
            correct(session, shop, "serial", "T-0001", "X", actor=shop.trainee)
        with pytest.raises(NotFound):
            correct(session, shop, "serial", "T-0001", "X", thing_id=theirs)
        with pytest.raises(NotFound):
            correct(session, shop, "label", "Bench gauge", "X", thing=Corrected.FOIL)


def test_a_closed_record_keeps_the_figures_it_was_closed_with(
    database: Database, cast: Cast, course: Course
) -> None:
    shop = cast.shop
    with database.writing() as session:
        closed = a_signed_practical(session, shop, course)
        still_open = PanelSession(session, shop, course)
        still_open.open()
        correct(session, shop, "resolution_um", "0.1", Decimal("0.5"))
        figures = {
            one.id: stored_practical(session, shop.shop_id, one.id) for one in (closed, still_open)
        }
        kept, now = figures[closed.id], figures[still_open.id]
        assert kept is not None
        assert now is not None
        assert kept.gauge == GaugeFigures(Decimal("0.1"), Decimal("0.3"))
        assert now.gauge == GaugeFigures(Decimal("0.5"), Decimal("0.3"))


def test_a_correction_sent_twice_is_made_once(database: Database, cast: Cast) -> None:
    shop, once = cast.shop, uuid4()
    with database.writing() as session:
        for _ in range(2):
            correct(session, shop, "serial", "T-0001", "T-1000", correction_id=once)
        assert len(corrections(session, shop.shop_id, shop.bench.gauge_id)) == 1
