"""What a scheme asks, what a person has, and what is therefore true today."""

from academy.domain.certification.evidence import Evidence, PracticalEvidence
from academy.domain.certification.standing import (
    EvidenceExpired,
    ExaminationMissing,
    Missing,
    ModuleMissing,
    PracticalsMissing,
    Standing,
    add_months,
    standing,
    titles_for,
)

__all__ = [
    "Evidence",
    "EvidenceExpired",
    "ExaminationMissing",
    "Missing",
    "ModuleMissing",
    "PracticalEvidence",
    "PracticalsMissing",
    "Standing",
    "add_months",
    "standing",
    "titles_for",
]
