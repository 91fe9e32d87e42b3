"""What is typed to add a panel or a gauge."""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated
from uuid import UUID

from pydantic import BeforeValidator, Field, StringConstraints

from academy.domain.curriculum.kinds import Substrate
from academy.web.forms import Form, decimal_typed

Label = Annotated[str, StringConstraints(min_length=1, max_length=200)]
TypedDecimal = Annotated[Decimal, BeforeValidator(decimal_typed)]


class PanelForm(Form):
    """A practice panel and how it is divided."""

    panel_id: UUID
    label: Label
    substrate: Substrate
    paint_system: Label
    sections: Annotated[int, Field(ge=1, le=24)]
    spots: Annotated[int, Field(ge=1, le=40)]
    sacrificial: bool = False


class GaugeForm(Form):
    """A gauge and what the shop knows of it, in micrometres."""

    gauge_id: UUID
    label: Label
    serial: Annotated[str, StringConstraints(min_length=1, max_length=100)]
    resolution_um: Annotated[TypedDecimal, Field(gt=0, le=10, max_digits=8, decimal_places=3)]
    repeatability_um: Annotated[TypedDecimal, Field(ge=0, le=20, max_digits=8, decimal_places=3)]
