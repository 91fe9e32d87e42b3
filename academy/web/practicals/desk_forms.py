"""What is typed at the desk."""

from __future__ import annotations

from datetime import date
from typing import Annotated, Literal
from uuid import UUID

from pydantic import Field, StringConstraints

from academy.domain.practical.counting import ObjectionState
from academy.web.forms import Form
from academy.web.practicals.forms import Password

Text = Annotated[str, StringConstraints(min_length=1, max_length=2000)]


class CloseForm(Form):
    """Whether the trainee stands by."""

    trainee: Literal["there", "not there"]
    why_not: Annotated[str, StringConstraints(max_length=500)] = ""


class DeskForm(Form):
    """The records ticked, and the password."""

    record: Annotated[list[UUID], Field(default_factory=list)]
    password: Password


class ObjectForm(Form):
    """What is wrong with the record."""

    objection_id: UUID
    reason: Text


class DecideObjectionForm(Form):
    """What becomes of the record, and why."""

    decision: ObjectionState
    why: Text


class AmendForm(Form):
    """What is said instead, and why."""

    amendment_id: UUID
    digest: Annotated[str, StringConstraints(min_length=64, max_length=64)]
    went_well: Text
    change_next: Text
    next_drill: Annotated[str, StringConstraints(max_length=100)] = ""
    reason: Text


class PlanAgainForm(Form):
    """What is taught again, by whom, by when."""

    objective: Text
    drill_id: Annotated[str, StringConstraints(max_length=100)] = ""
    responsible_id: UUID
    due_on: date
