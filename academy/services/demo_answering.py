"""How the invented people of the demonstration answer: by ability, and with a few odd habits.

Whoever is abler has more right; a just-competent person has each question right
as often as its rating says.  On a few questions everybody behaves as if the
question had a fault that it does not have: the fault is in the answers.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from random import Random
from typing import Any

from academy.domain.assessment.key import right_response
from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.questions import Question
from academy.domain.curriculum.scenario import path_taken

SLOPE = 1.1
# where a just-competent person stands among all who sit, in standard deviations
JUST_COMPETENT = -1.2
SCATTER = 0.35


class Habit(Enum):
    """How people answer one question."""

    BY_ABILITY = "the abler, the more often right"
    ABLE_TAKE_ANOTHER = "the abler, the more often one certain wrong option"
    READ_IN_TWO_WAYS = "two options, whoever answers"
    ALWAYS_RIGHT = "right, whoever answers"
    HARDER_THAN_RATED = "by ability, and far less often right than the rating says"


@dataclass(frozen=True, slots=True)
class Answering:
    """How one question is answered; ``tempts`` weighs its wrong options."""

    question: Question
    habit: Habit
    easiness: float
    tempts: Mapping[int, float]


def answering(question: Question, habit: Habit, chance: Random) -> Answering:
    """Return how a question is answered, drawn once for the whole invented year."""
    share = min(max(question.rating_percent / 100, 0.05), 0.95)
    easiness = math.log(share / (1 - share)) - SLOPE * JUST_COMPETENT + chance.gauss(0, SCATTER)
    if habit is Habit.HARDER_THAN_RATED:
        easiness -= 3
    wrong = [option.number for option in question.options if option.number not in question.key]
    return Answering(question, habit, easiness, {n: chance.uniform(0.4, 1) for n in wrong})


def answer(how: Answering, ability: float, chance: Random) -> dict[str, Any]:
    """Return one person's response."""
    question, luck = how.question, chance.random()
    first_wrong = next(iter(how.tempts), None)
    match how.habit:
        case Habit.ALWAYS_RIGHT:
            right = luck < 0.99
        case Habit.READ_IN_TWO_WAYS:
            if luck < 0.45 and first_wrong is not None:
                return {"chosen": [first_wrong]}
            right = luck < 0.92
        case Habit.ABLE_TAKE_ANOTHER:
            if luck < _chance(3 * ability + 0.5) and first_wrong is not None:
                return {"chosen": [first_wrong]}
            right = chance.random() < 0.7
        case _:
            right = luck < _chance(SLOPE * ability + how.easiness)
    return right_response(question) if right else _wrong(how, chance)


def _chance(logit: float) -> float:
    return 1 / (1 + math.exp(-logit))


def _wrong(how: Answering, chance: Random) -> dict[str, Any]:
    question = how.question
    match question.interaction:
        case Interaction.CHOICE:
            taken = chance.choices(list(how.tempts), list(how.tempts.values()))
            return {"chosen": taken}
        case Interaction.MULTIPLE_RESPONSE:
            return {"chosen": _mixed(question.key, list(how.tempts), chance)}
        case Interaction.HOTSPOT:
            others = [r.number for r in question.regions if r.number not in question.key]
            return {"chosen": _mixed(question.key, others, chance)}
        case Interaction.ORDER:
            return {"order": _swapped(question.key, chance)}
        case Interaction.MATCH:
            lefts = list(question.key_pairs)
            rights = _swapped([question.key_pairs[left] for left in lefts], chance)
            return {"pairs": {str(left): right for left, right in zip(lefts, rights, strict=True)}}
        case Interaction.NUMERIC_ENTRY:
            factor = chance.choice((0.1, 0.5, 2, 10))
            return {"value": f"{(question.key_value or 1) * factor:g}"}
        case Interaction.SCENARIO:
            return {"choices": _another_way(question, chance)}


def _mixed(key: Sequence[int], others: Sequence[int], chance: Random) -> list[int]:
    """Return the key with one part left out, or one wrong part taken in place of one."""
    kept = list(key)
    kept.pop(chance.randrange(len(kept)))
    if others and (not kept or chance.random() < 0.6):
        kept.append(chance.choice(list(others)))
    return sorted(kept)


def _swapped(right: Sequence[int], chance: Random) -> list[int]:
    """Return the right order with two neighbours changed about that are not the same."""
    swapped = list(right)
    places = [n for n in range(len(swapped) - 1) if swapped[n] != swapped[n + 1]]
    first = chance.choice(places)
    swapped[first], swapped[first + 1] = swapped[first + 1], swapped[first]
    return swapped


def _another_way(question: Question, chance: Random) -> dict[str, int]:
    """Return a way through a scenario that leaves the key at its first decision."""
    choices: dict[str, int] = {}
    while (here := path_taken(question, choices).next_decision) is not None:
        others = [option.number for option in here.options if option.number != here.key]
        choices[here.id] = here.key if choices else chance.choice(others)
    return choices
