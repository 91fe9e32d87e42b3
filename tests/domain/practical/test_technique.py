"""What passes and seconds say about the arm, and what a strike-through is."""

from __future__ import annotations

import pytest
import yaml

from academy.domain.polishing.dwell import arm_speed_mm_s, working_time_s
from academy.domain.practical.burn_through import AnIncident, ResultOfADrill, what_it_is
from academy.domain.practical.stages import PracticalKind, Pressure
from academy.domain.practical.technique import (
    NEWTONS,
    QUICKEST_MM_S,
    SLOWEST_MM_S,
    SpeedAsTaught,
    SpeedUnknown,
    TooQuick,
    TooSlow,
    arm_speed_of,
)
from academy.settings import PROJECT
from tests.support.panel_work import a_working_step


@pytest.mark.parametrize(("seconds", "speed"), [(432, 25.0), (216, 50.0)])
def test_the_drills_worked_times_give_its_arm_speeds(seconds: float, speed: float) -> None:
    """Four passes, half overlap, 150 mm pad, 450 mm section: 432 s at 25 mm/s (content/drills)."""
    assert arm_speed_mm_s(450, 150, 0.5, 4, seconds) == pytest.approx(speed)
    assert working_time_s(450, 150, speed, 0.5, 4) == pytest.approx(seconds)


@pytest.mark.parametrize(
    ("seconds", "pad_mm", "says"),
    [
        (432, 150, SpeedAsTaught),
        (216, 150, SpeedAsTaught),
        (215, 150, TooQuick),
        (433, 150, TooSlow),
        (0, 150, SpeedUnknown),
        (240, None, SpeedUnknown),
    ],
)
def test_the_speed_is_held_against_the_lessons_range(
    seconds: int, pad_mm: int | None, says: type
) -> None:
    assert isinstance(arm_speed_of(a_working_step(seconds=seconds, pad_mm=pad_mm)), says)


def test_the_ranges_are_those_of_the_course() -> None:
    facts = yaml.safe_load((PROJECT / "content/facts/technique.yaml").read_text("utf-8"))
    arm, force = facts["technique-arm-speed"], facts["technique-force"]
    assert (arm["low"], arm["high"]) == (SLOWEST_MM_S, QUICKEST_MM_S)
    assert (force["low"], force["high"]) == (
        NEWTONS[Pressure.LIGHT][0],
        NEWTONS[Pressure.FIRM][1],
    )


@pytest.mark.parametrize(
    ("kind", "sacrificial", "says"),
    [
        (PracticalKind.COACHED, True, ResultOfADrill),
        (PracticalKind.COACHED, False, AnIncident),
        (PracticalKind.ASSESSED, True, AnIncident),
        (PracticalKind.ASSESSED, False, AnIncident),
    ],
)
def test_striking_through_is_a_result_only_in_practice_on_a_panel_for_it(
    kind: PracticalKind, sacrificial: bool, says: type
) -> None:
    assert isinstance(what_it_is(kind, sacrificial=sacrificial), says)
