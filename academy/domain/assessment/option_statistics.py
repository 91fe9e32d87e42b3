"""Which option draws whom: distractors nobody takes, and keys that may be wrong.

A wrong key shows as an option that the able trainees take instead of the key.
The limits are those of ``mending``.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import Enum

import numpy as np

from academy.domain.assessment.item_statistics import correlation
from academy.domain.assessment.mending import (
    EASIEST,
    HARDEST,
    SELDOM_FROM,
    SELDOM_SHARE,
    WEAKEST,
)
from academy.domain.assessment.responses import Numbers, RowsDiffer
from academy.domain.assessment.shown_share import FEWEST_FOR_A_PERCENTAGE

# An answer left blank: presented, and wrong.
BLANK = ""


class ItemFlag(Enum):
    """Why somebody should look at a question again."""

    SUSPECTED_WRONG_KEY = "suspected wrong key"
    UNUSED_OPTION = "seldom taken option"
    TOO_HARD = "too hard"
    TOO_EASY = "too easy"
    WEAK = "does not tell trainees apart"
    FEW_ANSWERS = "few answers"


@dataclass(frozen=True, slots=True)
class OptionTable:
    """One question: how many took each option, how that goes with the rest, what to look at.

    `option_rest` is the correlation of taking an option with the share right
    of the other questions; None where nobody or everybody took it.
    """

    key: str
    counts: Mapping[str, int]
    option_rest: Mapping[str, float | None]
    flags: tuple[ItemFlag, ...]

    @property
    def answered(self) -> int:
        """How many were asked."""
        return sum(self.counts.values())


def option_tables(
    choices: Sequence[Sequence[str | None]],
    keys: Sequence[str],
    options: Sequence[Sequence[str]] | None = None,
) -> tuple[OptionTable, ...]:
    """Return the option table of each question.

    Parameters
    ----------
    choices
        persons × questions: the option taken, "" left blank, None not presented
    keys
        the right option of each question
    options
        every option of each question, where one that nobody took should count 0

    Raises
    ------
    RowsDiffer
    """
    for person, row in enumerate(choices, start=1):
        if len(row) != len(keys):
            raise RowsDiffer(person, len(row), len(keys))
    table = np.array(choices, dtype=object).reshape(len(choices), len(keys))
    asked = np.array([[taken is not None for taken in row] for row in table], dtype=bool)
    right = np.array([[t == k for t, k in zip(row, keys, strict=True)] for row in table])
    offered = options or [()] * len(keys)
    return tuple(
        _option_table(list(table[:, item]), key, offered[item], _rest(asked, right, item))
        for item, key in enumerate(keys)
    )


def _rest(asked: Numbers, right: Numbers, item: int) -> Numbers:
    """Return each person's share right of the other questions; NaN where there is none."""
    others = asked.sum(axis=1) - asked[:, item]
    rest = right.sum(axis=1) - right[:, item]
    return np.where(others > 0, rest / np.maximum(others, 1), np.nan)


def _option_table(
    taken: Sequence[str | None], key: str, offered: Sequence[str], rest: Numbers
) -> OptionTable:
    given = np.array([option if option is not None else BLANK for option in taken], dtype=object)
    asked = np.array([option is not None for option in taken])
    found = sorted({key, *offered, *(str(option) for option in given[asked])})
    counts = {option: int(((given == option) & asked).sum()) for option in found}
    used = asked & ~np.isnan(rest)
    option_rest = {
        option: correlation(
            (given[used] == option).astype(float), rest[used], np.ones(int(used.sum()))
        )
        for option in found
    }
    return OptionTable(key, counts, option_rest, _flags(key, counts, option_rest))


def _flags(
    key: str, counts: Mapping[str, int], option_rest: Mapping[str, float | None]
) -> tuple[ItemFlag, ...]:
    answered = sum(counts.values())
    if not answered:
        return (ItemFlag.FEW_ANSWERS,)
    share, discrimination = counts[key] / answered, option_rest[key]
    distractors = [option for option in counts if option not in (key, BLANK)]
    # A key that nobody took goes with nothing: any option the able ones take is then suspect.
    to_beat = 0.0 if discrimination is None else discrimination
    seldom = SELDOM_SHARE * answered
    raised = {
        ItemFlag.SUSPECTED_WRONG_KEY: any((option_rest[o] or 0.0) > to_beat for o in distractors)
        and any(option_rest[o] is not None for o in distractors),
        ItemFlag.UNUSED_OPTION: answered >= SELDOM_FROM
        and any(counts[option] < seldom for option in distractors),
        ItemFlag.TOO_HARD: share < HARDEST,
        ItemFlag.TOO_EASY: share > EASIEST,
        ItemFlag.WEAK: discrimination is not None and discrimination < WEAKEST,
        ItemFlag.FEW_ANSWERS: answered < FEWEST_FOR_A_PERCENTAGE,
    }
    return tuple(flag for flag, stands in raised.items() if stands)
