"""What a supervisor's phone sends from the panel, stage by stage, for the small invented course."""

from __future__ import annotations

import io
from dataclasses import dataclass
from typing import Any
from uuid import uuid4

from PIL import Image

from academy.domain.curriculum.course import Course
from tests.support.course import a_course

SPOTS, READINGS = 2, 3
WORK = {
    "set_up": "typed",
    "machine": "dual action, 15 mm throw",
    "pad": "polishing foam",
    "pad_mm": "130",
    "abrasive": "medium polish",
    "dial": "4",
    "passes": "4",
    "minutes": "5",
    "pressure": "light",
    "help_given": "none",
}
PLAIN: dict[str, dict[str, Any]] = {
    "first-look": {"light": "point light, half a metre", "sees": "swirls all over"},
    "gauge": {},
    "set-up": {"all_present": "yes", "certified_um": "125", "foil_reading_um": "125,3"},
    "plan": {"plan": "one set, wipe, look", "expected_um": "0,8", "give_or_take_um": "0.4"},
    "test-spot": WORK | {"shows": "the marks are gone", "enough": "yes"},
    "working": WORK,
    "trainee-marks": {"sees": "two short marks", "against": "the same"},
    "inspection": {"supervisor_sees": "the same two", "against": "the same"},
    "cooled": {"waited_min": "10"},
    "criteria": {f"criterion-{name}": "met" for name in ("cord safe", "even arm", "clean wipe")},
    "talk": {"went_well": "flat pad", "change_next": "slower arm"},
}
WITH_PICTURE = frozenset({"first-look", "set-up"})


@dataclass(frozen=True)
class SmallLibrary:
    """A course without files behind it."""

    course: Course = a_course()  # noqa: RUF009


def readings_form(film_um: float = 110.0) -> dict[str, str]:
    """Return a round of readings that scatter by a tenth."""
    return {
        f"reading-{spot}-{number}": f"{film_um + number / 10:.1f}".replace(".", ",")
        for spot in range(1, SPOTS + 1)
        for number in range(1, READINGS + 1)
    }


def a_picture(shade: int = 60) -> bytes:
    """Return a small photograph."""
    out = io.BytesIO()
    Image.new("RGB", (64, 48), (shade, shade, shade)).save(out, "JPEG")
    return out.getvalue()


def stage_form(stage: str, version: int, /, **overrides: Any) -> dict[str, Any]:
    """Return what the form of a stage sends; photographs are not among it."""
    fields = {
        "before": readings_form(),
        "between": readings_form(109.5),
        "after": readings_form(109.2),
    }
    said = fields.get(stage) or PLAIN[stage]
    return {"step_id": str(uuid4()), "version": str(version), **said, **overrides}
