"""Builders for a practical and what is recorded in it; every argument has a sound default."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from decimal import Decimal
from typing import Any
from uuid import UUID, uuid4

from academy.domain.curriculum.kinds import Substrate
from academy.domain.curriculum.tasks import PracticalTask
from academy.domain.practical.completeness import needs_foil, needs_taped_edge
from academy.domain.practical.outcome import GaugeFigures
from academy.domain.practical.record import Practical, record
from academy.domain.practical.stages import (
    AgainstReference,
    Help,
    PracticalKind,
    Pressure,
    Stage,
    StopReason,
    stages_of,
)
from academy.domain.practical.steps import (
    Cooled,
    FirstLook,
    FoilReading,
    GaugeSeen,
    Inspection,
    Judgement,
    Plan,
    Readings,
    SetUp,
    SpotReadings,
    Step,
    StepBody,
    Stopped,
    Talk,
    TestSpot,
    TraineeMarks,
    WorkingStep,
)
from academy.services.workshop import NewGauge, NewPanel
from tests.support.clock import NOW
from tests.support.course import a_digest, a_task

TRAINEE_ID = UUID("00000000-0000-4000-8000-00000000000a")
SUPERVISOR_ID = UUID("00000000-0000-4000-8000-00000000000b")
GAUGE = GaugeFigures(Decimal("0.1"), Decimal("0.3"))

# Free text that a signed record and the journal must never hold.
SEEN_BY_TRAINEE = "two short marks near the window edge"
SEEN_BY_SUPERVISOR = "the same two, and a haze in the corner"
WENT_WELL = "the arm stayed level all the way"
CHANGE_NEXT = "lift the hose before you start"
DROPPED_BECAUSE = "the foot stood on a grain of dust"
SEEN_FIRST = "swirls all over, one deep scratch by the tape"
NAMED_LIGHT = "point light by the second stand, half a metre"
PLANNED = "one set with foam, wipe, then look again"
SHOWN_BY_TEST_SPOT = "two of five marks are left"
STOPPED_BECAUSE = "the plug was warm to the hand"

FOIL = FoilReading(Decimal("125.0"), Decimal("125.4"), Decimal("2.5"))


def a_practical(**overrides: Any) -> Practical:
    """Return an assessed practical that has just been opened."""
    fields: dict[str, Any] = {
        "id": uuid4(),
        "trainee_id": TRAINEE_ID,
        "supervisor_id": SUPERVISOR_ID,
        "task": a_task(),
        "kind": PracticalKind.ASSESSED,
        "opened_at": NOW,
    }
    return Practical(**(fields | overrides))


def a_step(stage: Stage, body: StepBody, at: datetime = NOW) -> Step:
    """Return a step the supervisor records."""
    return Step(uuid4(), stage, body, at, SUPERVISOR_ID)


def readings(films_um: Sequence[str], each: int = 3) -> Readings:
    """Return readings that say the same at a spot each time, one film for each spot."""
    return Readings(
        tuple(
            SpotReadings(spot, tuple(Decimal(film) for _ in range(each)))
            for spot, film in enumerate(films_um, 1)
        )
    )


def a_working_step(**overrides: Any) -> WorkingStep:
    """Return a working step without help."""
    fields: dict[str, Any] = {
        "machine": "dual action, 15 mm throw",
        "pad": "polishing foam",
        "abrasive": "medium polish",
        "dial": "dial 4",
        "passes": 4,
        "seconds": 240,
        "pressure": Pressure.LIGHT,
        "help_given": Help.NONE,
    }
    return WorkingStep(**(fields | overrides))


def a_set_up(task: PracticalTask, **overrides: Any) -> SetUp:
    """Return a set-up with everything there and both proofs that the task asks for."""
    fields: dict[str, Any] = {
        "present": task.set_up_checks,
        "foil": FOIL if needs_foil(task) else None,
        "taped_edge": (a_digest("taped edge"),) if needs_taped_edge(task) else (),
    }
    return SetUp(**(fields | overrides))


def all_met(task: PracticalTask) -> Judgement:
    """Return a judgement in which every criterion the supervisor judges is met."""
    return Judgement({c.id: True for c in task.criteria if not c.measured})


def good_bodies(task: PracticalTask) -> dict[Stage, StepBody]:
    """Return one complete, good step for each stage there is."""
    return {
        Stage.FIRST_LOOK: FirstLook(NAMED_LIGHT, SEEN_FIRST, (a_digest("panel"),)),
        Stage.GAUGE: GaugeSeen(NOW, True),
        Stage.BEFORE: readings(["110.0"] * task.spots, task.readings_per_spot),
        Stage.SET_UP: a_set_up(task),
        Stage.PLAN: Plan(PLANNED, Decimal("0.8"), Decimal("0.4")),
        Stage.TEST_SPOT: TestSpot(a_working_step(seconds=60), SHOWN_BY_TEST_SPOT, True),
        Stage.WORKING: a_working_step(),
        Stage.BETWEEN: readings(["109.6"] * task.spots, task.readings_per_spot),
        Stage.TRAINEE_MARKS: TraineeMarks(SEEN_BY_TRAINEE, AgainstReference.SAME),
        Stage.INSPECTION: Inspection(SEEN_BY_TRAINEE, SEEN_BY_SUPERVISOR),
        Stage.COOLED: Cooled(10, Decimal("21.5")),
        Stage.AFTER: readings(["109.2"] * task.spots, task.readings_per_spot),
        Stage.CRITERIA: all_met(task),
        Stage.TALK: Talk(WENT_WELL, CHANGE_NEXT),
        Stage.STOPPED: Stopped(StopReason.MACHINE, STOPPED_BECAUSE),
    }


def bodies(
    task: PracticalTask, overrides: dict[Stage, StepBody] | None = None
) -> list[tuple[Stage, StepBody]]:
    """Return one complete, good step for each stage of the task, in order."""
    made = good_bodies(task) | (overrides or {})
    return [(stage, made[stage]) for stage in stages_of(task)]


def a_finished_practical(
    overrides: dict[Stage, StepBody] | None = None, **fields: Any
) -> Practical:
    """Return a practical with every stage recorded, not yet closed."""
    practical = a_practical(**fields)
    for stage, body in bodies(practical.task, overrides):
        practical = record(practical, a_step(stage, body))
    return practical


def a_panel(**overrides: Any) -> NewPanel:
    """Return a steel panel of two sections, nine spots each."""
    fields: dict[str, Any] = {
        "label": "Bonnet 3",
        "substrate": Substrate.STEEL,
        "paint_system": "black, two-layer",
        "sections": 2,
        "spots": 9,
    }
    return NewPanel(**(fields | overrides))


def a_gauge(**overrides: Any) -> NewGauge:
    """Return a gauge that reads tenths."""
    fields: dict[str, Any] = {
        "label": "Bench gauge",
        "serial": "T-0001",
        "resolution_um": Decimal("0.1"),
        "repeatability_um": Decimal("0.3"),
    }
    return NewGauge(**(fields | overrides))
