"""What is typed around a practical: opening, photographs, signing."""

from __future__ import annotations

from typing import Annotated, Literal
from uuid import UUID

from pydantic import StringConstraints

from academy.domain.practical.stages import PracticalKind
from academy.web.forms import Form

Words = Annotated[str, StringConstraints(min_length=1, max_length=200)]
Password = Annotated[str, StringConstraints(min_length=1, max_length=1000, strip_whitespace=False)]


class OpenForm(Form):
    """What is chosen before the first reading."""

    practical_id: UUID
    trainee_id: UUID
    task_id: Words
    section_id: UUID
    gauge_id: UUID | None = None
    kind: PracticalKind


class PhotographForm(Form):
    """A photograph and what it shows."""

    photograph_id: UUID
    caption: Annotated[str, StringConstraints(max_length=300)] = ""


class AgainForm(Form):
    """The gauge a section in doubt was measured again with."""

    gauge_id: UUID


class DecisionForm(Form):
    """Whether readings in doubt stand, and why."""

    decision: Literal["accept", "refuse"]
    reason: Annotated[str, StringConstraints(min_length=1, max_length=1000)]
