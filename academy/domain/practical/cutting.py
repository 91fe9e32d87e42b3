"""May this section be cut again?  Asked before every cutting step, with the arithmetic.

The best answer is that nothing recorded forbids it: the supervisor decides.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from academy.domain.curriculum.kinds import Substrate
from academy.domain.metrology.budget import (
    Budget,
    CutDecision,
    History,
    PlannedStep,
    may_cut_again,
)
from academy.domain.metrology.doubts import (
    AskAboutColour,
    AskAboutNeighbours,
    AskAboutSoftPaint,
    AskReadFirst,
    far_from_neighbours,
)
from academy.domain.practical.record import Practical
from academy.domain.practical.steps import Readings
from academy.domain.sentences import Sentence
from academy.domain.workshop.panels import ClearCoat


@dataclass(frozen=True, slots=True)
class SectionKnown:
    """What is on record of a section and its panel.

    ``first`` are its first readings ever; None: those of this practical are.
    ``used_um`` is the most that closed practicals took off at any spot, and
    ``neighbours_um`` what the panel's other sections read last.
    """

    substrate: Substrate
    history: History
    clear_coat: ClearCoat
    budget: Budget
    first: Readings | None = None
    used_um: float = 0.0
    neighbours_um: float | None = None


@dataclass(frozen=True, slots=True)
class CutAnswer:
    """The answer for the worst spot; ``allowed`` None is 'ask'."""

    allowed: bool | None
    spot: int
    used_um: float
    left_um: float
    reason: Sentence


def may_section_be_cut(
    practical: Practical, known: SectionKnown, planned: PlannedStep
) -> CutAnswer | None:
    """Return whether the next cutting step may be taken, or None before anything was read.

    Judged spot by spot: what forbids it at one spot forbids it, and what is a
    question at one spot is a question.
    """
    now = practical.newest_readings
    if now is None or practical.before is None:
        return None
    first = _baseline(known, practical.before, now)
    answers = [
        _at_spot(number, before, after, known, planned)
        for number, (before, after) in enumerate(zip(_means(first), _means(now), strict=True), 1)
    ]
    worst = min(answers, key=_order)
    return _doubted(practical, known, worst, float(sum(_means(now)) / len(now.spots)))


def _at_spot(
    number: int, first_um: Decimal, now_um: Decimal, known: SectionKnown, planned: PlannedStep
) -> CutAnswer:
    decision: CutDecision = may_cut_again(
        first_um,
        now_um,
        planned,
        budget=known.budget,
        largest_used_um=known.used_um,
        history=known.history,
        on_plastic=known.substrate is Substrate.PLASTIC,
    )
    return CutAnswer(decision.allowed, number, decision.used_um, decision.left_um, decision.reason)


def _doubted(
    practical: Practical, known: SectionKnown, answer: CutAnswer, section_um: float
) -> CutAnswer:
    """Turn a yes into a question where something besides the readings speaks against it."""
    if answer.allowed is not True:
        return answer
    doubt = _doubt(practical, known, answer.reason, section_um)
    if doubt is None:
        return answer
    return CutAnswer(None, answer.spot, answer.used_um, answer.left_um, doubt)


def _doubt(
    practical: Practical, known: SectionKnown, by_readings: Sentence, section_um: float
) -> Sentence | None:
    if any(step.colour_on_pad or step.struck_through for step in practical.machine_work):
        return AskAboutColour(by_readings)
    if practical.steps_since_readings:
        return AskReadFirst(practical.steps_since_readings, by_readings)
    if known.clear_coat is ClearCoat.SOFT:
        return AskAboutSoftPaint(by_readings)
    neighbours_um = known.neighbours_um
    if neighbours_um is not None and far_from_neighbours(section_um, neighbours_um):
        return AskAboutNeighbours(section_um, neighbours_um, by_readings)
    return None


def _order(answer: CutAnswer) -> tuple[int, float]:
    """Forbidden before asked before allowed, and among equals the spot with the least left."""
    return {False: 0, None: 1, True: 2}[answer.allowed], answer.left_um


def _baseline(known: SectionKnown, before: Readings, now: Readings) -> Readings:
    """Return the first readings ever, where they were taken at the same spots."""
    first = known.first
    return first if first is not None and len(first.spots) == len(now.spots) else before


def _means(readings: Readings) -> Sequence[Decimal]:
    return [
        (sum(spot.readings_um, Decimal(0)) / len(spot.readings_um)).quantize(Decimal("0.001"))
        for spot in readings.spots
    ]
