"""The words of a practical's stages, verdicts and outcomes."""

from __future__ import annotations

from academy.domain.metrology.verdict import Outcome as RemovalOutcome
from academy.domain.practical.outcome import Outcome
from academy.domain.practical.stages import Help, PracticalKind, Pressure, Stage
from academy.web.language import gettext as _
from academy.web.parts import Choosable


def stage_word(stage: Stage) -> str:
    """Return what a stage is called on a page."""
    return {
        Stage.BEFORE: _("Readings before"),
        Stage.SET_UP: _("Set-up checks"),
        Stage.WORKING: _("Working steps"),
        Stage.INSPECTION: _("Wipe and inspect"),
        Stage.AFTER: _("Readings after"),
        Stage.CRITERIA: _("Criteria"),
        Stage.TALK: _("Talk"),
    }[stage]


def kind_word(kind: PracticalKind) -> str:
    """Return whether a practical counts."""
    return _("assessed") if kind is PracticalKind.ASSESSED else _("coached")


def kinds() -> tuple[Choosable, ...]:
    """Return the two kinds of practical to choose from."""
    return (
        Choosable(PracticalKind.COACHED, _("coached"), _("practice with help; it never counts")),
        Choosable(PracticalKind.ASSESSED, _("assessed"), _("on their own; it is evidence")),
    )


def pressures() -> tuple[Choosable, ...]:
    """Return the three levels learnt on the bench scale."""
    return (
        Choosable(Pressure.LIGHT, _("light"), _("the machine's own weight")),
        Choosable(Pressure.MEDIUM, _("medium")),
        Choosable(Pressure.FIRM, _("firm")),
    )


def helps() -> tuple[Choosable, ...]:
    """Return how much help was given."""
    return (
        Choosable(Help.NONE, _("none")),
        Choosable(Help.PROMPTED, _("prompted"), _("told what to do next")),
        Choosable(Help.TOOK_OVER, _("took over"), _("then it is not evidence")),
    )


def removal_sign(outcome: RemovalOutcome) -> str:
    """Return the mark of a verdict."""
    return {
        RemovalOutcome.WITHIN: "within",
        RemovalOutcome.EXCEEDED: "exceeded",
        RemovalOutcome.CANNOT_TELL: "cannot-tell",
    }[outcome]


def outcome_word(outcome: str) -> str:
    """Return the outcome of a practical."""
    return _("competent") if outcome == Outcome.COMPETENT else _("not yet competent")


def outcome_sign(outcome: str) -> str:
    """Return the mark of an outcome."""
    return "competent" if outcome == Outcome.COMPETENT else "not-yet-competent"
