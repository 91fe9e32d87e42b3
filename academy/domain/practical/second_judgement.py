"""One signed practical in ten is judged again, blind, by somebody else; and how the two agree."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Protocol
from uuid import UUID

from academy.domain.assessment.proportion import wilson_interval
from academy.domain.practical.refusals import PracticalError
from academy.domain.sentences import Sentence

ONE_IN = 10


class Answer(StrEnum):
    """What a second judge says of a criterion from the record alone."""

    MET = "met"
    NOT_MET = "not met"
    CANNOT_SEE = "cannot be seen from the record"


@dataclass(eq=False)
class NotBlind(PracticalError):
    """The person was at the panel, or has seen the first judgement."""

    template = (
        "You were part of this practical or have seen how it was judged. Somebody who has not"
        " judges it again"
    )


@dataclass(eq=False)
class JudgedAgainAlready(PracticalError):
    """Somebody was quicker."""

    template = "This practical has been judged again already; a second judgement is given once"


@dataclass(eq=False)
class AnswerMissing(PracticalError):
    """A criterion was left out."""

    template = "Say of each criterion whether it was met; one is left: %(criterion)s"
    criterion: str


class Chance(Protocol):
    """A generator made from the recorded seed; the same seed gives the same draw."""

    def random(self) -> float:
        """Return a number from 0 up to 1."""
        ...


def drawn(chance: Chance) -> bool:
    """Return whether chance draws a practical to be judged again."""
    return chance.random() < 1 / ONE_IN


def refuse_not_blind(person_id: UUID, involved: Collection[UUID]) -> None:
    """Raise NotBlind for whoever was at the panel or has seen the first judgement."""
    if person_id in involved:
        raise NotBlind()


@dataclass(frozen=True, slots=True)
class Pair:
    """One criterion judged at the panel and again from the record."""

    first: bool
    second: bool

    @property
    def agree(self) -> bool:
        """Return whether both said the same."""
        return self.first is self.second


def pairs_of(first: Mapping[str, bool], second: Mapping[str, str]) -> tuple[Pair, ...]:
    """Return the criteria both could judge."""
    return tuple(
        Pair(first[name], answer == Answer.MET)
        for name, answer in second.items()
        if name in first and answer != Answer.CANNOT_SEE
    )


@dataclass(frozen=True, slots=True)
class NothingCompared(Sentence):
    """No criterion could be judged by both."""

    template = "nothing could be judged again from the record, so this says nothing yet"


@dataclass(frozen=True, slots=True)
class HowTheyAgree(Sentence):
    """How often the second judge said what the first had said, with its 95 % interval."""

    template = (
        "the second judge said the same of %(same)d of %(n)d criteria; with so few, the share to"
        " expect lies between %(lower)d and %(upper)d in 100"
    )
    same: int
    n: int
    lower: int
    upper: int


def how_they_agree(pairs: Sequence[Pair]) -> HowTheyAgree | NothingCompared:
    """Return in words how two judgements agree, with n.

    The interval is the score interval of a proportion: E. B. Wilson (1927),
    JASA 22, 209.
    """
    if not pairs:
        return NothingCompared()
    same = sum(pair.agree for pair in pairs)
    between = wilson_interval(same, len(pairs))
    return HowTheyAgree(same, len(pairs), round(100 * between.lower), round(100 * between.upper))


def beyond_chance(pairs: Sequence[Pair]) -> float | None:
    """Return Cohen's kappa of the two judges; None where every judgement was the same."""
    import numpy as np

    from academy.domain.assessment.rater_kappa import kappa, pair_table

    both = np.array([0.0, 1.0])
    first = np.array([float(pair.first) for pair in pairs])
    second = np.array([float(pair.second) for pair in pairs])
    return kappa(pair_table(first, second, both), both)
