"""What is missing, as the plain values a standing row keeps."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict
from datetime import date
from typing import Any

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
