"""What is signed: ids, readings and verdict; no name and no free text."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from sqlalchemy.orm import Session

from academy.domain.curriculum.course import Course
from academy.domain.practical.stages import Help, Stage, stages_of
from academy.domain.practical.steps import Readings, SpotReadings, StepBody
from academy.keys.digests import canonical
from academy.services.practical_record import text_unchanged, unchanged
from academy.store.database import Database
from academy.store.queries.practicals import StoredRecord, stored_practical
from tests.support.cast import Cast
from tests.support.course import a_task
from tests.support.journey import PanelSession, a_signed_practical
from tests.support.panel_work import (
    CHANGE_NEXT,
    DROPPED_BECAUSE,
    NAMED_LIGHT,
    PLANNED,
    SEEN_BY_SUPERVISOR,
    SEEN_BY_TRAINEE,
    SEEN_FIRST,
    SHOWN_BY_TEST_SPOT,
    WENT_WELL,
    a_working_step,
    readings,
)

FREE_TEXTS = (
    SEEN_BY_TRAINEE,
    SEEN_BY_SUPERVISOR,
    WENT_WELL,
    CHANGE_NEXT,
    DROPPED_BECAUSE,
    SEEN_FIRST,
    NAMED_LIGHT,
    PLANNED,
    SHOWN_BY_TEST_SPOT,
)
ORDER = stages_of(a_task())
INSPECTED, TALK = ORDER.index(Stage.INSPECTION) + 1, ORDER.index(Stage.TALK) + 1


def with_everything_said() -> dict[Stage, StepBody]:
    """Return readings of which one was dropped for a reason."""
    first, second = readings(["110.0", "110.0"]).spots
    return {
        Stage.BEFORE: Readings(
            (SpotReadings(1, first.readings_um, (Decimal("12.0"),), DROPPED_BECAUSE), second)
        )
    }


def signed(session: Session, cast: Cast, course: Course) -> StoredRecord:
    """Return the record of a practical in which everything was said."""
    done = a_signed_practical(session, cast.shop, course, overrides=with_everything_said())
    stored = stored_practical(session, cast.shop.shop_id, done.id)
    assert stored is not None
    assert stored.record is not None
    return stored.record


def test_no_name_and_no_free_text_enters_the_signed_bytes(
    database: Database, cast: Cast, course: Course
) -> None:
    with database.writing() as session:
        record = signed(session, cast, course)
    signed_bytes = canonical(record.record).decode()
    worked = a_working_step()
    for text in (*cast.names, *FREE_TEXTS, worked.machine, worked.pad, worked.abrasive):
        assert text not in signed_bytes
        assert text not in canonical(record.salts).decode()
    assert str(cast.shop.trainee.person_id) in signed_bytes
    assert '"readings_um":["110.0","110.0","110.0"]' in signed_bytes


def test_each_free_text_stands_as_a_digest_that_its_salt_opens(
    database: Database, cast: Cast, course: Course
) -> None:
    with database.writing() as session:
        record = signed(session, cast, course)
    assert text_unchanged(record, TALK, "went_well", WENT_WELL)
    assert text_unchanged(record, TALK, "change_next", CHANGE_NEXT)
    assert text_unchanged(record, INSPECTED, "trainee_sees", SEEN_BY_TRAINEE)
    assert not text_unchanged(record, TALK, "went_well", WENT_WELL + "!")
    assert not text_unchanged(record, TALK, "change_next", WENT_WELL)
    assert not text_unchanged(record, TALK, "nothing", WENT_WELL)
    assert len(set(record.salts.values())) == len(record.salts)


def test_erasing_the_salts_leaves_the_signature_whole(
    database: Database, cast: Cast, course: Course
) -> None:
    with database.writing() as session:
        record = signed(session, cast, course)
    erased = replace(record, salts={})
    assert unchanged(erased)
    assert not text_unchanged(erased, TALK, "went_well", WENT_WELL)


@pytest.mark.parametrize("field", ["outcome", "trainee", "closed_at", "steps"])
def test_a_changed_record_no_longer_has_its_digest(
    database: Database, cast: Cast, course: Course, field: str
) -> None:
    with database.writing() as session:
        record = signed(session, cast, course)
    assert unchanged(record)
    assert not unchanged(replace(record, record={**record.record, field: "competent "}))


def test_the_record_says_what_was_measured_in_decimals(
    database: Database, cast: Cast, course: Course
) -> None:
    with database.writing() as session:
        record = signed(session, cast, course).record
    assert record["measured"]["verdict"] == "within"
    assert record["measured"]["removal"]["removed_um"] == "0.8000"
    assert record["gauge"] == {
        "id": str(cast.shop.bench.gauge_id),
        "resolution_um": "0.1",
        "repeatability_um": "0.3",
    }
    assert record["criteria"] == {
        "within limit": True, "cord safe": True, "even arm": True, "clean wipe": True,
    }  # fmt: skip


def test_taking_over_stands_in_the_record(database: Database, cast: Cast, course: Course) -> None:
    with database.writing() as session:
        helped = PanelSession(session, cast.shop, course)
        helped.open()
        helped.work({Stage.WORKING: a_working_step(help_given=Help.TOOK_OVER)})
        assert helped.close().record["taken_over"] is True
