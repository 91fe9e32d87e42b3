"""What is typed in a logbook."""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated
from uuid import UUID

from pydantic import BeforeValidator, Field, StringConstraints

from academy.domain.practical.logbook import PracticeStage
from academy.domain.practical.talks import ChangeSeen
from academy.web.forms import Day, Form, decimal_typed

Minutes = Annotated[
    Decimal, BeforeValidator(decimal_typed), Field(ge=0, le=1440, max_digits=6, decimal_places=1)
]
Vibration = Annotated[
    Decimal, BeforeValidator(decimal_typed), Field(ge=0, le=100, max_digits=6, decimal_places=3)
]
Words = Annotated[str, StringConstraints(max_length=200)]
Reason = Annotated[str, StringConstraints(max_length=500)]


class EntryForm(Form):
    """One piece of practice work; ``minutes`` is how long the machine ran."""

    entry_id: UUID
    task_id: Annotated[str, StringConstraints(min_length=1, max_length=100)]
    stage: PracticeStage
    worked_on: Day
    worked_at: Annotated[str, StringConstraints(min_length=1, max_length=200)]
    note: Annotated[str, StringConstraints(max_length=2000)] = ""
    machine_id: UUID | None = None
    minutes: Minutes | None = None
    reason: Reason = ""


class DrillForm(Form):
    """One tap: which drill, under the id the button was made with."""

    entry_id: UUID
    drill_id: Annotated[str, StringConstraints(min_length=1, max_length=100)]


class TimeForm(Form):
    """How long a machine ran, and which one or with what value."""

    time_id: UUID
    minutes: Minutes
    machine_id: UUID | None = None
    vibration_m_s2: Vibration | None = None
    vibration_uncertainty_m_s2: Vibration | None = None
    says: Words = ""
    reason: Reason = ""


class TakeBackForm(Form):
    """Why an entry is taken back."""

    new_id: UUID
    reason: Annotated[str, StringConstraints(min_length=1, max_length=500)]


class ChangeForm(Form):
    """What the supervisor saw of one thing to change."""

    look_id: UUID
    asked_in: UUID
    seen: ChangeSeen
