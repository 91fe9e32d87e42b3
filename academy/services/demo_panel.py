"""The demonstration's work at the panel: invented readings, words and drawn pictures."""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from random import Random
from uuid import UUID, uuid4

from sqlalchemy.orm import Session

from academy.domain.curriculum.tasks import PracticalTask
from academy.domain.practical.completeness import needs_foil, needs_taped_edge
from academy.domain.practical.stages import AgainstReference, Help, Pressure, Stage, stages_of
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
    StepBody,
    Talk,
    TestSpot,
    TraineeMarks,
    WorkingStep,
)
from academy.files.photographs import PhotographStore
from academy.services import practical
from academy.services.actor import Actor

SEEN_BY_TRAINEE = "two short marks near the edge of the window"


@dataclass(frozen=True, slots=True)
class Pictures:
    """The digests of the two drawn pictures."""

    panel: str
    taped_edge: str


def kept_pictures(photographs: PhotographStore | None) -> Pictures:
    """Draw and keep the pictures; without a place to keep them only their digests are real."""
    store = photographs or PhotographStore("memory://demonstration")
    return Pictures(
        store.keep(_drawn("invented: panel under the point light", (26, 28, 30))).digest,
        store.keep(_drawn("invented: taped edge", (46, 58, 84))).digest,
    )


def add_pictures(
    session: Session,
    actor: Actor,
    practical_id: UUID,
    task: PracticalTask,
    pictures: Pictures,
    at: datetime,
) -> None:
    """Put the drawn pictures into a practical, where its task asks for them."""
    asked = {Stage.FIRST_LOOK: pictures.panel, Stage.SET_UP: pictures.taped_edge}
    for stage, digest in asked.items():
        if stage in stages_of(task) and (stage is Stage.FIRST_LOOK or needs_taped_edge(task)):
            practical.add_photograph(
                session,
                actor=actor,
                practical_id=practical_id,
                photograph_id=uuid4(),
                digest=digest,
                caption="drawn for the demonstration",
                stage=stage,
                now=at,
            )
    session.flush()


def good_work(
    task: PracticalTask, film_um: Sequence[float], pictures: Pictures, chance: Random, at: datetime
) -> list[tuple[Stage, StepBody]]:
    """Return a good step for each stage of a task."""
    made: dict[Stage, StepBody] = {
        Stage.FIRST_LOOK: FirstLook(
            "point light, half a metre", "swirl marks all over, one deep scratch", (pictures.panel,)
        ),
        Stage.GAUGE: GaugeSeen(at, True),
        Stage.BEFORE: _readings(task, film_um, chance),
        Stage.SET_UP: _set_up(task, pictures),
        Stage.PLAN: Plan(
            "one set with foam, wipe, look, then decide", Decimal("0.7"), Decimal("0.4")
        ),
        Stage.TEST_SPOT: TestSpot(_working(60), "the marks of the wash are gone", True),
        Stage.WORKING: _working(300),
        Stage.TRAINEE_MARKS: TraineeMarks(SEEN_BY_TRAINEE, AgainstReference.SAME),
        Stage.INSPECTION: Inspection(
            SEEN_BY_TRAINEE, "the same two marks, nothing else", AgainstReference.SAME
        ),
        Stage.COOLED: Cooled(10),
        Stage.AFTER: _readings(task, [film - chance.uniform(0.4, 0.9) for film in film_um], chance),
        Stage.CRITERIA: Judgement({c.id: True for c in task.criteria if not c.measured}),
        Stage.TALK: Talk("flat pad, even arm", "lift the hose over the shoulder before starting"),
    }
    return [(stage, made[stage]) for stage in stages_of(task)]


def _set_up(task: PracticalTask, pictures: Pictures) -> SetUp:
    foil = FoilReading(Decimal("125.0"), Decimal("125.3"), Decimal("2.3"))
    return SetUp(
        task.set_up_checks,
        foil=foil if needs_foil(task) else None,
        taped_edge=(pictures.taped_edge,) if needs_taped_edge(task) else (),
    )


def _working(seconds: int) -> WorkingStep:
    return WorkingStep(
        "free-spinning dual action, 15 mm",
        "polishing foam, 130 mm",
        "medium polish",
        "dial 4",
        4 if seconds > 60 else 1,
        seconds,
        Pressure.LIGHT,
        Help.NONE,
        pad_mm=130,
    )


def _readings(task: PracticalTask, film_um: Sequence[float], chance: Random) -> Readings:
    return Readings(
        tuple(
            SpotReadings(
                spot,
                tuple(
                    Decimal(str(round(film + chance.gauss(0, 0.25), 1)))
                    for _ in range(task.readings_per_spot + 1)
                ),
            )
            for spot, film in enumerate(film_um, 1)
        )
    )


def _drawn(says: str, paint: tuple[int, int, int]) -> bytes:
    """Return a small picture of a dark panel with a strip of tape along its edge."""
    from PIL import Image, ImageDraw

    picture = Image.new("RGB", (480, 320), paint)
    pen = ImageDraw.Draw(picture)
    pen.rectangle((0, 270, 480, 320), fill=(222, 205, 150))
    pen.ellipse((200, 90, 260, 150), fill=(235, 238, 240))
    pen.text((12, 284), says, fill=(20, 20, 20))
    out = io.BytesIO()
    picture.save(out, "PNG")
    return out.getvalue()
