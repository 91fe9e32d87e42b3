"""What can be put right that was typed wrong for a gauge, a foil, a machine or a panel.

What readings rest on as a kind of thing cannot: a panel's metal, a gauge's
methods, a machine's kind.  Such an entry is made anew.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum

from academy.domain.sentences import TradeError


class Corrected(StrEnum):
    """The kinds of entry that are corrected."""

    GAUGE = "gauge"
    FOIL = "foil"
    MACHINE = "machine"
    PANEL = "panel"


CORRECTABLE: Mapping[Corrected, tuple[str, ...]] = {
    Corrected.GAUGE: (
        "label", "serial", "resolution_um", "tolerance_um", "tolerance_percent",
        "certificate_number", "certificate_due_on",
    ),
    Corrected.FOIL: (
        "label", "certified_um", "tolerance_um", "tolerance_percent", "certificate_number",
        "certificate_due_on",
    ),
    Corrected.MACHINE: (
        "label", "plate_mm", "vibration_m_s2", "vibration_uncertainty_m_s2", "checked_on",
        "check_due_on",
    ),
    Corrected.PANEL: ("label", "paint_system", "colour"),
}  # fmt: skip


@dataclass(eq=False)
class NotCorrectable(TradeError):
    """Something else rests on it."""

    template = "This cannot be corrected, because what was read rests on it; add the entry anew"


@dataclass(eq=False)
class AlreadyRight(TradeError):
    """Nothing would change."""

    template = "That is what stands there already"


@dataclass(eq=False)
class CorrectedMeanwhile(TradeError):
    """Somebody else was quicker."""

    template = (
        "Somebody has changed this since you opened the page; it now reads '%(now)s'."
        " Nothing was changed by you"
    )
    now: str


Correctable = str | int | Decimal | date | None


def as_written(value: object) -> str:
    """Return a value as it is kept beside its correction; what was not given is empty."""
    if value is None:
        return ""
    if isinstance(value, Decimal):
        return f"{value.normalize():f}"
    return value.isoformat() if isinstance(value, date) else str(value)
