"""The response that earns all of a question's marks."""

from __future__ import annotations

from typing import Any

from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.questions import Question
from academy.domain.curriculum.scenario import best_path


def right_response(question: Question) -> dict[str, Any]:
    """Return the response that is wholly right; never sent to a page before submission."""
    match question.interaction:
        case Interaction.ORDER:
            return {"order": list(question.key)}
        case Interaction.MATCH:
            return {"pairs": {str(left): right for left, right in question.key_pairs.items()}}
        case Interaction.NUMERIC_ENTRY:
            return {"value": str(question.key_value)}
        case Interaction.SCENARIO:
            steps = best_path(question).steps
            return {"choices": {step.decision.id: step.chosen for step in steps}}
    return {"chosen": list(question.key)}
