"""What a response earns: integer percent of a question, never an exception.

A response is a plain mapping as it was saved.  Anything that is not a proper
response to the question earns nothing.  Partial credit follows the mapping
semantics of QTI's ``map_response``: each chosen value counts once, the values
are added and the sum is clamped to the bounds, here 0 and 100.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from decimal import Decimal, InvalidOperation
from typing import Any

from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.questions import Question
from academy.domain.curriculum.scenario import path_taken

Response = Mapping[str, Any]
# far beyond anything measured; sums of decimals overflow at a million places
LARGEST_POWER_OF_TEN = 30


def marks(question: Question, response: object) -> int:
    """Return what the response earns, 0..100 percent of the question."""
    if not isinstance(response, Mapping):
        return 0
    return max(0, min(100, _SCORERS[question.interaction](question, response)))


def answered(question: Question, response: object) -> bool:
    """Return whether the response says something; a scenario counts once it has ended."""
    if not isinstance(response, Mapping):
        return False
    if question.interaction is Interaction.SCENARIO:
        path = path_taken(question, scenario_choices(response))
        return path.ended and bool(path.steps)
    if question.interaction is Interaction.NUMERIC_ENTRY:
        return read_number(response.get("value")) is not None
    if question.interaction is Interaction.ORDER:
        return bool(_numbers(response.get("order")))
    if question.interaction is Interaction.MATCH:
        return bool(_pairs(response.get("pairs")))
    return bool(_numbers(response.get("chosen")))


def share(whole: int, parts: int, of: int) -> int:
    """Return ``parts`` of ``of`` equal shares of ``whole``, rounded down; all of them are whole."""
    return whole * parts // of if of else 0


def read_number(text: object) -> Decimal | None:
    """Return a typed number, decimal comma or point, or None."""
    if isinstance(text, bool) or not isinstance(text, str | int | float):
        return None
    try:
        number = Decimal(str(text).strip().replace(",", "."))
    except (InvalidOperation, ValueError):  # ValueError: an integer too long to be written out
        return None
    return number if number.is_finite() and number.adjusted() <= LARGEST_POWER_OF_TEN else None


def scenario_choices(response: object) -> dict[str, int]:
    """Return the option taken at each decision so far, by decision id."""
    given = response.get("choices") if isinstance(response, Mapping) else None
    if not isinstance(given, Mapping):
        return {}
    taken = {str(decision): _numbers(option) for decision, option in given.items()}
    return {decision: option[0] for decision, option in taken.items() if len(option) == 1}


def _numbers(given: object) -> tuple[int, ...]:
    """Return whole numbers from one number or a list, each once and in order."""
    items = given if isinstance(given, list | tuple) else [given]
    numbers: list[int] = []
    for item in items:
        if isinstance(item, int) and not isinstance(item, bool):
            numbers.append(item)
        elif isinstance(item, str) and item.isascii() and item.isdigit() and len(item) < 6:
            numbers.append(int(item))
    return tuple(numbers)


def _pairs(given: object) -> dict[int, int]:
    if not isinstance(given, Mapping):
        return {}
    pairs: dict[int, int] = {}
    for left, right in given.items():
        numbers = _numbers([left, right])
        if len(numbers) == 2:
            pairs[numbers[0]] = numbers[1]
    return pairs


def _score_choice(question: Question, response: Response) -> int:
    chosen = _numbers(response.get("chosen"))
    if len(chosen) != 1:
        return 0
    if question.marks:
        return question.marks.get(chosen[0], 0)
    return 100 if chosen[0] in question.key else 0


def _score_several(question: Question, response: Response) -> int:
    chosen = set(_numbers(response.get("chosen")))
    known = {option.number for option in question.options} | {r.number for r in question.regions}
    chosen &= known
    if question.marks:
        return sum(question.marks.get(number, 0) for number in chosen)
    right = len(chosen & set(question.key))
    wrong = len(chosen - set(question.key))
    return share(100, right - wrong, len(question.key))


def _score_order(question: Question, response: Response) -> int:
    order = _numbers(response.get("order"))
    if sorted(order) != sorted(question.key):
        return 0
    in_place = sum(given == right for given, right in zip(order, question.key, strict=True))
    return share(100, in_place, len(question.key))


def _score_match(question: Question, response: Response) -> int:
    pairs = _pairs(response.get("pairs"))
    right = sum(pairs.get(left) == partner for left, partner in question.key_pairs.items())
    return share(100, right, len(question.key_pairs))


def _score_number(question: Question, response: Response) -> int:
    value = read_number(response.get("value"))
    if value is None or question.key_value is None:
        return 0
    miss = abs(value - Decimal(str(question.key_value)))
    return 100 if miss <= Decimal(str(question.tolerance)) else 0


def _score_scenario(question: Question, response: Response) -> int:
    return path_taken(question, scenario_choices(response)).marks_percent


_SCORERS: Mapping[Interaction, Callable[[Question, Response], int]] = {
    Interaction.CHOICE: _score_choice,
    Interaction.MULTIPLE_RESPONSE: _score_several,
    Interaction.HOTSPOT: _score_several,
    Interaction.ORDER: _score_order,
    Interaction.MATCH: _score_match,
    Interaction.NUMERIC_ENTRY: _score_number,
    Interaction.SCENARIO: _score_scenario,
}
