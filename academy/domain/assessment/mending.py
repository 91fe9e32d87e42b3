"""Which questions to mend first, and why, in sentences.

A finding needs more than luck: shares are compared by their interval, people
by standard errors.  The limits are those of item review as commonly practised
(common practice, no source): share right from 0.3 to 0.95, item-rest 0.1 and
more, an option taken by at least 5 % of 50 answers.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import IntEnum
from typing import ClassVar

from academy.domain.assessment.proportion import wilson_interval
from academy.domain.assessment.shown_share import FEWEST_FOR_A_PERCENTAGE, ShownShare
from academy.domain.assessment.wording_evidence import Evidence, PartTaken, abler_by, others_than
from academy.domain.sentences import Sentence

HARDEST, EASIEST = 0.3, 0.95
WEAKEST = 0.1
SELDOM_SHARE, SELDOM_FROM = 0.05, 50
CLEARLY = 2.0
# What an ordinary question's item-rest correlation comes to.
ORDINARY = 0.3
# An option is out of use only where luck does not explain it: the upper bound of its share.
SURELY_SELDOM = 0.1
# A question is too easy only where even the lower bound of its share is this high.
SURELY_EASY = 0.87
# Above this share right even a sound question correlates little with the rest.
TELLING = 0.85
# A rating is a guess about others; below this distance it is not worth a talk.
RATING_OFF_BY_PERCENT = 15


class Weight(IntEnum):
    """How much harm a finding does, the worst first when sorted downwards."""

    STILL_ASKED_THOUGH_VOIDED = 100
    SUSPECTED_KEY = 80
    DISPUTED = 60
    HOLDS_BACK_NOBODY = 50
    TOO_HARD = 40
    RATED_TOO_HIGH = 30
    TOO_EASY = 20
    RATED_TOO_LOW = 15
    UNUSED_OPTION = 10


@dataclass(frozen=True, slots=True)
class Finding(Sentence):
    """One reason to look at a question again."""

    weight: ClassVar[Weight]


@dataclass(frozen=True, slots=True)
class StillAsked(Finding):
    """The wording was taken out of results and is in the course still."""

    weight = Weight.STILL_ASKED_THOUGH_VOIDED
    template = (
        "This wording was found faulty and taken out of every result, and the course still asks it."
        " Mend it or take it out of the course."
    )


@dataclass(frozen=True, slots=True)
class SuspectedKey(Finding):
    """An option draws abler people than the key."""

    weight = Weight.SUSPECTED_KEY
    template = (
        "The key may be wrong: %(taken)d took the option '%(option)s' and had %(theirs)d of 100 of"
        " their other questions right; the %(right)d who took the key had %(of_key)d of 100."
    )
    option: str
    taken: int
    theirs: int
    right: int
    of_key: int


@dataclass(frozen=True, slots=True)
class SuspectedPart(Finding):
    """The able tick a wrong option of several."""

    weight = Weight.SUSPECTED_KEY
    template = (
        "The key may be wrong: the %(taken)d who chose '%(option)s', which is not in the key, had"
        " %(theirs)d of 100 of their other questions right; those who left it had %(others)d of 100."
    )
    option: str
    taken: int
    theirs: int
    others: int


@dataclass(frozen=True, slots=True)
class KeyNeverTaken(Finding):
    """Nobody found the key."""

    weight = Weight.SUSPECTED_KEY
    template = "Nobody of %(answered)d found the key; most took '%(option)s'. Check the key."
    answered: int
    option: str


@dataclass(frozen=True, slots=True)
class Disputed(Finding):
    """Trainees have questioned it and nobody has decided."""

    weight = Weight.DISPUTED
    template = "Trainees have questioned it; disputes not decided yet: %(open)d."
    open: int


@dataclass(frozen=True, slots=True)
class TellsNobodyApart(Finding):
    """Those who know the rest do no better on it."""

    weight = Weight.HOLDS_BACK_NOBODY
    template = (
        "Those who know the rest do no better on it than the others (correlation %(value).2f, likely"
        " %(lower).2f to %(upper).2f, %(answered)d answers): it may be read in two ways."
    )
    value: float
    lower: float
    upper: float
    answered: int


@dataclass(frozen=True, slots=True)
class TooHard(Finding):
    """Hardly anybody has it right."""

    weight = Weight.TOO_HARD
    template = (
        "Hardly anybody has it right (%(right)d of %(answered)d): is it taught where it says?"
    )
    right: int
    answered: int


@dataclass(frozen=True, slots=True)
class RatedTooHigh(Finding):
    """Harder than its rating says: the pass mark asks more than people can do."""

    weight = Weight.RATED_TOO_HIGH
    template = (
        "It is harder than its rating says: %(rating)d of 100 barely competent trainees are expected"
        " to be right; of those near the pass mark about %(found)d of 100 are. Rate it again."
    )
    rating: int
    found: int


@dataclass(frozen=True, slots=True)
class TooEasy(Finding):
    """Everybody has it right."""

    weight = Weight.TOO_EASY
    template = (
        "Nearly everybody has it right (%(right)d of %(answered)d): it takes time and tells little."
    )
    right: int
    answered: int


@dataclass(frozen=True, slots=True)
class RatedTooLow(Finding):
    """Easier than its rating says: the pass mark asks less than people can do."""

    weight = Weight.RATED_TOO_LOW
    template = (
        "It is easier than its rating says: %(rating)d of 100 barely competent trainees are expected"
        " to be right; of those near the pass mark about %(found)d of 100 are. Rate it again."
    )
    rating: int
    found: int


@dataclass(frozen=True, slots=True)
class UnusedOptions(Finding):
    """Wrong options that nobody falls for."""

    weight = Weight.UNUSED_OPTION
    template = (
        "Hardly anybody of %(answered)d took: %(options)s. A wrong option that tempts nobody helps"
        " guessing; write what trainees really get wrong."
    )
    answered: int
    options: str


@dataclass(frozen=True, slots=True)
class NearCut:
    """What the one-parameter model says of a trainee exactly at the pass mark, in percent."""

    percent: int
    error_percent: float


@dataclass(frozen=True, slots=True)
class Judged:
    """Everything that is weighed about one wording.

    ``one_option`` says that exactly one option is chosen; ``open_disputes``
    counts those nobody has decided; ``near_cut`` is None where no model fits.
    """

    evidence: Evidence
    share: ShownShare
    rating_percent: int
    one_option: bool
    options: bool
    voided: bool
    open_disputes: int
    near_cut: NearCut | None


def findings(judged: Judged) -> tuple[Finding, ...]:
    """Return the reasons to look at a wording again, the worst first; none is good news or no news."""
    on_the_key = _on_the_key(judged)
    found = [
        *_on_record(judged),
        *on_the_key,
        # a wrong key is the reason why the able do no better
        *(
            one
            for one in _on_difficulty(judged)
            if not (on_the_key and isinstance(one, TellsNobodyApart))
        ),
        *_on_the_rating(judged),
        *_on_the_options(judged),
    ]
    return tuple(sorted(found, key=lambda one: -one.weight))


def urgency(found: Iterable[Finding]) -> tuple[int, ...]:
    """Return what to sort by, upwards: the worst finding decides, then the next."""
    return (*(-one.weight for one in found), 0)


def _on_record(judged: Judged) -> list[Finding]:
    made: list[Finding] = [StillAsked()] if judged.voided else []
    return made + ([Disputed(judged.open_disputes)] if judged.open_disputes else [])


def _on_the_key(judged: Judged) -> list[Finding]:
    evidence = judged.evidence
    wrong = [part for part in evidence.parts if not part.right and part.taken]
    if not judged.options or not wrong:
        return []
    if judged.one_option:
        return _one_key(evidence, wrong)
    beaten = [
        (by, part)
        for part in wrong
        if (by := abler_by(part, others_than(evidence, part)) or 0.0) >= CLEARLY
    ]
    if not beaten:
        return []
    part = max(beaten, key=lambda one: one[0])[1]
    others = others_than(evidence, part)
    return [
        SuspectedPart(part.name, part.taken, _of_100(part.rest_mean), _of_100(others.rest_mean))
    ]


def _one_key(evidence: Evidence, wrong: list[PartTaken]) -> list[Finding]:
    key = next((part for part in evidence.parts if part.right), None)
    if key is None:
        return []
    if not key.taken and evidence.answered >= FEWEST_FOR_A_PERCENTAGE:
        most = max(wrong, key=lambda part: part.taken)
        return [KeyNeverTaken(evidence.answered, most.name)]
    beaten = [(by, part) for part in wrong if (by := abler_by(part, key) or 0.0) >= CLEARLY]
    if not beaten:
        return []
    part = max(beaten, key=lambda one: one[0])[1]
    return [
        SuspectedKey(
            part.name, part.taken, _of_100(part.rest_mean), key.taken, _of_100(key.rest_mean)
        )
    ]


def _on_difficulty(judged: Judged) -> list[Finding]:
    evidence, interval = judged.evidence, judged.share.interval
    made: list[Finding] = []
    if evidence.answered < FEWEST_FOR_A_PERCENTAGE:
        return made
    rest, share = evidence.item_rest, evidence.right / evidence.answered
    # what nearly all or hardly any have right cannot tell people apart, whatever its wording
    between = HARDEST <= share <= TELLING
    if between and rest is not None and rest.value < WEAKEST and rest.upper < ORDINARY:
        made.append(TellsNobodyApart(rest.value, rest.lower, rest.upper, evidence.answered))
    if interval.upper < HARDEST:
        made.append(TooHard(evidence.right, evidence.answered))
    if share > EASIEST and interval.lower > SURELY_EASY:
        made.append(TooEasy(evidence.right, evidence.answered))
    return made


def _on_the_rating(judged: Judged) -> list[Finding]:
    near, rating = judged.near_cut, judged.rating_percent
    if near is None or judged.evidence.answered < FEWEST_FOR_A_PERCENTAGE:
        return []
    surely = RATING_OFF_BY_PERCENT + CLEARLY * near.error_percent
    if rating - near.percent > surely:
        return [RatedTooHigh(rating, near.percent)]
    if near.percent - rating > surely:
        return [RatedTooLow(rating, near.percent)]
    return []


def _on_the_options(judged: Judged) -> list[Finding]:
    evidence = judged.evidence
    too_few = evidence.answered < SELDOM_FROM
    if not judged.options or too_few or evidence.right > EASIEST * evidence.answered:
        return []
    seldom = [
        part.name
        for part in evidence.parts
        if not part.right and _seldom(part.taken, evidence.answered)
    ]
    return [UnusedOptions(evidence.answered, ", ".join(seldom))] if seldom else []


def _seldom(taken: int, answered: int) -> bool:
    surely = wilson_interval(taken, answered).upper < SURELY_SELDOM
    return surely and taken < SELDOM_SHARE * answered


def _of_100(share: float | None) -> int:
    return round(100 * (share or 0.0))
