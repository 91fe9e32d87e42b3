"""How easy a lesson is to read."""

from __future__ import annotations

import re
from dataclasses import dataclass

_WORD = re.compile(r"[A-Za-z]+(?:['’][A-Za-z]+)?")
_SENTENCE_END = re.compile(r"[.!?]+(?=\s|$)|\n+")
_VOWELS = re.compile(r"[aeiouy]+")
# 'take', 'takes', 'refined'; but not 'table', 'passes', 'edges', 'started'.
_SILENT_E = re.compile(r"(?<![^aeiouy]l)(?<![aeiouy])e$|(?<![sxzcgh])es$|(?<![td])ed$")


@dataclass(frozen=True, slots=True)
class Readability:
    """Flesch reading ease of a text; 60 to 70 is plain English."""

    words: int
    sentences: int
    syllables: int

    @property
    def ease(self) -> float | None:
        """Return the reading ease, or None for a text without words.

        R. Flesch (1948), A new readability yardstick, Journal of Applied
        Psychology 32, 221-233: 206.835 - 1.015 words/sentence - 84.6
        syllables/word.
        """
        if not self.words:
            return None
        per_sentence = self.words / self.sentences
        return 206.835 - 1.015 * per_sentence - 84.6 * self.syllables / self.words


def readability(text: str) -> Readability:
    """Return the counts Flesch's formula needs; a line of its own is a sentence."""
    sentences = [part for part in _SENTENCE_END.split(text) if _WORD.search(part)]
    words = _WORD.findall(text)
    return Readability(len(words), max(1, len(sentences)), sum(map(syllables, words)))


def syllables(word: str) -> int:
    """Return about how many syllables an English word has.

    Groups of vowels, less a silent final e; a rule of thumb that is off by one
    for a few words in a hundred, which the mean evens out.
    """
    word = word.lower()
    count = len(_VOWELS.findall(word))
    return max(1, count - (1 if count > 1 and _SILENT_E.search(word) else 0))
