"""A step is kept as plain values and read again exactly."""

from __future__ import annotations

from decimal import Decimal

import pytest
import rfc8785

from academy.domain.practical.frozen import body_from_frozen, frozen_body
from academy.domain.practical.stages import Help, Pressure, Stage
from academy.domain.practical.steps import Readings, SpotReadings, StepBody
from tests.support.course import a_task
from tests.support.panel_work import DROPPED_BECAUSE, a_working_step, bodies

ODD: list[tuple[Stage, StepBody]] = [
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


STEPS = bodies(a_task()) + ODD


@pytest.mark.parametrize("number", range(len(STEPS)))
def test_a_step_is_read_again_as_it_was_recorded(number: int) -> None:
    stage, body = STEPS[number]
    stored = frozen_body(body)
    rfc8785.dumps(stored)  # plain values only
    assert body_from_frozen(stage, stored) == body


def test_a_reading_keeps_the_digits_that_were_typed() -> None:
    typed = Readings((SpotReadings(1, (Decimal("110.0"), Decimal("110"))),))
    assert frozen_body(typed)["spots"][0]["readings_um"] == ["110.0", "110"]
