"""What is typed in the workshop: panels, gauges, foils, machines, set-ups, products, settings."""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated
from uuid import UUID

from pydantic import AfterValidator, BeforeValidator, Field, StringConstraints

from academy.domain.curriculum.kinds import Substrate
from academy.domain.metrology.budget import History
from academy.domain.metrology.methods import GaugeMethod
from academy.domain.metrology.verification import Combine
from academy.domain.workshop.machines import Machine, VibrationSource
from academy.domain.workshop.panels import ClearCoat, Curvature
from academy.web.forms import Day, Form, decimal_typed
from academy.web.language import gettext as _

Label = Annotated[str, StringConstraints(min_length=1, max_length=200)]
Number = Annotated[str, StringConstraints(min_length=1, max_length=100)]
TypedDecimal = Annotated[Decimal, BeforeValidator(decimal_typed)]
Tolerance = Annotated[TypedDecimal, Field(ge=0, le=50, max_digits=8, decimal_places=3)]
Vibration = Annotated[TypedDecimal, Field(ge=0, le=100, max_digits=8, decimal_places=3)]
Plate = Annotated[int, Field(ge=10, le=300)]


def web_address(value: str) -> str:
    """Return an address a browser opens; raises a sentence where it is none."""
    if value.startswith(("https://", "http://")) and len(value) > 10 and not value.count(" "):
        return value
    raise ValueError(_("Write the whole address, beginning with https://"))


Address = Annotated[str, StringConstraints(max_length=500), AfterValidator(web_address)]


class PanelForm(Form):
    """A practice panel and how it is divided."""

    panel_id: UUID
    label: Label
    substrate: Substrate
    paint_system: Label
    curvature: Curvature = Curvature.FLAT
    colour: Annotated[str, StringConstraints(max_length=200)] = ""
    clear_coat: ClearCoat = ClearCoat.UNKNOWN
    history: History = History.UNKNOWN
    sections: Annotated[int, Field(ge=1, le=24)]
    spots: Annotated[int, Field(ge=1, le=40)]
    budget_um: Annotated[TypedDecimal, Field(gt=0, le=200, max_digits=8, decimal_places=3)] = (
        Decimal(8)
    )
    sacrificial: bool = False


class GaugeForm(Form):
    """A gauge and what the shop knows of it, in micrometres."""

    gauge_id: UUID
    label: Label
    serial: Number
    methods: Annotated[list[GaugeMethod], Field(min_length=1)]
    resolution_um: Annotated[TypedDecimal, Field(gt=0, le=10, max_digits=8, decimal_places=3)]
    tolerance_um: Annotated[TypedDecimal, Field(gt=0, le=50, max_digits=8, decimal_places=3)]
    tolerance_percent: Tolerance
    repeatability_um: Annotated[TypedDecimal, Field(ge=0, le=20, max_digits=8, decimal_places=3)]
    certificate_number: Annotated[str, StringConstraints(max_length=100)] = ""
    certificate_due_on: Day | None = None


class FoilForm(Form):
    """A certified foil."""

    foil_id: UUID
    label: Label
    certified_um: Annotated[TypedDecimal, Field(gt=0, le=2000, max_digits=8, decimal_places=3)]
    tolerance_um: Tolerance
    tolerance_percent: Tolerance = Decimal(0)
    certificate_number: Annotated[str, StringConstraints(max_length=100)] = ""
    certificate_due_on: Day | None = None


class MachineForm(Form):
    """A machine."""

    machine_id: UUID
    label: Label
    kind: Machine
    plate_mm: Plate
    throw_mm: Annotated[TypedDecimal, Field(gt=0, le=40, max_digits=8, decimal_places=3)] | None = (
        None
    )
    vibration_m_s2: Vibration | None = None
    vibration_uncertainty_m_s2: Vibration | None = None
    vibration_source: VibrationSource
    checked_on: Day | None = None
    check_due_on: Day | None = None


class CheckForm(Form):
    """An electrical check that was made."""

    checked_on: Day
    check_due_on: Day


class SetUpForm(Form):
    """A set-up to be saved."""

    set_up_id: UUID
    label: Label
    machine_id: UUID
    plate_mm: Plate
    pad: Label
    abrasive: Label
    dial: Annotated[str, StringConstraints(min_length=1, max_length=40)]
    product_id: UUID | None = None
    pad_mm: Plate | None = None


class ProductForm(Form):
    """A product with its first data sheet."""

    product_id: UUID
    sheet_id: UUID
    label: Label
    purpose: Label
    revised_on: Day
    link: Address


class SheetForm(Form):
    """A new revision of a data sheet."""

    sheet_id: UUID
    revised_on: Day
    link: Address


class DefectForm(Form):
    """A defect made on purpose."""

    defect_id: UUID
    defect: Label
    how_made: Annotated[str, StringConstraints(min_length=1, max_length=500)]
    severity: Annotated[int, Field(ge=1, le=3)]


class SettingsForm(Form):
    """What the owner decides."""

    time_zone: Annotated[str, StringConstraints(min_length=1, max_length=64)]
    combine: Combine
    remeasure_days: Annotated[int, Field(ge=1, le=90)]
    car_cap_um: Annotated[TypedDecimal, Field(gt=0, le=50, max_digits=8, decimal_places=3)]
    car_floor_um: Annotated[TypedDecimal, Field(gt=0, le=500, max_digits=8, decimal_places=3)]
    country: Annotated[str, StringConstraints(max_length=2)] = ""


class StudyForm(Form):
    """Who reads what, how often."""

    people: Annotated[list[UUID], Field(min_length=1)]
    sections: Annotated[list[UUID], Field(min_length=1)]
    repeats: Annotated[int, Field(ge=2, le=5)]


class CorrectionForm(Form):
    """What stood there when the page was opened, and why it is wrong."""

    seen: Annotated[str, StringConstraints(max_length=300)] = ""
    reason: Annotated[str, StringConstraints(min_length=1, max_length=500)]
