"""What each stage of a practical records."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from decimal import Decimal
from uuid import UUID

from academy.domain.practical.stages import AgainstReference, Help, Pressure, Stage, StopReason


@dataclass(frozen=True, slots=True)
class FirstLook:
    """The panel under the named light before anything is done; ``photographs`` are digests."""

    light: str
    sees: str
    photographs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class GaugeSeen:
    """Today's verification of the gauge as it was shown; None where there was none."""

    verified_at: datetime | None
    passed: bool


@dataclass(frozen=True, slots=True)
class SpotReadings:
    """The readings taken at one marked spot, in the order taken; the dropped ones stay on record."""

    spot: int
    readings_um: tuple[Decimal, ...]
    dropped_um: tuple[Decimal, ...] = ()
    dropped_reason: str = ""


@dataclass(frozen=True, slots=True)
class Readings:
    """One round of readings over the section.

    ``copied`` ones were written on a bench sheet first; ``sheet`` holds the
    digests of its photographs.
    """

    spots: tuple[SpotReadings, ...]
    copied: bool = False
    sheet: tuple[str, ...] = ()

    @property
    def count(self) -> int:
        """Return how many readings count."""
        return sum(len(spot.readings_um) for spot in self.spots)


@dataclass(frozen=True, slots=True)
class FoilReading:
    """One reading on a certified foil, and how far it may be off with both tolerances."""

    certified_um: Decimal
    reading_um: Decimal
    allowed_um: Decimal

    @property
    def holds(self) -> bool:
        """Return whether the reading is within the tolerances; an equal error holds."""
        return abs(self.reading_um - self.certified_um) <= self.allowed_um


@dataclass(frozen=True, slots=True)
class SetUp:
    """The set-up checks seen to be present, and those that do not apply, each with the reason.

    Two things are proved, where the task has them: the gauge on its foil, and
    the taped edge by a photograph.
    """

    present: tuple[str, ...]
    not_applying: Mapping[str, str] = field(default_factory=dict)
    foil: FoilReading | None = None
    taped_edge: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Plan:
    """What the trainee means to do, and the removal they expect, before the first pass."""

    says: str
    expected_um: Decimal | None = None
    give_or_take_um: Decimal | None = None


@dataclass(frozen=True, slots=True)
class WorkingStep:
    """One working step: what was used, how long, and what help was given.

    ``set_up_id`` is the saved set-up, where it was one; ``pad_mm`` the pad's
    working face.  Both are None in records made before they were kept.
    ``struck_through`` says that colour, primer or metal came to light.
    """

    machine: str
    pad: str
    abrasive: str
    dial: str
    passes: int
    seconds: int
    pressure: Pressure
    help_given: Help
    set_up_id: UUID | None = None
    pad_mm: int | None = None
    colour_on_pad: bool = False
    struck_through: bool = False


@dataclass(frozen=True, slots=True)
class TestSpot:
    """A test spot: the step tried, what it showed after the wipe, and whether it is enough."""

    __test__ = False  # not a test class

    step: WorkingStep
    shows: str
    enough: bool


@dataclass(frozen=True, slots=True)
class TraineeMarks:
    """What the trainee sees after the wipe, before the supervisor says a word."""

    sees: str
    against: AgainstReference


@dataclass(frozen=True, slots=True)
class Inspection:
    """What is left after the panel wipe; the trainee has said first, then the supervisor."""

    trainee_sees: str
    supervisor_sees: str
    against: AgainstReference | None = None


@dataclass(frozen=True, slots=True)
class Cooled:
    """The panel has the temperature of the bay again."""

    waited_min: int
    panel_c: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Judgement:
    """Whether each criterion was met; measured ones are filled from the readings."""

    met: Mapping[str, bool]


@dataclass(frozen=True, slots=True)
class Talk:
    """What went well, the one thing to change, and the drill to do next, where the task has any."""

    went_well: str
    change_next: str
    next_drill: str = ""


@dataclass(frozen=True, slots=True)
class Stopped:
    """Work was stopped for safety."""

    reason: StopReason
    says: str


StepBody = (
    FirstLook
    | GaugeSeen
    | Readings
    | SetUp
    | Plan
    | TestSpot
    | WorkingStep
    | TraineeMarks
    | Inspection
    | Cooled
    | Judgement
    | Talk
    | Stopped
)


@dataclass(frozen=True, slots=True)
class Step:
    """One recorded step; a later step of the same stage supersedes it, except those that add up."""

    id: UUID
    stage: Stage
    body: StepBody
    recorded_at: datetime
    recorded_by: UUID
