"""What is missing and what holds back, as the plain values a standing row keeps."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict
from datetime import date
from enum import Enum
from typing import Any, get_args, get_type_hints

from academy.domain.certification.held_back import HeldBack
from academy.domain.certification.rules.missing import (
    CleanSectionsMissing,
    CurvatureMissing,
    HardnessMissing,
    LikeSectionsMissing,
    OneCleanSectionMissing,
    PracticalsMissing,
    SeverityMissing,
    TaskMissing,
)
from academy.domain.certification.standing import (
    AssessedAgainMissing,
    EvidenceExpired,
    ExaminationMissing,
    Missing,
    ModuleMissing,
    SupervisorsMissing,
)

# The word a row keeps for each sentence about a task's sections.
AT_A_TASK: Mapping[str, type[TaskMissing]] = {
    "in a row": PracticalsMissing,
    "clean": CleanSectionsMissing,
    "one clean": OneCleanSectionMissing,
    "like the last": LikeSectionsMissing,
    "curvature": CurvatureMissing,
    "hardness": HardnessMissing,
    "severity": SeverityMissing,
}


def frozen_missing(missing: Missing) -> dict[str, Any]:
    """Return one missing thing as plain values."""
    match missing:
        case ModuleMissing(module_id):
            return {"module": module_id}
        case ExaminationMissing(scheme_id):
            return {"examination": scheme_id}
        case EvidenceExpired(expired_on):
            return {"expired_on": expired_on.isoformat()}
        case AssessedAgainMissing(task_id, needed, have, since):
            return {"task": task_id, "needed": needed, "have": have, "since": since.isoformat()}
        case SupervisorsMissing(needed, have):
            return {"supervisors": needed, "have": have}
    (word,) = (word for word, kind in AT_A_TASK.items() if type(missing) is kind)
    values = asdict(missing)
    return {"task": values.pop("task_id"), "asks": word, **values}


def missing_from_frozen(stored: Mapping[str, Any]) -> Missing:
    """Return one missing thing again; one at a task that names no kind is a run."""
    if "module" in stored:
        return ModuleMissing(stored["module"])
    if "since" in stored:
        since = date.fromisoformat(stored["since"])
        return AssessedAgainMissing(stored["task"], stored["needed"], stored["have"], since)
    if "supervisors" in stored:
        return SupervisorsMissing(stored["supervisors"], stored["have"])
    if "task" in stored:
        values = {key: value for key, value in stored.items() if key not in ("task", "asks")}
        return AT_A_TASK[stored.get("asks", "in a row")](stored["task"], **values)
    if "examination" in stored:
        return ExaminationMissing(stored["examination"])
    return EvidenceExpired(date.fromisoformat(stored["expired_on"]))


_REASONS = {kind.__name__: kind for kind in get_args(HeldBack)}


def frozen_held_back(why: HeldBack) -> dict[str, str]:
    """Return one reason as plain values."""
    plain = {name: _plain(value) for name, value in why.fields().items()}
    return {"says": type(why).__name__} | plain


def held_back_from_frozen(stored: Mapping[str, str]) -> HeldBack:
    """Return one reason again."""
    kind = _REASONS[stored["says"]]
    hints = get_type_hints(kind)
    given = {name: _value(hints[name], stored[name]) for name in stored if name != "says"}
    reason: HeldBack = kind(**given)
    return reason


def _plain(value: object) -> str:
    return value.isoformat() if isinstance(value, date) else str(value)


def _value(wanted: Any, text: str) -> date | Enum:
    if wanted is date:
        return date.fromisoformat(text)
    value: Enum = wanted(text)
    return value
