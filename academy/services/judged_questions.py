"""Questions with what the answers of a shop say about them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from academy.domain.assessment.mending import Finding, NearCut
from academy.domain.assessment.shown_share import ShownShare
from academy.domain.assessment.wording_evidence import Evidence
from academy.domain.curriculum.questions import Question
from academy.store.queries.question_quality import DisputeCount

if TYPE_CHECKING:
    from academy.domain.assessment.item_parameters import ItemParameters
    from academy.services.counted_answers import ShopAnswers


@dataclass(frozen=True, slots=True)
class JudgedWording:
    """One wording: what the answers say, and for the present wording what is wrong with it.

    ``difficulty`` is that of the one-parameter model in standard deviations of
    ability, None without an estimate.
    """

    question: Question
    evidence: Evidence
    share: ShownShare
    difficulty: float | None
    near_cut: NearCut | None
    disputes: DisputeCount
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class JudgedQuestion:
    """One question of the course as it is worded now, with its earlier wordings."""

    now: JudgedWording
    earlier: tuple[JudgedWording, ...]
    seen: int

    @property
    def id(self) -> str:
        """Return the question's id."""
        return self.now.question.id


@dataclass(frozen=True, slots=True, eq=False)
class QuestionQuality:
    """All questions of the course, those to mend first in front; and what it rests on."""

    questions: tuple[JudgedQuestion, ...]
    answers: ShopAnswers
    parameters: ItemParameters | None

    def question(self, question_id: str) -> JudgedQuestion | None:
        """Return one question, or None."""
        return next((one for one in self.questions if one.id == question_id), None)
