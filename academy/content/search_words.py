"""Words that are spelt almost alike: trigrams in common, and one slip of the finger."""

from __future__ import annotations

import re
from itertools import islice

# Letters and digits of any script; 'm/s²' and 'dual-action' are two words each.
_WORD = re.compile(r"[^\W_]+")
SHORT = 5
EXACT, SWAPPED, OPENING, SLIP = 1.0, 0.8, 0.75, 0.7
LEAST_SHARE = 0.45


def words_in(text: str, most: int | None = None) -> tuple[str, ...]:
    """Return the words of a text in small letters, the first ``most`` of them."""
    found = (match[0].casefold() for match in _WORD.finditer(text))
    return tuple(islice(found, most))


def trigrams(word: str) -> frozenset[str]:
    """Return the groups of three letters of a word with a space at either end."""
    padded = f" {word} "
    return frozenset(padded[at : at + 3] for at in range(len(padded) - 2))


def likeness(typed: str, word: str) -> float:
    """Return how likely ``word`` was meant, from 0 to 1.

    1 for the word itself; less for a word it opens, and for one a single slip
    away; else by the share of trigrams in common (L. R. Dice (1945), Ecology
    26, 297), and 0 below a share where words no longer look alike.
    """
    if typed == word:
        return EXACT
    if len(typed) >= 3 and word.startswith(typed):
        return OPENING
    if len(typed) >= 3 and one_slip(typed, word):
        # All its letters are there: fingers swap more often than they hit another word.
        return SWAPPED if sorted(typed) == sorted(word) else SLIP
    mine, its = trigrams(typed), trigrams(word)
    share = 2 * len(mine & its) / (len(mine) + len(its))
    return share * SLIP if share >= LEAST_SHARE else 0.0


def one_slip(typed: str, word: str) -> bool:
    """Return whether one letter is wrong, missing, too many, or swapped with the next.

    This is a distance of one in F. J. Damerau (1964), Communications of the
    ACM 7, 171.
    """
    shorter, longer = sorted((typed, word), key=len)
    if len(longer) - len(shorter) > 1:
        return False
    at = next((i for i, (a, b) in enumerate(zip(shorter, longer, strict=False)) if a != b), None)
    if at is None:
        return len(longer) - len(shorter) == 1
    if len(shorter) < len(longer):
        return shorter[at:] == longer[at + 1 :]
    if shorter[at + 1 :] == longer[at + 1 :]:
        return True
    swapped = shorter[at + 1 : at + 2] + shorter[at]
    return shorter[:at] + swapped + shorter[at + 2 :] == longer
