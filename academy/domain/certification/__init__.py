"""What a scheme asks, what a person has, what was decided, and what is therefore true today."""

from academy.domain.certification.evidence import Evidence, PracticalEvidence
from academy.domain.certification.register import (
    Decision,
    Register,
    Restriction,
    ReturnCheck,
    Suspension,
    Withdrawal,
)
from academy.domain.certification.rules.missing import PracticalsMissing
from academy.domain.certification.standing import (
    AssessedAgainMissing,
    EvidenceExpired,
    ExaminationMissing,
    Missing,
    ModuleMissing,
    Standing,
    SupervisorsMissing,
    add_months,
    standing,
    titles_for,
)
from academy.domain.certification.status import Status, StatusWord, status

__all__ = [
    "AssessedAgainMissing",
    "Decision",
    "Evidence",
    "EvidenceExpired",
    "ExaminationMissing",
    "Missing",
    "ModuleMissing",
    "PracticalEvidence",
    "PracticalsMissing",
    "Register",
    "Restriction",
    "ReturnCheck",
    "Standing",
    "Status",
    "StatusWord",
    "SupervisorsMissing",
    "Suspension",
    "Withdrawal",
    "add_months",
    "standing",
    "status",
    "titles_for",
]
