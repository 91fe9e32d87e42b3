"""Work at the panel: practical tasks with their criteria, and drills."""

from __future__ import annotations

from dataclasses import dataclass

from academy.domain.curriculum.kinds import Substrate


@dataclass(frozen=True, slots=True)
class Criterion:
    """How a practical task is judged; a failed critical one fails the practical."""

    id: str
    text: str
    critical: bool
    measured: bool = False


@dataclass(frozen=True, slots=True)
class PracticalTask:
    """One piece of supervised panel work: what is to be done and how it is judged.

    ``limit_um`` is the most that may be taken off at any spot; ``None`` for a
    task that is judged by eye alone.
    """

    id: str
    title: str
    kind_of_work: str
    objectives: tuple[str, ...]
    cautions: tuple[str, ...]
    spots: int
    readings_per_spot: int
    limit_um: float | None
    criteria: tuple[Criterion, ...]
    set_up_checks: tuple[str, ...]
    minutes: int
    body_html: str
    digest: str
    substrates: tuple[Substrate, ...] = (Substrate.STEEL, Substrate.ALUMINIUM)
    trainer_sheet_html: str = ""


@dataclass(frozen=True, slots=True)
class Drill:
    """Ten to twenty minutes of one hand skill, never assessed."""

    id: str
    title: str
    objectives: tuple[str, ...]
    cautions: tuple[str, ...]
    minutes: int
    body_html: str
    digest: str
