"""A form: the questions of one sitting, in the order asked, and its cut score."""

from __future__ import annotations

from dataclasses import dataclass

from academy.domain.assessment.least_seen import Chooser
from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.questions import Question


@dataclass(frozen=True, slots=True)
class FormQuestion:
    """One question on a form and the order in which its options are shown."""

    question: Question
    option_order: tuple[int, ...]
    partner_order: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Form:
    """The questions of one sitting, in the order asked."""

    questions: tuple[FormQuestion, ...]

    @property
    def cut_points(self) -> int:
        """Return the form's cut score in points of one percent of a question.

        It is the sum of the questions' minimum-competence ratings (Angoff 1971),
        kept as integers so that no rounding can move the pass mark.
        """
        return sum(item.question.rating_percent for item in self.questions)

    @property
    def full_points(self) -> int:
        """Return the most that can be scored, 100 for each question."""
        return 100 * len(self.questions)

    @property
    def question_ids(self) -> tuple[str, ...]:
        """Return the ids in the order asked."""
        return tuple(item.question.id for item in self.questions)

    def find(self, question_id: str) -> FormQuestion | None:
        """Return the question of that id on this form, or None."""
        return next((item for item in self.questions if item.question.id == question_id), None)


def laid_out(question: Question, chance: Chooser) -> FormQuestion:
    """Return the question with its options in the order they will be shown."""
    options = [option.number for option in question.options]
    partners = [partner.number for partner in question.partners]
    if question.shuffle and question.interaction is not Interaction.SCENARIO:
        chance.shuffle(options)
    chance.shuffle(partners)
    return FormQuestion(question, tuple(options), tuple(partners))
