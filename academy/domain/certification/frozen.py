"""What is missing, as the plain values a standing row keeps."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from academy.domain.certification.standing import (
    AssessedAgainMissing,
    EvidenceExpired,
    ExaminationMissing,
    Missing,
    ModuleMissing,
    PracticalsMissing,
    SupervisorsMissing,
)


def frozen_missing(missing: Missing) -> dict[str, Any]:
    """Return one missing thing as plain values."""
    match missing:
        case ModuleMissing(module_id):
            return {"module": module_id}
        case PracticalsMissing(task_id, needed, have):
            return {"task": task_id, "needed": needed, "have": have}
        case ExaminationMissing(scheme_id):
            return {"examination": scheme_id}
        case EvidenceExpired(expired_on):
            return {"expired_on": expired_on.isoformat()}
        case AssessedAgainMissing(task_id, needed, have, since):
            return {"task": task_id, "needed": needed, "have": have, "since": since.isoformat()}
        case SupervisorsMissing(needed, have):
            return {"supervisors": needed, "have": have}


def missing_from_frozen(stored: Mapping[str, Any]) -> Missing:
    """Return one missing thing again."""
    if "module" in stored:
        return ModuleMissing(stored["module"])
    if "since" in stored:
        since = date.fromisoformat(stored["since"])
        return AssessedAgainMissing(stored["task"], stored["needed"], stored["have"], since)
    if "supervisors" in stored:
        return SupervisorsMissing(stored["supervisors"], stored["have"])
    if "task" in stored:
        return PracticalsMissing(stored["task"], stored["needed"], stored["have"])
    if "examination" in stored:
        return ExaminationMissing(stored["examination"])
    return EvidenceExpired(date.fromisoformat(stored["expired_on"]))
