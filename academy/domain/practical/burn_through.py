"""What it means that colour, primer or metal came to light."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from academy.domain.practical.stages import PracticalKind
from academy.domain.sentences import Sentence


@dataclass(frozen=True, slots=True)
class ResultOfADrill(Sentence):
    """On a panel made to be spoiled, in practice: that is what it is for."""

    template: ClassVar[str] = (
        "Struck through on a sacrificial panel, in practice: a result, not an incident. Look at it,"
        " feel how warm it is, and photograph it."
    )


@dataclass(frozen=True, slots=True)
class AnIncident(Sentence):
    """Paint was lost that was to stay."""

    template: ClassVar[str] = (
        "Struck through: stop working here. Record it as an incident today, with a photograph."
    )


def what_it_is(kind: PracticalKind, *, sacrificial: bool) -> ResultOfADrill | AnIncident:
    """Return what a strike-through is: a result in coached work on a sacrificial panel only."""
    drilled = sacrificial and kind is PracticalKind.COACHED
    return ResultOfADrill() if drilled else AnIncident()
