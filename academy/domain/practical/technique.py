"""What passes and seconds say about the arm, and what the three levels of pressure mean.

Section of 45 cm, rows that overlap by half: the course's way of working.  The
ranges are the lessons' (common practice, no source): 25 to 50 mm/s, and 20 to
50 N on a level panel with the machine's weight included, in thirds.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import ClassVar

from academy.domain.polishing.dwell import arm_speed_mm_s, dwell_per_pass_s
from academy.domain.practical.stages import Pressure
from academy.domain.practical.steps import WorkingStep
from academy.domain.sentences import Sentence

SECTION_MM = 450.0
OVERLAP = 0.5
SLOWEST_MM_S, QUICKEST_MM_S = 25.0, 50.0

NEWTONS: Mapping[Pressure, tuple[int, int]] = MappingProxyType(
    {Pressure.LIGHT: (20, 30), Pressure.MEDIUM: (30, 40), Pressure.FIRM: (40, 50)}
)


@dataclass(frozen=True, slots=True)
class SpeedUnknown(Sentence):
    """Nobody wrote down the pad's width or the time."""

    template: ClassVar[str] = (
        "Arm speed unknown: write down the pad's working face and the time of the set."
    )


@dataclass(frozen=True, slots=True)
class SpeedAsTaught(Sentence):
    """The arm was as quick as the lesson says."""

    template: ClassVar[str] = (
        "Arm speed about %(speed_mm_s).0f mm/s with half overlap, as taught (25 to 50 mm/s): every"
        " point was under the pad for about %(dwell_s).1f s in each pass."
    )
    speed_mm_s: float
    dwell_s: float


@dataclass(frozen=True, slots=True)
class TooQuick(Sentence):
    """The arm was quicker than the lesson says: less work at each point."""

    template: ClassVar[str] = (
        "Arm speed about %(speed_mm_s).0f mm/s with half overlap, quicker than taught (25 to"
        " 50 mm/s): every point was under the pad for only about %(dwell_s).1f s in each pass. Was"
        " the overlap less, or the section not covered?"
    )
    speed_mm_s: float
    dwell_s: float


@dataclass(frozen=True, slots=True)
class TooSlow(Sentence):
    """The arm was slower than the lesson says: more heat and more removal at each point."""

    template: ClassVar[str] = (
        "Arm speed about %(speed_mm_s).0f mm/s with half overlap, slower than taught (25 to"
        " 50 mm/s): every point was under the pad for about %(dwell_s).1f s in each pass, so more"
        " comes off and it gets hotter. Feel the panel."
    )
    speed_mm_s: float
    dwell_s: float


ArmSpeed = SpeedUnknown | SpeedAsTaught | TooQuick | TooSlow


def arm_speed_of(step: WorkingStep) -> ArmSpeed:
    """Say how quick the arm was over a whole section, and what that means."""
    if not step.pad_mm or not step.seconds:
        return SpeedUnknown()
    speed = arm_speed_mm_s(SECTION_MM, step.pad_mm, OVERLAP, step.passes, step.seconds)
    dwell = dwell_per_pass_s(step.pad_mm, speed, OVERLAP)
    if speed > QUICKEST_MM_S:
        return TooQuick(speed, dwell)
    return TooSlow(speed, dwell) if speed < SLOWEST_MM_S else SpeedAsTaught(speed, dwell)
