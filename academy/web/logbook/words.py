"""The logbook's closed vocabularies in the reader's language."""

from __future__ import annotations

from academy.domain.practical.logbook import PracticeStage
from academy.domain.practical.talks import ChangeSeen
from academy.web.language import gettext as _
from academy.web.parts import Choosable


def stages() -> tuple[Choosable, ...]:
    """Return the stages of practice work, lowest first."""
    return (
        Choosable(PracticeStage.OBSERVED, _("observed"), _("watched the whole of it")),
        Choosable(PracticeStage.ASSISTED, _("assisted"), _("did a part of it, under instruction")),
        Choosable(
            PracticeStage.SUPERVISED, _("supervised"), _("did it, a supervisor beside or on site")
        ),
        Choosable(
            PracticeStage.ALONE, _("alone"), _("only where the level on the board allows it")
        ),
    )


def stage_word(stage: PracticeStage) -> str:
    """Return a stage in words."""
    return next(choice.label for choice in stages() if choice.value == stage)


def answers() -> tuple[Choosable, ...]:
    """Return what can be said of the one thing to change."""
    return (
        Choosable(ChangeSeen.SHOWS, _("it shows")),
        Choosable(ChangeSeen.NOT_YET, _("not yet")),
        Choosable(ChangeSeen.DID_NOT_COME_UP, _("it did not come up"), _("it stays open")),
    )


def answer_word(seen: ChangeSeen) -> str:
    """Return what was said of a change in words."""
    return next(choice.label for choice in answers() if choice.value == seen)
