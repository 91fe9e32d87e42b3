"""How far raters agree, in the words a page uses for it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from academy.domain.sentences import Sentence

# Limits of alpha: K. Krippendorff (2004), Content Analysis, 2nd ed., p. 241 (from memory).
RELIABLE, TENTATIVE = 0.8, 0.667


@dataclass(frozen=True, slots=True)
class NoVariation(Sentence):
    """Every rating was the same."""

    template: ClassVar[str] = (
        "every rating was the same, so nothing shows whether the raters would tell good work from bad"
    )


@dataclass(frozen=True, slots=True)
class Reliable(Sentence):
    """Alpha of 0.8 or more."""

    template: ClassVar[str] = (
        "the raters agree well: %(percent)d of 100 pairs of ratings are equal, alpha %(alpha).2f"
    )
    percent: int
    alpha: float


@dataclass(frozen=True, slots=True)
class Tentative(Sentence):
    """Alpha of 0.667 or more."""

    template: ClassVar[str] = (
        "the raters agree enough for a first view, not for a certificate: %(percent)d of 100 pairs "
        "of ratings are equal, alpha %(alpha).2f"
    )
    percent: int
    alpha: float


@dataclass(frozen=True, slots=True)
class Unreliable(Sentence):
    """Alpha below 0.667."""

    template: ClassVar[str] = (
        "the raters do not agree enough to rely on one of them: %(percent)d of 100 pairs of ratings "
        "are equal, alpha %(alpha).2f; rate some panels together and talk about the differences"
    )
    percent: int
    alpha: float


def agreement_in_words(alpha: float | None, observed_agreement: float) -> Sentence:
    """Return the sentence a page shows; the observed agreement always stands beside alpha.

    Where nearly everything passes, alpha is low although the raters mostly
    agree, so neither number says enough alone.
    """
    percent = round(100 * observed_agreement)
    if alpha is None:
        return NoVariation()
    kind = Reliable if alpha >= RELIABLE else Tentative if alpha >= TENTATIVE else Unreliable
    return kind(percent, alpha)
