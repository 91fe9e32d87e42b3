"""What makes 'may this section be cut again?' a question for a person, whatever the readings say."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from academy.domain.sentences import Sentence

# Common practice, no source: neighbouring panels from the factory read within some 20 µm of one
# another; another layer of clear alone adds 30 µm and more.
FAR_FROM_NEIGHBOURS_UM = 30.0


@dataclass(frozen=True, slots=True)
class AskAboutSoftPaint(Sentence):
    """The same pad takes far more off."""

    template: ClassVar[str] = (
        "Ask: this clear coat is soft, so a set takes more off than the plan may say."
        " By the readings alone: %(by_readings)s"
    )
    by_readings: Sentence


@dataclass(frozen=True, slots=True)
class AskAboutColour(Sentence):
    """Colour on the pad: single-stage paint, or the clear coat is through."""

    template: ClassVar[str] = (
        "Ask: colour came on the pad. Either this paint has no clear coat, or it is through."
        " By the readings alone: %(by_readings)s"
    )
    by_readings: Sentence


@dataclass(frozen=True, slots=True)
class AskAboutNeighbours(Sentence):
    """Another history than the panels around it."""

    template: ClassVar[str] = (
        "Ask: this section reads %(section_um).0f µm and what lies around it %(neighbours_um).0f µm."
        " It may have been repainted or already cut. By the readings alone: %(by_readings)s"
    )
    section_um: float
    neighbours_um: float
    by_readings: Sentence


@dataclass(frozen=True, slots=True)
class AskReadFirst(Sentence):
    """Nobody knows what the last step took."""

    template: ClassVar[str] = (
        "Ask: nobody has read since %(steps)d working steps. Read the spots, then look here again."
        " By the last readings alone: %(by_readings)s"
    )
    steps: int
    by_readings: Sentence


Doubt = AskAboutSoftPaint | AskAboutColour | AskAboutNeighbours | AskReadFirst


def far_from_neighbours(section_um: float, neighbours_um: float | None) -> bool:
    """Return whether a section reads unlike what lies around it."""
    return neighbours_um is not None and abs(section_um - neighbours_um) > FAR_FROM_NEIGHBOURS_UM
