"""The closed vocabularies of the curriculum."""

from __future__ import annotations

from enum import StrEnum


class Interaction(StrEnum):
    """How a question is answered (the words of QTI in plain spelling)."""

    CHOICE = "choice"
    MULTIPLE_RESPONSE = "multiple response"
    ORDER = "order"
    MATCH = "match"
    NUMERIC_ENTRY = "numeric entry"
    HOTSPOT = "hotspot"
    SCENARIO = "scenario"


class Level(StrEnum):
    """What a question asks of the trainee."""

    RECALL = "recall"
    APPLY = "apply"
    JUDGE = "judge"


class ObjectiveKind(StrEnum):
    """Whether an objective is something to know or something to be able to do."""

    KNOWING = "knowing"
    DOING = "doing"


class Supervision(StrEnum):
    """The level at which a person may do a kind of work, lowest first."""

    NOT_YET = "not yet"
    BESIDE = "supervisor beside"
    ON_SITE = "supervisor on site"
    ALONE = "alone"

    @property
    def rank(self) -> int:
        """Return 0 for 'not yet' up to 3 for 'alone'."""
        return list(Supervision).index(self)


class Substrate(StrEnum):
    """What a panel is made of; it decides which gauge method can read it."""

    STEEL = "steel"
    ALUMINIUM = "aluminium"
    PLASTIC = "plastic"


class Harm(StrEnum):
    """What can go wrong at a panel so badly that a certificate is held until somebody is assessed again."""

    BURN_THROUGH = "burn-through"
    EDGE_STRIKE = "edge strike"
    OVERHEATED_PLASTIC = "overheated plastic"
    SPOILED_PAINT = "spoiled paint"
    INJURY = "injury"
    FIRE = "fire"
