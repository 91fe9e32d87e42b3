"""Practice panels: what they are, what has come off them and what is left.

The gauge reads total thickness, so a section's budget is counted from its
first reading.  Each session's removal at a spot is added up; a removal that
reads below 0 is noise and gives nothing back.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from fractions import Fraction
from typing import ClassVar

from academy.domain.metrology.exact import Written, exact
from academy.domain.sentences import Sentence

READY_SECTIONS = 2


class Curvature(StrEnum):
    """The shape of a panel: a curved one asks more of the hand and of the gauge."""

    FLAT = "flat"
    GENTLE = "gently curved"
    TIGHT = "tightly curved"


class ClearCoat(StrEnum):
    """How the clear coat answers to the same pad, as a test spot showed it."""

    HARD = "hard"
    SOFT = "soft"
    UNKNOWN = "not known"


@dataclass(frozen=True, slots=True)
class SessionOnSection:
    """What one closed practical took off at each spot, numbered from 1, in micrometres."""

    at: datetime
    removed_um: tuple[Written, ...]


@dataclass(frozen=True, slots=True)
class SectionState:
    """A section's budget: taken off at each spot, at the worst spot, and what is left there.

    ``left_um`` below 0 is overdrawn.
    """

    spots_um: tuple[float, ...]
    used_um: float
    left_um: float
    sessions: int

    @property
    def retired(self) -> bool:
        """Return whether the budget is used; nobody types this."""
        return self.left_um <= 0


def section_state(
    sessions: Sequence[SessionOnSection], budget_um: Written, spots: int
) -> SectionState:
    """Add up what came off and compare the worst spot with the budget.

    The worst spot decides, because paint is cut through where it is thinnest.
    """
    taken = [Fraction(0)] * spots
    for session in sessions:
        for spot, removed in enumerate(session.removed_um[:spots]):
            taken[spot] += max(Fraction(0), exact(removed))
    used = max(taken, default=Fraction(0))
    return SectionState(
        tuple(map(float, taken)), float(used), float(exact(budget_um) - used), len(sessions)
    )


@dataclass(frozen=True, slots=True)
class WorkedSection:
    """A section as the list of what is left needs it."""

    name: str
    substrate: str
    spots: int
    left_um: float
    sacrificial: bool
    prepared: bool


@dataclass(frozen=True, slots=True)
class SectionNeed:
    """What a task asks of a section; ``limit_um`` is the most it may take off."""

    title: str
    substrates: tuple[str, ...]
    spots: int
    limit_um: float | None


@dataclass(frozen=True, slots=True)
class EnoughSections(Sentence):
    """There are enough sections for this task."""

    template: ClassVar[str] = "%(ready)d sections are ready. Nothing to prepare."
    ready: int


@dataclass(frozen=True, slots=True)
class PrepareSection(Sentence):
    """A section still has paint for the task and no fresh defect."""

    template: ClassVar[str] = "Prepare %(section)s next: %(left_um).1f µm is left there."
    section: str
    left_um: float


@dataclass(frozen=True, slots=True)
class NoSectionLeft(Sentence):
    """No section of this shop can carry the task."""

    template: ClassVar[str] = "No section is left for this task. Add a panel."


@dataclass(frozen=True, slots=True)
class FewSectionsLeft(Sentence):
    """Every section that can carry the task is prepared, and they are few."""

    template: ClassVar[str] = "Only %(ready)d is left, and it is prepared. Add a panel."
    ready: int


@dataclass(frozen=True, slots=True)
class SectionsForTask:
    """How many sections a task can still be worked on, how many of them are prepared, and what to do."""

    title: str
    left: int
    ready: int
    advice: Sentence


def sections_for(need: SectionNeed, sections: Sequence[WorkedSection]) -> SectionsForTask:
    """Return the sections left for a task and what to prepare next.

    A section fits when the task can be done on what it is made of, has the
    spots, and its worst spot still has the whole of the task's limit.
    Sacrificial panels are for seeing and feeling, not for tasks.
    """
    fitting = [section for section in sections if _fits(need, section)]
    ready = sum(section.prepared for section in fitting)
    fresh = [section for section in fitting if not section.prepared]
    return SectionsForTask(need.title, len(fitting), ready, _advice(fresh, ready))


def _fits(need: SectionNeed, section: WorkedSection) -> bool:
    return (
        not section.sacrificial
        and section.substrate in need.substrates
        and section.spots >= need.spots
        and section.left_um > 0
        and section.left_um >= (need.limit_um or 0)
    )


def _advice(fresh: Sequence[WorkedSection], ready: int) -> Sentence:
    if ready >= READY_SECTIONS:
        return EnoughSections(ready)
    if fresh:
        best = max(fresh, key=lambda section: section.left_um)
        return PrepareSection(best.name, best.left_um)
    return FewSectionsLeft(ready) if ready else NoSectionLeft()
