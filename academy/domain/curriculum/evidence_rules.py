"""How a scheme asks for practicals: the rule that weighs them, its strictness, what may count."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class RuleKind(StrEnum):
    """What is looked at.

    In a row: an unbroken run of clean sections.  By outcomes: every clean and
    every spoiled section is weighed.  By readings: as by outcomes, and while
    nothing is spoiled the gauge's readings may decide sooner.
    """

    IN_A_ROW = "in a row"
    BY_OUTCOMES = "by outcomes"
    BY_READINGS = "by readings"


class Strictness(StrEnum):
    """How much risk a shop takes to save panels; the figures stand with the rules."""

    QUICK = "quick"
    CAREFUL = "careful"
    STRICT = "strict"


@dataclass(frozen=True, slots=True)
class Mix:
    """Over how many different kinds of panel and defect the clean sections have to be spread."""

    curvature: int = 1
    hardness: int = 1
    severity: int = 1


@dataclass(frozen=True, slots=True)
class EvidenceRule:
    """How the assessed sections of one task are weighed.

    ``sections`` replaces the strictness of a run with a number of its own.
    At most ``per_day`` clean sections of a day and ``per_panel`` of a panel in
    a year count; a spoiled section always counts.
    """

    kind: RuleKind
    strictness: Strictness = Strictness.CAREFUL
    sections: int | None = None
    per_panel: int | None = None
    per_day: int | None = None
    mix: Mix = Mix()


def in_a_row(sections: int) -> EvidenceRule:
    """Return the rule that asks for so many clean sections in a row."""
    return EvidenceRule(RuleKind.IN_A_ROW, sections=sections)
