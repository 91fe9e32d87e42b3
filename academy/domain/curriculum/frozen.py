"""Questions, tasks and schemes as the plain values a record keeps.

A sitting keeps the very wording it answered, and a signed record the task and
scheme it was judged by, so that both can be shown and scored years later
without the course they came from.  Numbers with a fraction are kept as decimal
text: RFC 8785 then gives the same bytes on every machine.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import MISSING, dataclass, fields, is_dataclass
from enum import Enum
from functools import lru_cache
from types import MappingProxyType, NoneType, UnionType
from typing import Any, TypeVar, Union, get_args, get_origin, get_type_hints

from academy.domain.curriculum.questions import Question
from academy.domain.curriculum.schemes import Scheme
from academy.domain.curriculum.tasks import PracticalTask
from academy.domain.sentences import TradeError

FORMAT = 1

T = TypeVar("T")


@dataclass
class NotFrozen(TradeError):
    """A stored value that is not what it should be."""

    template = "the stored %(kind)s cannot be read: %(fault)s"
    kind: str
    fault: str


def frozen_question(question: Question) -> dict[str, Any]:
    """Return a question as plain values: text, integers, decimal text, lists, objects."""
    return _document("question", question)


def question_from_frozen(stored: Mapping[str, Any]) -> Question:
    """Return the question again; raises ``NotFrozen`` for anything else."""
    return _thawed_document("question", Question, stored)


def frozen_task(task: PracticalTask) -> dict[str, Any]:
    """Return a practical task as plain values."""
    return _document("task", task)


def task_from_frozen(stored: Mapping[str, Any]) -> PracticalTask:
    """Return the practical task again; raises ``NotFrozen`` for anything else."""
    return _thawed_document("task", PracticalTask, stored)


def frozen_scheme(scheme: Scheme) -> dict[str, Any]:
    """Return a scheme as plain values."""
    return _document("scheme", scheme)


def scheme_from_frozen(stored: Mapping[str, Any]) -> Scheme:
    """Return the scheme again; raises ``NotFrozen`` for anything else."""
    return _thawed_document("scheme", Scheme, stored)


def _document(kind: str, value: object) -> dict[str, Any]:
    return {"kind": kind, "format": FORMAT, kind: _plain(value)}


def _thawed_document(kind: str, wanted: type[T], stored: Mapping[str, Any]) -> T:
    if stored.get("kind") != kind or stored.get("format") != FORMAT:
        raise NotFrozen(kind, f"it says kind {stored.get('kind')}, format {stored.get('format')}")
    try:
        value: T = _thawed(wanted, stored[kind])
    except (KeyError, TypeError, ValueError, AttributeError) as fault:
        raise NotFrozen(kind, str(fault)) from fault
    return value


def _plain(value: object) -> Any:
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: _plain(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, float):
        return repr(value)
    if isinstance(value, Mapping):
        return {str(_plain(key)): _plain(item) for key, item in value.items()}
    if isinstance(value, tuple):
        return [_plain(item) for item in value]
    return value


def _thawed(wanted: Any, stored: Any) -> Any:
    origin = get_origin(wanted)
    if origin in (UnionType, Union):
        return _thawed_optional(wanted, stored)
    if origin is tuple:
        return tuple(_thawed(get_args(wanted)[0], item) for item in stored)
    if origin is Mapping:
        key_type, value_type = get_args(wanted)
        return MappingProxyType(
            {key_type(key): _thawed(value_type, item) for key, item in stored.items()}
        )
    if is_dataclass(wanted):
        return _thawed_dataclass(wanted, stored)
    return _thawed_scalar(wanted, stored)


def _thawed_scalar(wanted: Any, stored: Any) -> Any:
    if wanted is float or issubclass(wanted, Enum):
        return wanted(stored)
    if type(stored) is not wanted:
        raise TypeError(f"{stored!r} is not {wanted.__name__}")
    return stored


def _thawed_optional(wanted: Any, stored: Any) -> Any:
    if stored is None:
        return None
    (inner,) = (option for option in get_args(wanted) if option is not NoneType)
    return _thawed(inner, stored)


def _thawed_dataclass(wanted: Any, stored: Mapping[str, Any]) -> Any:
    # A field added after the record was made takes its default; one since
    # dropped is passed over.  A field without a default must be there.
    hints = _hints(wanted)
    given = {
        field.name: _thawed(hints[field.name], stored[field.name])
        for field in fields(wanted)
        if field.name in stored or _required(field)
    }
    return wanted(**given)


def _required(field: Any) -> bool:
    return field.default is MISSING and field.default_factory is MISSING


@lru_cache
def _hints(wanted: type) -> dict[str, Any]:
    return get_type_hints(wanted)
