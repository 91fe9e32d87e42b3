"""New supervisors judge the reference panels before they assess.

A reference panel carries judgements that experienced people agreed on.  A new
supervisor judges each of them without seeing those.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from uuid import UUID

from academy.domain.practical.refusals import PracticalError
from academy.domain.sentences import Sentence

# Eight in ten: the outcome of a practical forgives one criterion that is not critical, and tasks
# have about five of those.  Critical criteria decide alone, so there nothing is forgiven.
# The bar is our own choice, common practice, no source.
BAR_PERCENT = 80
# Long enough to forget the panels, short enough to learn from the talk (our own choice, no source).
AGAIN_AFTER = timedelta(days=14)


@dataclass(frozen=True, slots=True)
class Compared:
    """One criterion of one reference panel: what was agreed and what the new supervisor said."""

    reference: str
    criterion: str
    critical: bool
    agreed: bool
    said: bool

    @property
    def same(self) -> bool:
        """Return whether both are the same."""
        return self.agreed is self.said


@dataclass(frozen=True, slots=True)
class SupervisorRecord:
    """What decides whether a supervisor may assess.

    ``references`` is how many panels the shop keeps now; ``judged`` how many of
    them this person has judged in the latest round, and ``compared`` that round.
    """

    founding: bool
    agreed_on_references: bool
    assessed_before_references: bool
    references: int
    judged: int
    compared: tuple[Compared, ...]
    latest_at: datetime | None = None


@dataclass(frozen=True, slots=True)
class MayAssess(Sentence):
    """The person may assess, and the reason why."""

    template = "may assess: %(reason)s"
    reason: str


@dataclass(frozen=True, slots=True)
class ReferencesLeft(Sentence):
    """Not all panels have been judged."""

    template = (
        "may coach; assesses after judging the reference panels: %(left)d of %(all)d are left"
    )
    left: int
    all: int


@dataclass(frozen=True, slots=True)
class TooFarFromReferences(Sentence):
    """The judgements differ too much."""

    template = (
        "may coach; said the same as the reference panels on %(same)d of %(n)d criteria, critical"
        " ones missed: %(critical)d. It takes every critical one and 8 in 10 of all. Talk the"
        " differences through, then judge the panels again from %(again_on)s on"
    )
    same: int
    n: int
    critical: int
    again_on: object


@dataclass(eq=False)
class ReferencesFirst(PracticalError):
    """A new supervisor assesses only after the reference panels."""

    template = (
        "Before your first assessed practical you judge the reference panels. So far: %(why)s"
    )
    why: str


@dataclass(eq=False)
class TooSoonAgain(PracticalError):
    """The panels are still in mind."""

    template = "Judge the reference panels again from %(again_on)s on, when they are less fresh"
    again_on: object


@dataclass(eq=False)
class JudgedThisRound(PracticalError):
    """Once a round."""

    template = "You have judged this reference panel; what was agreed is shown after the last one"


@dataclass(eq=False)
class NothingAgreed(PracticalError):
    """A reference panel carries at least one judgement."""

    template = "Say of at least one criterion what was agreed"


@dataclass(eq=False)
class AgreedAlone(PracticalError):
    """A single opinion is no agreement, unless the shop has nobody else."""

    template = (
        "Name everybody who agreed on this panel. In a shop with several supervisors that is two"
        " or more"
    )


Standing = MayAssess | ReferencesLeft | TooFarFromReferences


def standing_of(known: SupervisorRecord) -> Standing:
    """Return whether a supervisor may assess, and why or why not yet."""
    if not known.references:
        return MayAssess("this shop keeps no reference panels")
    if known.founding:
        return MayAssess("the shop's first supervisor")
    if known.agreed_on_references:
        return MayAssess("agreed on the reference panels")
    if known.assessed_before_references:
        return MayAssess("assessed here before there were reference panels")
    if known.judged < known.references:
        return ReferencesLeft(known.references - known.judged, known.references)
    return _by_agreement(known.compared, known.latest_at)


def _by_agreement(compared: Sequence[Compared], latest_at: datetime | None) -> Standing:
    same = sum(one.same for one in compared)
    critical = sum(one.critical and not one.same for one in compared)
    if critical == 0 and 100 * same >= BAR_PERCENT * len(compared):
        return MayAssess(f"said the same as the reference panels on {same} of {len(compared)}")
    again_on = (latest_at + AGAIN_AFTER).date() if latest_at else "–"
    return TooFarFromReferences(same, len(compared), critical, again_on)


def compared(
    reference: str,
    criteria: Mapping[str, tuple[str, bool]],
    agreed: Mapping[str, bool],
    said: Mapping[str, bool],
) -> tuple[Compared, ...]:
    """Return one panel criterion by criterion; ``criteria`` maps an id to its text and whether it is critical."""
    return tuple(
        Compared(reference, criteria[name][0], criteria[name][1], is_met, said[name])
        for name, is_met in agreed.items()
        if name in said and name in criteria
    )


def refuse_agreement(
    agreed: Mapping[str, bool], agreed_by: Collection[UUID], supervisors: int
) -> None:
    """Raise a sentence where a reference panel says nothing, or one person speaks for several."""
    if not agreed:
        raise NothingAgreed()
    if len(set(agreed_by)) < min(2, max(1, supervisors)):
        raise AgreedAlone()
