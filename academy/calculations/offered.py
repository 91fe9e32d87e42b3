"""The calculations a person at a panel or a desk asks for, by what they are doing.

The calculators page lists these, and a lesson may set any of them as a box.
The others are for studies and item analysis: the command line has them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType


@dataclass(frozen=True, slots=True)
class Group:
    """What somebody is doing, and the calculations that help with it: name to title."""

    title: str
    calculations: Mapping[str, str]


GROUPS = (
    Group(
        "At the machine",
        {
            "machine-speed": "Speed of the pad's face",
            "dwell": "Time under the pad",
            "contact-pressure": "Pressure under the pad",
            "removal-ratio": "Two ways of working compared",
        },
    ),
    Group(
        "At the panel",
        {
            "may-cut-again": "May this section be cut again?",
            "removal": "Paint removed at marked spots",
            "panel-heat": "Heat under a pad held still",
            "late-reading": "A temperature read late",
        },
    ),
    Group(
        "At the gauge",
        {
            "gauge-verification": "A gauge against its standard",
            "statistics": "Mean and scatter of readings",
            "paired-difference": "Before and after, pair by pair",
            "readings-needed": "How many readings are needed",
            "conformity": "Does a value keep to its limits?",
            "guard-band": "How far inside a limit to accept",
            "convert": "A value in another unit",
        },
    ),
    Group(
        "For the body",
        {
            "vibration": "A day's vibration",
            "noise": "A day's noise",
        },
    ),
    Group(
        "For the air and the bottle",
        {
            "dew-point": "Dew point over a panel",
            "dilution": "Mixing a dilution",
        },
    ),
    Group(
        "For the evidence",
        {
            "proportion": "What a share of passes proves",
            "panels-for-proof": "Straight passes that prove a rate",
        },
    ),
)

OFFERED: Mapping[str, str] = MappingProxyType(
    {name: title for group in GROUPS for name, title in group.calculations.items()}
)
