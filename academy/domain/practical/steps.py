"""What each stage of a practical records."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from uuid import UUID

from academy.domain.practical.stages import Help, Pressure, Stage


@dataclass(frozen=True, slots=True)
class SpotReadings:
    """The readings taken at one marked spot, in the order taken; the dropped ones stay on record."""

    spot: int
    readings_um: tuple[Decimal, ...]
    dropped_um: tuple[Decimal, ...] = ()
    dropped_reason: str = ""


@dataclass(frozen=True, slots=True)
class Readings:
    """One round of readings over the section, before or after the work."""

    spots: tuple[SpotReadings, ...]

    @property
    def count(self) -> int:
        """Return how many readings count."""
        return sum(len(spot.readings_um) for spot in self.spots)


@dataclass(frozen=True, slots=True)
class SetUp:
    """The set-up checks that were seen to be present."""

    present: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WorkingStep:
    """One working step: what was used, how long, and what help was given."""

    machine: str
    pad: str
    abrasive: str
    dial: str
    passes: int
    seconds: int
    pressure: Pressure
    help_given: Help


@dataclass(frozen=True, slots=True)
class Inspection:
    """What is left after the panel wipe; the trainee says first, then the supervisor."""

    trainee_sees: str
    supervisor_sees: str


@dataclass(frozen=True, slots=True)
class Judgement:
    """Whether each criterion was met; measured ones are filled from the readings."""

    met: Mapping[str, bool]


@dataclass(frozen=True, slots=True)
class Talk:
    """What went well and the one thing to change."""

    went_well: str
    change_next: str


StepBody = Readings | SetUp | WorkingStep | Inspection | Judgement | Talk


@dataclass(frozen=True, slots=True)
class Step:
    """One recorded step; a later step of the same stage supersedes it, except working steps, which add up."""

    id: UUID
    stage: Stage
    body: StepBody
    recorded_at: datetime
    recorded_by: UUID
