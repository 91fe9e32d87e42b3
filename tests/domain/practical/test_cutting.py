"""May this section be cut again?  Forbidden, asked, or nothing recorded forbids it; never plainly yes."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from academy.domain.curriculum.kinds import Substrate
from academy.domain.metrology.budget import (
    AskAboutHistory,
    AskAboutPlastic,
    AskAboutRepaint,
    Budget,
    BudgetSpent,
    History,
    MayCut,
    PlannedStep,
    TooThin,
)
from academy.domain.metrology.doubts import (
    AskAboutColour,
    AskAboutNeighbours,
    AskAboutSoftPaint,
    AskReadFirst,
)
from academy.domain.practical.cutting import CutAnswer, SectionKnown, may_section_be_cut
from academy.domain.practical.record import Practical, record
from academy.domain.practical.stages import Stage, stages_of
from academy.domain.practical.steps import StepBody
from academy.domain.workshop.panels import ClearCoat
from tests.support.course import a_task
from tests.support.panel_work import a_practical, a_step, a_working_step, good_bodies, readings

TASK = a_task()
PLANNED = PlannedStep(Decimal("1.0"), Decimal("0.5"))


def known(**overrides: Any) -> SectionKnown:
    """Return a steel section of known history with a budget of 8 µm."""
    fields: dict[str, Any] = {
        "substrate": Substrate.STEEL,
        "history": History.KNOWN,
        "clear_coat": ClearCoat.HARD,
        "budget": Budget(8, 80),
    }
    return SectionKnown(**(fields | overrides))


def before_the_first_step(**overrides: StepBody) -> Practical:
    """Return a practical that waits for its first working step."""
    practical, good = a_practical(task=TASK), good_bodies(TASK)
    for stage in stages_of(TASK)[: stages_of(TASK).index(Stage.WORKING)]:
        practical = record(practical, a_step(stage, overrides.get(stage.name.lower(), good[stage])))
    return practical


def answered(practical: Practical | None = None, **overrides: Any) -> CutAnswer:
    """Return the answer for a good practical unless told otherwise."""
    answer = may_section_be_cut(practical or before_the_first_step(), known(**overrides), PLANNED)
    assert answer is not None
    return answer


def test_nothing_recorded_forbids_a_first_step_within_the_budget() -> None:
    answer = answered()
    assert answer.allowed is True
    assert isinstance(answer.reason, MayCut)
    assert (answer.used_um, answer.left_um) == (0.0, 8.0)


def test_nothing_is_answered_before_anything_was_read() -> None:
    assert may_section_be_cut(a_practical(task=TASK), known(), PLANNED) is None


@pytest.mark.parametrize(
    ("overrides", "reason"),
    [
        ({"history": History.UNKNOWN}, AskAboutHistory),
        ({"history": History.REPAINT}, AskAboutRepaint),
        ({"substrate": Substrate.PLASTIC}, AskAboutPlastic),
        ({"clear_coat": ClearCoat.SOFT}, AskAboutSoftPaint),
        ({"neighbours_um": 150.0}, AskAboutNeighbours),
        ({"neighbours_um": 70.0}, AskAboutNeighbours),
    ],
)
def test_what_makes_it_a_question_is_never_answered_with_yes(
    overrides: dict[str, Any], reason: type
) -> None:
    answer = answered(**overrides)
    assert answer.allowed is None
    assert isinstance(answer.reason, reason)
    assert str(answer.reason).startswith("Ask: ")


def test_a_section_like_its_neighbours_raises_no_question() -> None:
    assert answered(neighbours_um=139.0).allowed is True


@pytest.mark.parametrize("sign", ["colour_on_pad", "struck_through"])
def test_colour_on_the_pad_is_a_question_even_after_new_readings(sign: str) -> None:
    worked = record(before_the_first_step(), a_step(Stage.WORKING, a_working_step(**{sign: True})))
    read = record(worked, a_step(Stage.BETWEEN, good_bodies(TASK)[Stage.BETWEEN]))
    assert isinstance(answered(read).reason, AskAboutColour)


def test_after_a_step_the_section_is_read_before_the_next() -> None:
    worked = record(before_the_first_step(), a_step(Stage.WORKING, a_working_step()))
    answer = answered(worked)
    assert answer.allowed is None
    assert isinstance(answer.reason, AskReadFirst)
    read = record(worked, a_step(Stage.BETWEEN, readings(["109.0", "108.5"])))
    answer = answered(read)
    assert (answer.allowed, answer.spot, answer.used_um) == (True, 2, 1.5)


def test_the_worst_spot_decides() -> None:
    worked = record(before_the_first_step(), a_step(Stage.WORKING, a_working_step()))
    read = record(worked, a_step(Stage.BETWEEN, readings(["110.0", "103.4"])))
    answer = answered(read)
    assert (answer.allowed, answer.spot) == (False, 2)
    assert isinstance(answer.reason, BudgetSpent)


def test_a_plan_that_just_fits_is_allowed_and_a_hundredth_more_is_not() -> None:
    """8 µm in all, 6.5 µm used: 1.0 ± 0.5 µm comes out just at the cap."""
    worked = record(before_the_first_step(), a_step(Stage.WORKING, a_working_step()))
    read = record(worked, a_step(Stage.BETWEEN, readings(["110.0", "103.5"])))
    assert answered(read).allowed is True
    more = may_section_be_cut(read, known(), PlannedStep(Decimal("1.01"), Decimal("0.5")))
    assert more is not None
    assert more.allowed is False


def test_what_earlier_sessions_took_counts_whatever_this_one_read() -> None:
    assert answered(used_um=7.0).allowed is False
    first = readings(["116.6", "116.6"])
    answer = answered(first=first)
    assert answer.allowed is False
    assert answer.used_um == pytest.approx(6.6)


def test_first_readings_at_other_spots_are_no_baseline() -> None:
    assert answered(first=readings(["130.0"] * 5)).used_um == 0.0


def test_a_thin_panel_is_left_alone() -> None:
    thin = before_the_first_step(before=readings(["81.0", "110.0"]))
    answer = answered(thin)
    assert (answer.allowed, answer.spot) == (False, 1)
    assert isinstance(answer.reason, TooThin)
