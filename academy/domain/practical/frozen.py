"""The steps of a practical as plain values: text, integers, decimal text.

A field added after a step was written takes its default when it is read, so a
record of any age is read again.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import MISSING, fields, is_dataclass
from datetime import datetime
from decimal import Decimal
from enum import Enum
from functools import lru_cache
from types import NoneType, UnionType
from typing import Any, Union, get_args, get_origin, get_type_hints
from uuid import UUID

from academy.domain.practical.stages import Stage
from academy.domain.practical.steps import (
    Cooled,
    FirstLook,
    GaugeSeen,
    Inspection,
    Judgement,
    Plan,
    Readings,
    SetUp,
    StepBody,
    Stopped,
    Talk,
    TestSpot,
    TraineeMarks,
    WorkingStep,
)

RECORDS: Mapping[Stage, type[StepBody]] = {
    Stage.FIRST_LOOK: FirstLook,
    Stage.GAUGE: GaugeSeen,
    Stage.BEFORE: Readings,
    Stage.SET_UP: SetUp,
    Stage.PLAN: Plan,
    Stage.TEST_SPOT: TestSpot,
    Stage.WORKING: WorkingStep,
    Stage.BETWEEN: Readings,
    Stage.TRAINEE_MARKS: TraineeMarks,
    Stage.INSPECTION: Inspection,
    Stage.COOLED: Cooled,
    Stage.AFTER: Readings,
    Stage.CRITERIA: Judgement,
    Stage.TALK: Talk,
    Stage.STOPPED: Stopped,
}


def frozen_body(body: StepBody) -> dict[str, Any]:
    """Return a step's body as plain values; a reading stays the decimal that was typed."""
    plain: dict[str, Any] = _plain(body)
    return plain


def body_from_frozen(stage: Stage, stored: Mapping[str, Any]) -> StepBody:
    """Return a step's body again."""
    body: StepBody = _thawed(RECORDS[stage], stored)
    return body


def _plain(value: object) -> Any:
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: _plain(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, Decimal | UUID):
        return str(value)
    if isinstance(value, datetime):
        return value.isoformat(timespec="microseconds")
    if isinstance(value, Mapping):
        return {str(key): _plain(item) for key, item in value.items()}
    return [_plain(item) for item in value] if isinstance(value, tuple) else value


def _thawed(wanted: Any, stored: Any) -> Any:
    origin = get_origin(wanted)
    if origin in (UnionType, Union):
        (inner,) = (option for option in get_args(wanted) if option is not NoneType)
        return None if stored is None else _thawed(inner, stored)
    if origin is tuple:
        return tuple(_thawed(get_args(wanted)[0], item) for item in stored)
    if origin is Mapping:
        return {key: _thawed(get_args(wanted)[1], item) for key, item in stored.items()}
    if is_dataclass(wanted):
        return _thawed_dataclass(wanted, stored)
    if wanted is datetime:
        return datetime.fromisoformat(stored)
    return wanted(stored) if issubclass(wanted, Decimal | UUID | Enum) else stored


def _thawed_dataclass(wanted: Any, stored: Mapping[str, Any]) -> Any:
    hints = _hints(wanted)
    return wanted(
        **{
            field.name: _thawed(hints[field.name], stored[field.name])
            for field in fields(wanted)
            if field.name in stored or _required(field)
        }
    )


def _required(field: Any) -> bool:
    return field.default is MISSING and field.default_factory is MISSING


@lru_cache
def _hints(wanted: type) -> dict[str, Any]:
    return get_type_hints(wanted)
