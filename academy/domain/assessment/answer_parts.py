"""What an answer consists of, part by part: the options taken, the places hit, the number typed.

Counting parts is what shows which wrong answer draws whom, for every kind of
question and not only where one option is chosen.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from academy.domain.assessment.scoring import marks, read_number, scenario_choices
from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.questions import Question
from academy.domain.curriculum.scenario import path_taken

RIGHT_NUMBER = "right"
Response = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Part:
    """One thing an answer can hold, and whether it is part of the right answer."""

    name: str
    right: bool


def parts_of(question: Question) -> tuple[Part, ...]:
    """Return everything an answer to the question can hold, in the order of the source.

    Of a numeric entry only the right number is known beforehand.
    """
    match question.interaction:
        case Interaction.ORDER:
            return tuple(Part(str(number), right=True) for number in question.key)
        case Interaction.MATCH:
            return tuple(Part(str(left), right=True) for left in question.key_pairs)
        case Interaction.NUMERIC_ENTRY:
            return (Part(RIGHT_NUMBER, right=True),)
        case Interaction.HOTSPOT:
            numbers = [region.number for region in question.regions]
        case Interaction.SCENARIO:
            return tuple(
                Part(f"{decision.id}:{option.number}", option.number == decision.key)
                for decision in question.decisions
                for option in decision.options
            )
        case _:
            numbers = [option.number for option in question.options]
    return tuple(Part(str(number), number in question.key) for number in numbers)


def parts_taken(question: Question, response: object) -> frozenset[str]:
    """Return the names of the parts a response holds; none where it was left blank.

    An order holds the numbers that stand in their right place, a match the
    left sides that were paired rightly.
    """
    if not isinstance(response, Mapping):
        return frozenset()
    match question.interaction:
        case Interaction.ORDER:
            placed = list(response.get("order") or ())
            pairs = zip(placed, question.key, strict=False)
            return frozenset(str(right) for given, right in pairs if given == right)
        case Interaction.MATCH:
            given = {str(left): right for left, right in dict(response.get("pairs") or {}).items()}
            return frozenset(
                str(left)
                for left, right in question.key_pairs.items()
                if given.get(str(left)) == right
            )
        case Interaction.NUMERIC_ENTRY:
            return _number_typed(question, response)
        case Interaction.SCENARIO:
            steps = path_taken(question, scenario_choices(response)).steps
            return frozenset(f"{step.decision.id}:{step.chosen}" for step in steps)
    chosen = response.get("chosen")
    listed = chosen if isinstance(chosen, list | tuple) else [chosen]
    return frozenset(str(number) for number in listed if number is not None)


def _number_typed(question: Question, response: Response) -> frozenset[str]:
    number = read_number(response.get("value"))
    if number is None:
        return frozenset()
    right = marks(question, response) == 100
    return frozenset({RIGHT_NUMBER if right else f"{number.normalize():f}"})
