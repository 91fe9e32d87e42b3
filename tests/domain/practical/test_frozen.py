"""A step is kept as plain values and read again exactly."""

from __future__ import annotations

from decimal import Decimal
from uuid import uuid4

import pytest
import rfc8785

from academy.domain.practical.frozen import body_from_frozen, frozen_body
from academy.domain.practical.stages import Help, Pressure, Stage
from academy.domain.practical.steps import (
    Cooled,
    GaugeSeen,
    Plan,
    Readings,
    SetUp,
    SpotReadings,
    StepBody,
    WorkingStep,
)
from tests.support.course import a_task
from tests.support.panel_work import DROPPED_BECAUSE, a_set_up, a_working_step, good_bodies

ODD: list[tuple[Stage, StepBody]] = [
    (Stage.GAUGE, GaugeSeen(None, False)),
    (Stage.PLAN, Plan("by eye")),
    (Stage.COOLED, Cooled(0)),
    (Stage.WORKING, a_working_step(set_up_id=uuid4(), pad_mm=150, colour_on_pad=True)),
    (Stage.SET_UP, a_set_up(a_task(), present=(), not_applying={"cord": "battery"}, foil=None)),
    (
        Stage.AFTER,
        Readings(
            (
                SpotReadings(
                    1, (Decimal("110.0"), Decimal("7")), (Decimal("4.50"),), DROPPED_BECAUSE
                ),
            )
        ),
    ),
    *[
        (Stage.WORKING, a_working_step(pressure=pressure, help_given=help_given))
        for pressure, help_given in zip(Pressure, Help, strict=True)
    ],
]


STEPS = list(good_bodies(a_task()).items()) + ODD


@pytest.mark.parametrize("number", range(len(STEPS)))
def test_a_step_is_read_again_as_it_was_recorded(number: int) -> None:
    stage, body = STEPS[number]
    stored = frozen_body(body)
    rfc8785.dumps(stored)  # plain values only
    assert body_from_frozen(stage, stored) == body


def test_a_reading_keeps_the_digits_that_were_typed() -> None:
    typed = Readings((SpotReadings(1, (Decimal("110.0"), Decimal("110"))),))
    assert frozen_body(typed)["spots"][0]["readings_um"] == ["110.0", "110"]


def test_a_step_written_before_a_field_was_kept_is_read_again() -> None:
    earlier = {
        "machine": "dual action",
        "pad": "foam",
        "abrasive": "polish",
        "dial": "4",
        "passes": 4,
        "seconds": 240,
        "pressure": "light",
        "help_given": "none",
    }
    body = body_from_frozen(Stage.WORKING, earlier)
    assert isinstance(body, WorkingStep)
    assert (body.pad_mm, body.colour_on_pad, body.struck_through) == (None, False, False)
    set_up = body_from_frozen(Stage.SET_UP, {"present": ["goggles on"]})
    assert isinstance(set_up, SetUp)
    assert (set_up.foil, set_up.not_applying) == (None, {})
