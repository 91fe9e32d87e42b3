"""Flaws in the stem of a question."""

from __future__ import annotations

import re
from collections.abc import Iterator

from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.wording.texts import Flaw, Wording, words

_AT_LEAST = re.compile(r"\b(at least|at the least|not only|whether or not)\b", re.I)
_NEGATIVE = re.compile(r"\b(not|except|least|never)\b", re.I)
_EMPHASISED = re.compile(
    r"(?<!\S)(\*{1,2})(?=\S)[^*]*\b(not|except|least|never)\b[^*]*(?<=\S)\1", re.I
)
_CAPITALS = re.compile(r"\b(NOT|EXCEPT|LEAST|NEVER)\b")
_NEGATIVE_OPTION = re.compile(r"\b(not|never|no|none|\w+n['’]t)\b", re.I)
_OPEN_END = re.compile(r"(\?|_{2,}|…|\.\.\.|:)\W*$")
_ARTICLE_END = re.compile(r"\b(a|an)\s*(_+|…|\.\.\.|:)?\s*$", re.I)
_NUMBER_WORDS = {"two": 2, "three": 3, "four": 4}

STEM_WORDS = 5
STEM_SHARE = 0.5


def negative_stem(wording: Wording) -> Iterator[Flaw]:
    """L10, the warning half: a negative question hides its turn."""
    asked = _AT_LEAST.sub("", wording.question_sentence)
    shown = _EMPHASISED.search(wording.stem_markup) or _CAPITALS.search(wording.stem)
    found = _NEGATIVE.search(asked)
    if found and not shown:
        yield Flaw(
            "the question turns on '%(word)s': ask it the other way, or emphasise the word",
            word=found[0],
        )


def double_negative(wording: Wording) -> Iterator[Flaw]:
    """L10, the error half."""
    asked = _AT_LEAST.sub("", wording.question_sentence)
    if not _NEGATIVE.search(asked):
        return
    for option in wording.options:
        found = _NEGATIVE_OPTION.search(_AT_LEAST.sub("", option.text))
        if found:
            yield Flaw(
                "the question is negative and so is option %(option)s ('%(word)s')",
                option=option.number,
                word=found[0],
            )


def grammar_cue(wording: Wording) -> Iterator[Flaw]:
    """L13: the grammar of the stem tells options apart."""
    if _ARTICLE_END.search(wording.stem):
        yield Flaw("the stem ends in 'a' or 'an', which fits some options and not others")
    asked = re.search(r"\b(two|three|four)\b", wording.question_sentence, re.I)
    several = wording.interaction is Interaction.MULTIPLE_RESPONSE
    if several and asked and _NUMBER_WORDS[asked[0].lower()] != len(wording.keys):
        yield Flaw(
            "the question asks for %(asked)s and the key names %(named)s",
            asked=asked[0].lower(),
            named=len(wording.keys),
        )


def stem_asks(wording: Wording) -> Iterator[Flaw]:
    """L14: a stem is a question, or ends where the options go on.

    Order, match and hotspot stems are instructions and may end in a full stop.
    """
    asks = wording.picks or wording.interaction is Interaction.NUMERIC_ENTRY
    if asks and not _OPEN_END.search(wording.stem.strip()):
        yield Flaw("the stem is no question; end with a question mark")
    if wording.decision_id:
        return
    length = len(words(wording.stem))
    if length < STEM_WORDS:
        yield Flaw("the stem has %(words)s words; say what the question is about", words=length)
        return
    counts = [len(words(option.text)) for option in wording.options]
    if wording.picks and counts and length < STEM_SHARE * sum(counts) / len(counts):
        yield Flaw("the options are much longer than the stem; move what they share into it")
