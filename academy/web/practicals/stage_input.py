"""What is typed at the panel, stage by stage."""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated
from uuid import UUID

from pydantic import BeforeValidator, Field, StringConstraints

from academy.domain.practical.stages import AgainstReference, Help, Pressure, StopReason
from academy.web.forms import Form, decimal_typed

Words = Annotated[str, StringConstraints(min_length=1, max_length=200)]
Text = Annotated[str, StringConstraints(min_length=1, max_length=2000)]
Typed = Annotated[Decimal, BeforeValidator(decimal_typed)]
Removal = Annotated[Typed, Field(ge=0, le=50, max_digits=6, decimal_places=2)]
Film = Annotated[Typed, Field(gt=0, le=2000, max_digits=8, decimal_places=3)]


class StepForm(Form):
    """What every step carries: its own id and how many steps the page had seen."""

    step_id: UUID
    version: Annotated[int, Field(ge=0, le=10_000)]


class FirstLookForm(StepForm):
    """The panel before anything is done."""

    light: Words
    sees: Text


class SetUpForm(StepForm):
    """Everything there, and the foil; the exceptions have names of their own."""

    all_present: Annotated[str, StringConstraints(max_length=3)] = ""
    foil_id: UUID | None = None
    certified_um: Film | None = None
    foil_reading_um: Film | None = None


class PlanForm(StepForm):
    """What the trainee means to do and expects."""

    plan: Text
    expected_um: Removal | None = None
    give_or_take_um: Removal | None = None


class WorkForm(StepForm):
    """One working step; what is left empty is as in the set-up chosen."""

    set_up: Annotated[str, StringConstraints(max_length=40)] = ""
    machine: Annotated[str, StringConstraints(max_length=200)] = ""
    pad: Annotated[str, StringConstraints(max_length=200)] = ""
    abrasive: Annotated[str, StringConstraints(max_length=200)] = ""
    dial: Annotated[str, StringConstraints(max_length=200)] = ""
    pad_mm: Annotated[int, Field(ge=10, le=300)] | None = None
    passes: Annotated[int, Field(ge=1, le=50)]
    minutes: Annotated[int, Field(ge=0, le=240)] = 0
    seconds: Annotated[int, Field(ge=0, le=14_400)] = 0
    pressure: Pressure
    help_given: Help
    colour_on_pad: Annotated[str, StringConstraints(max_length=3)] = ""
    struck_through: Annotated[str, StringConstraints(max_length=3)] = ""


class TestSpotForm(WorkForm):
    """A test spot: a working step, and what it showed."""

    __test__ = False  # not a test class

    shows: Text
    enough: Annotated[str, StringConstraints(pattern="^(yes|no)$")]


class TraineeMarksForm(StepForm):
    """What the trainee sees."""

    sees: Text
    against: AgainstReference


class InspectionForm(StepForm):
    """What the supervisor sees."""

    supervisor_sees: Text
    against: AgainstReference


class CooledForm(StepForm):
    """How long it was left, and how warm it is."""

    waited_min: Annotated[int, Field(ge=0, le=600)]
    panel_c: Annotated[Typed, Field(ge=-20, le=100, max_digits=5, decimal_places=1)] | None = None


class TalkForm(StepForm):
    """What went well, the one thing to change, and the next drill."""

    went_well: Text
    change_next: Text
    next_drill: Annotated[str, StringConstraints(max_length=100)] = ""


class StopForm(Form):
    """Why work stops for safety."""

    step_id: UUID
    reason: StopReason
    says: Text
