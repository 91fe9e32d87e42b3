"""The rules a trainee is told before answering: what a question earns, when a quiz is sat again."""

from __future__ import annotations

from academy.domain.curriculum.course import Course
from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.questions import Question
from academy.services.quiz import RetakeRule
from academy.web.language import gettext as _


def marks_rule(question: Question) -> str:
    """Return in words what an answer to such a question earns; it tells nothing about the key."""
    match question.interaction:
        case Interaction.CHOICE:
            if question.marks:
                return _("One choice earns the whole question; others may earn part of it.")
            return _("The right choice earns the whole question.")
        case Interaction.MULTIPLE_RESPONSE if question.marks:
            return _("Each choice earns or costs its own part, never below nothing.")
        case Interaction.MULTIPLE_RESPONSE | Interaction.HOTSPOT:
            return _(
                "Each right choice earns its share, each wrong one costs the same,"
                " never below nothing."
            )
        case Interaction.ORDER:
            return _("Each one in its right place earns its share.")
        case Interaction.MATCH:
            return _("Each right pair earns its share.")
        case Interaction.NUMERIC_ENTRY:
            return _("A number close enough earns the whole question.")
        case Interaction.SCENARIO:
            return _(
                "Each decision earns or costs its part, never below nothing in all;"
                " what has been decided stays."
            )


def retake_rule(course: Course, module_id: str) -> RetakeRule:
    """Return the longest wait of the schemes that ask for the module; what was missed is read again."""
    asking = (scheme for scheme in course.schemes if module_id in scheme.modules)
    return RetakeRule(max((scheme.retake_days for scheme in asking), default=0))
