"""What is typed in a practical, stage by stage."""

from __future__ import annotations

from typing import Annotated
from uuid import UUID

from pydantic import Field, StringConstraints

from academy.domain.practical.stages import Help, PracticalKind, Pressure
from academy.web.forms import Form

Words = Annotated[str, StringConstraints(min_length=1, max_length=200)]
Text = Annotated[str, StringConstraints(min_length=1, max_length=2000)]
Password = Annotated[str, StringConstraints(min_length=1, max_length=1000, strip_whitespace=False)]


class OpenForm(Form):
    """What is chosen before the first reading."""

    practical_id: UUID
    trainee_id: UUID
    task_id: Words
    section_id: UUID
    gauge_id: UUID | None = None
    kind: PracticalKind


class StepForm(Form):
    """What every step carries: its own id and how many steps the page had seen."""

    step_id: UUID
    version: Annotated[int, Field(ge=0, le=10_000)]


class SetUpForm(StepForm):
    """The set-up checks that are present."""

    present: Annotated[list[str], Field(default_factory=list)]


class WorkingForm(StepForm):
    """One working step."""

    machine: Words
    pad: Words
    abrasive: Words
    dial: Words
    passes: Annotated[int, Field(ge=1, le=50)]
    minutes: Annotated[int, Field(ge=0, le=240)] = 0
    seconds: Annotated[int, Field(ge=0, le=59)] = 0
    pressure: Pressure
    help_given: Help


class InspectionForm(StepForm):
    """What is left after the panel wipe."""

    trainee_sees: Text
    supervisor_sees: Text


class TalkForm(StepForm):
    """What went well and the one thing to change."""

    went_well: Text
    change_next: Text


class PhotographForm(Form):
    """A photograph and what it shows."""

    photograph_id: UUID
    caption: Annotated[str, StringConstraints(max_length=300)] = ""


class SignForm(Form):
    """Who signs, proved again."""

    sign_in_name: Words
    password: Password
