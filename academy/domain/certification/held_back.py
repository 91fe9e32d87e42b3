"""Why somebody may do less than their certificate says, in sentences."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from academy.domain.curriculum.kinds import Harm, Supervision
from academy.domain.sentences import Sentence


@dataclass(frozen=True, slots=True)
class Restricted(Sentence):
    """The owner holds the person or the work back."""

    template = "held at '%(level)s' by the owner; looked at again on %(review_on)s"
    level: Supervision
    review_on: date


@dataclass(frozen=True, slots=True)
class SuspendedBy(Sentence):
    """Harm at this kind of work; re-assessment lifts it."""

    template = "suspended since %(since)s: %(harm)s; re-assessment lifts it"
    harm: Harm
    since: date


@dataclass(frozen=True, slots=True)
class ReturnCheckDue(Sentence):
    """A long time without logged work."""

    template = "no logged work since %(last_worked)s; a return check comes first"
    last_worked: date


@dataclass(frozen=True, slots=True)
class EvidenceFell(Sentence):
    """Work assessed since the decision no longer supports it."""

    template = "the evidence no longer shows '%(level)s'"
    level: Supervision


@dataclass(frozen=True, slots=True)
class WithdrawnOn(Sentence):
    """Taken back; everything is assessed anew."""

    template = "withdrawn on %(day)s; only what is assessed after it counts"
    day: date


@dataclass(frozen=True, slots=True)
class DecidedAgainst(Sentence):
    """Decided against on the evidence of that day."""

    template = "'%(level)s' was decided against on %(day)s; more evidence comes first"
    level: Supervision
    day: date


HeldBack = Restricted | SuspendedBy | ReturnCheckDue | EvidenceFell | WithdrawnOn | DecidedAgainst
