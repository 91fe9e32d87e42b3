"""What supervisors and trainees fill in around examinations and disputes."""

from __future__ import annotations

from typing import Annotated, Literal
from uuid import UUID

from pydantic import Field

from academy.web.forms import Form

Note = Annotated[str, Field(min_length=1, max_length=4000)]


class OpenForm(Form):
    """A new examination."""

    trainee_id: UUID
    scheme_id: Annotated[str, Field(min_length=1, max_length=100)]
    language: Annotated[str, Field(min_length=2, max_length=35)] = "en"
    extra_time_percent: Annotated[int, Field(ge=0, le=200)] = 0
    adjusted: list[Literal["reader", "interpreter", "larger_print"]] = Field(default_factory=list)
    on_paper: Literal["yes"] | None = None


class SpokenForm(Form):
    """One spoken answer."""

    spoken_id: Annotated[str, Field(min_length=1, max_length=100)]
    satisfactory: Literal["yes", "no"]
    note: Note


class DisputeForm(Form):
    """Why an item is questioned."""

    reason: Annotated[str, Field(min_length=10, max_length=4000)]


class DecideForm(Form):
    """What becomes of a questioned item."""

    decision: Literal["stands", "voided"]
    why: Note
    did_not_write: Literal["yes"] | None = None


class ExperienceForm(Form):
    """Prior experience as a person states it."""

    person_id: UUID
    modules: Annotated[list[str], Field(min_length=1)]
    statement: Annotated[str, Field(min_length=10, max_length=4000)]


class MendingForm(Form):
    """What is decided about a question on the list to mend."""

    mending: Literal["handled", "dismissed", "to mend again"]
    reason: Note


class RoundForm(Form):
    """Which questions supervisors are asked to rate again, and who is asked."""

    questions: Annotated[list[str], Field(min_length=1)]
    raters: Annotated[list[UUID], Field(min_length=1)]
