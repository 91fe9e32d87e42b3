"""What is missing, as the plain values a standing row keeps."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from academy.domain.certification.standing import (
    EvidenceExpired,
    ExaminationMissing,
    Missing,
    ModuleMissing,
    PracticalsMissing,
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


def missing_from_frozen(stored: Mapping[str, Any]) -> Missing:
    """Return one missing thing again."""
    if "module" in stored:
        return ModuleMissing(stored["module"])
    if "task" in stored:
        return PracticalsMissing(stored["task"], stored["needed"], stored["have"])
    if "examination" in stored:
        return ExaminationMissing(stored["examination"])
    return EvidenceExpired(date.fromisoformat(stored["expired_on"]))
