"""The outcome follows from the criteria and the readings; nobody types it."""

from __future__ import annotations

from decimal import Decimal
from itertools import product

import pytest

from academy.domain.metrology.verdict import Outcome as RemovalOutcome
from academy.domain.practical.outcome import GaugeFigures, Outcome, judged, measured_of
from academy.domain.practical.stages import Stage
from academy.domain.practical.steps import Judgement, Readings, SpotReadings
from tests.support.course import a_criterion, a_measuring_task, a_task, a_task_by_eye
from tests.support.panel_work import (
    GAUGE,
    a_finished_practical,
    a_practical,
    all_met,
    readings,
)

CRITERIA = (
    a_criterion("cord safe", critical=True),
    a_criterion("eyes safe", critical=True),
    a_criterion("even arm"),
    a_criterion("clean wipe"),
)
TASK = a_task_by_eye(criteria=CRITERIA)


@pytest.mark.parametrize("met", list(product([True, False], repeat=4)), ids=repr)
def test_competent_takes_every_critical_criterion_and_all_but_one_of_the_others(
    met: tuple[bool, bool, bool, bool],
) -> None:
    cord, eyes, arm, wipe = met
    judgement = Judgement(dict(zip([c.id for c in CRITERIA], met, strict=True)))
    practical = a_finished_practical({Stage.CRITERIA: judgement}, task=TASK)
    competent = cord and eyes and (arm or wipe)
    assert (judged(practical, None).outcome is Outcome.COMPETENT) is competent


def test_nothing_judged_yet_is_not_yet_competent() -> None:
    outcome = judged(a_practical(task=TASK), None)
    assert outcome.outcome is Outcome.NOT_YET
    assert not any(criterion.met for criterion in outcome.criteria)


@pytest.mark.parametrize(
    ("after", "verdict", "outcome"),
    [
        pytest.param("109.2", RemovalOutcome.WITHIN, Outcome.COMPETENT, id="0.8 µm of 3"),
        pytest.param("103.0", RemovalOutcome.EXCEEDED, Outcome.NOT_YET, id="7 µm of 3"),
    ],
)
def test_a_measured_criterion_is_met_when_the_readings_show_it(
    after: str, verdict: RemovalOutcome, outcome: Outcome
) -> None:
    practical = a_finished_practical({Stage.AFTER: readings([after, after])})
    shown = judged(practical, GAUGE)
    assert shown.measured is not None
    assert shown.measured.verdict.outcome is verdict
    assert shown.outcome is outcome


def _scattered(middle: str) -> Readings:
    """Return readings at two spots that differ by a micrometre either way."""
    values = tuple(Decimal(middle) + step for step in (Decimal(-1), Decimal(0), Decimal(1)))
    return Readings((SpotReadings(1, values), SpotReadings(2, values)))


def test_where_the_readings_cannot_tell_the_criterion_is_not_met() -> None:
    practical = a_finished_practical(
        {Stage.BEFORE: _scattered("110.0"), Stage.AFTER: _scattered("107.5")}
    )
    shown = judged(practical, GAUGE)
    assert shown.measured is not None
    assert shown.measured.verdict.outcome is RemovalOutcome.CANNOT_TELL
    assert shown.outcome is Outcome.NOT_YET


def test_nobody_judges_a_measured_criterion_by_hand() -> None:
    task = a_task()
    by_hand = Judgement({**all_met(task).met, "within limit": True})
    practical = a_finished_practical(
        {Stage.AFTER: readings(["100.0", "100.0"]), Stage.CRITERIA: by_hand}
    )
    assert judged(practical, GAUGE).outcome is Outcome.NOT_YET


def test_a_dropped_reading_stays_out_of_the_arithmetic() -> None:
    first, second = readings(["109.2", "109.2"]).spots
    noisy = SpotReadings(1, first.readings_um, (Decimal("12.0"),), "the foot stood on dust")
    plain = a_finished_practical({Stage.AFTER: Readings((first, second))})
    dropped = a_finished_practical({Stage.AFTER: Readings((noisy, second))})
    assert measured_of(plain, GAUGE) == measured_of(dropped, GAUGE)


@pytest.mark.parametrize("task", [a_task_by_eye(), a_measuring_task()], ids=lambda task: task.id)
def test_a_task_without_a_limit_measures_no_removal(task: object) -> None:
    practical = a_finished_practical(task=task)
    outcome = judged(practical, GAUGE)
    assert outcome.measured is None
    assert outcome.outcome is Outcome.COMPETENT


def test_removal_is_not_shown_before_both_rounds_of_readings_are_there() -> None:
    assert measured_of(a_practical(), GAUGE) is None


def test_single_readings_without_a_known_gauge_cannot_tell() -> None:
    task = a_task(readings_per_spot=1)
    practical = a_finished_practical(task=task)
    without = judged(practical, None)
    assert without.measured is not None
    assert without.measured.verdict.outcome is RemovalOutcome.CANNOT_TELL
    known = judged(practical, GaugeFigures(Decimal("0.1"), Decimal("0.2")))
    assert known.measured is not None
    assert known.measured.within
