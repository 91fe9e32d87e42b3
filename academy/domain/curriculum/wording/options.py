"""Flaws in the options of a question."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import combinations, pairwise

from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.wording.texts import Flaw, Wording, number_of, range_of, words

_ALL_OF = re.compile(r"\ball (of )?(the above|these|of them)\b|\bboth [A-D] and [A-D]\b", re.I)
_LETTERS = re.compile(r"^\s*[A-D]\s*(and|&|,)\s*[A-D]\b")
_NONE_OF = re.compile(r"\bnone of (the above|these|them)\b", re.I)
_NUMBERS_TOGETHER = re.compile(r"^\s*(options?\s+)?\d\s*(and|&|,)\s*\d\b(\s+only)?\W*$", re.I)
_VAGUE = re.compile(r"\b(usually|sometimes|often)\b", re.I)
_ABSOLUTE = ("always", "never", "only", "must", "all")

LONGEST_KEY_RATIO = 1.25
LONGEST_KEY_CHARACTERS = 5
LENGTH_RATIO = 2
LENGTH_CHARACTERS = 15
NEAR_DUPLICATE = 0.9
COMMON_OPENING_WORDS = 3


def all_of_the_above(wording: Wording) -> Iterator[Flaw]:
    """L01."""
    for option in wording.options:
        if _ALL_OF.search(option.text) or _LETTERS.search(option.text):
            yield Flaw(
                "option %(option)s stands for several others; say what is meant",
                option=option.number,
            )


def none_of_the_above(wording: Wording) -> Iterator[Flaw]:
    """L02."""
    for option in wording.options:
        if _NONE_OF.search(option.text):
            yield Flaw(
                "option %(option)s denies all others; write a wrong answer instead",
                option=option.number,
            )


def longest_key(wording: Wording) -> Iterator[Flaw]:
    """L03: the key stands out by its length.

    A few characters more are no cue, and numbers are as long as they are.
    """
    if not wording.picks_one or len(wording.right) != 1 or not wording.wrong:
        return
    key = wording.right[0]
    longest = max(len(option.text) for option in wording.wrong)
    longer = len(key.text) - longest
    if (
        len(key.text) > LONGEST_KEY_RATIO * longest
        and longer > LONGEST_KEY_CHARACTERS
        and number_of(key.text) is None
    ):
        yield Flaw(
            "the key (option %(key)s) has %(characters)s characters, the longest wrong option %(longest)s; its length gives it away",
            key=key.number,
            characters=len(key.text),
            longest=longest,
        )


def uneven_lengths(wording: Wording) -> Iterator[Flaw]:
    """L04."""
    lengths = [len(option.text) for option in wording.options]
    if not wording.picks or len(lengths) < 2:
        return
    longest, shortest = max(lengths), min(lengths)
    if longest > LENGTH_RATIO * shortest and longest - shortest > LENGTH_CHARACTERS:
        yield Flaw(
            "the options are of very different length, %(shortest)s to %(longest)s characters",
            shortest=shortest,
            longest=longest,
        )


def unordered_numbers(wording: Wording) -> Iterator[Flaw]:
    """L06."""
    values = [number_of(option.text) for option in wording.options]
    numbers = [value for value in values if value is not None]
    if not wording.picks or len(numbers) != len(values) or len(numbers) < 2:
        return
    rising = all(one < other for one, other in pairwise(numbers))
    falling = all(one > other for one, other in pairwise(numbers))
    if not (rising or falling):
        yield Flaw("put the numbers in order")
    if wording.shuffle:
        yield Flaw("the options are numbers in order: say `shuffle: false`")


def overlapping_ranges(wording: Wording) -> Iterator[Flaw]:
    """L07."""
    if not wording.picks:
        return
    ranges = [(option.number, range_of(option.text)) for option in wording.options]
    known = [(number, found) for number, found in ranges if found is not None]
    for (one, first), (other, second) in combinations(known, 2):
        if first.low <= second.high and second.low <= first.high:
            yield Flaw("the ranges of options %(one)s and %(other)s overlap", one=one, other=other)


def duplicates(wording: Wording) -> Iterator[Flaw]:
    """L09: the same option twice, or nearly.

    Options with the same words in another order say something else.
    """
    tokens = [(option.number, words(option.text)) for option in wording.options]
    for (one, first), (other, second) in combinations(tokens, 2):
        together = set(first) | set(second)
        alike = len(set(first) & set(second)) / len(together) if together else 1.0
        if first == second:
            yield Flaw("options %(one)s and %(other)s say the same", one=one, other=other)
        elif alike > NEAR_DUPLICATE and set(first) != set(second):
            yield Flaw("options %(one)s and %(other)s say nearly the same", one=one, other=other)


def absolute_words(wording: Wording) -> Iterator[Flaw]:
    """L11."""
    if not wording.picks or not wording.right or not wording.wrong:
        return
    right = {word for option in wording.right for word in words(option.text)}
    wrong = {word for option in wording.wrong for word in words(option.text)}
    in_right = [word for word in _ABSOLUTE if word in right]
    in_wrong = [word for word in _ABSOLUTE if word in wrong]
    if in_right and not in_wrong:
        yield Flaw("only the key says '%(word)s'", word=in_right[0])
    if in_wrong and not in_right:
        yield Flaw("only wrong options say '%(word)s', which marks them as wrong", word=in_wrong[0])


def common_opening(wording: Wording) -> Iterator[Flaw]:
    """L15."""
    openings = {words(option.text)[:COMMON_OPENING_WORDS] for option in wording.options}
    if len(wording.options) < 2 or len(openings) != 1:
        return
    opening = openings.pop()
    if len(opening) == COMMON_OPENING_WORDS:
        yield Flaw(
            "every option opens with '%(opening)s'; put it into the question",
            opening=" ".join(opening),
        )


def too_few_options(wording: Wording) -> Iterator[Flaw]:
    """L16, the error half."""
    fewest = 2 if wording.interaction is Interaction.MATCH else 3
    counted = wording.interaction not in (Interaction.NUMERIC_ENTRY, Interaction.HOTSPOT)
    if counted and len(wording.options) < fewest:
        yield Flaw(
            "there are %(there)s options; %(fewest)s is the least",
            there=len(wording.options),
            fewest=fewest,
        )


def many_options(wording: Wording) -> Iterator[Flaw]:
    """L16, the warning half."""
    if wording.picks and len(wording.options) > 4:
        yield Flaw(
            "there are %(there)s options; three or four are enough", there=len(wording.options)
        )


def combined_options(wording: Wording) -> Iterator[Flaw]:
    """L18."""
    for option in wording.options:
        if wording.picks and _NUMBERS_TOGETHER.search(option.text):
            yield Flaw(
                "option %(option)s combines others; use a multiple response instead",
                option=option.number,
            )


def vague_frequency(wording: Wording) -> Iterator[Flaw]:
    """L19."""
    for option in wording.options:
        found = _VAGUE.search(option.text)
        if found and wording.picks:
            yield Flaw(
                "option %(option)s says '%(word)s', which everybody reads differently",
                option=option.number,
                word=found[0],
            )
