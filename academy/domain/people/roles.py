"""The three roles; a person may hold more than one, in more than one shop."""

from __future__ import annotations

from enum import StrEnum


class Role(StrEnum):
    """What a person is in one shop."""

    TRAINEE = "trainee"
    SUPERVISOR = "supervisor"
    OWNER = "owner"
