"""The words of a practical's stages, verdicts and outcomes."""

from __future__ import annotations

from academy.domain.metrology.verdict import Outcome as RemovalOutcome
from academy.domain.practical.outcome import Outcome
from academy.domain.practical.stages import (
    AgainstReference,
    Help,
    PracticalKind,
    Pressure,
    Stage,
    StopReason,
)
from academy.domain.practical.technique import NEWTONS
from academy.web.language import gettext as _
from academy.web.parts import Choosable


def stage_word(stage: Stage) -> str:
    """Return what a stage is called on a page."""
    return {
        Stage.FIRST_LOOK: _("First look and photograph"),
        Stage.GAUGE: _("Gauge"),
        Stage.BEFORE: _("Readings before"),
        Stage.SET_UP: _("Mask and set-up"),
        Stage.PLAN: _("Plan and expected removal"),
        Stage.TEST_SPOT: _("Test spot"),
        Stage.WORKING: _("Working steps"),
        Stage.BETWEEN: _("Readings between steps"),
        Stage.TRAINEE_MARKS: _("Wipe: the trainee marks"),
        Stage.INSPECTION: _("You inspect"),
        Stage.COOLED: _("Cooled"),
        Stage.AFTER: _("Readings after"),
        Stage.CRITERIA: _("Criteria"),
        Stage.TALK: _("Talk"),
        Stage.STOPPED: _("Stopped for safety"),
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
        Choosable(Pressure.LIGHT, _("light"), _newtons(Pressure.LIGHT)),
        Choosable(Pressure.MEDIUM, _("medium"), _newtons(Pressure.MEDIUM)),
        Choosable(Pressure.FIRM, _("firm"), _newtons(Pressure.FIRM)),
    )


def _newtons(pressure: Pressure) -> str:
    least, most = NEWTONS[pressure]
    return _("%(least)d to %(most)d N", least=least, most=most)


def against_reference() -> tuple[Choosable, ...]:
    """Return how a finish can look beside the reference panel that shows just enough."""
    return tuple(Choosable(against, against_word(against)) for against in AgainstReference)


def against_word(against: AgainstReference) -> str:
    """Return how a finish looks beside the reference panel."""
    return {
        AgainstReference.CLEARER: _("clearer: fewer marks"),
        AgainstReference.SAME: _("the same"),
        AgainstReference.WORSE: _("worse: more marks"),
        AgainstReference.NO_PANEL: _("there is no reference panel for this"),
    }[against]


def stop_reasons() -> tuple[Choosable, ...]:
    """Return what can make somebody stop."""
    return tuple(Choosable(reason, stop_reason_word(reason)) for reason in StopReason)


def stop_reason_word(reason: StopReason) -> str:
    """Return why work was stopped."""
    return {
        StopReason.PROTECTION: _("protective equipment"),
        StopReason.MACHINE: _("machine, cord or plug"),
        StopReason.HEAT: _("heat"),
        StopReason.PAINT: _("colour, primer or an edge"),
        StopReason.PERSON: _("somebody unwell or tired"),
        StopReason.SURROUNDINGS: _("something around the bay"),
        StopReason.OTHER: _("something else"),
    }[reason]


def helps() -> tuple[Choosable, ...]:
    """Return how much help was given."""
    return (
        Choosable(Help.NONE, _("none")),
        Choosable(Help.PROMPTED, _("prompted"), _("told what to do next")),
        Choosable(Help.TOOK_OVER, _("took over"), _("then it is not evidence")),
    )


def help_word(given: Help) -> str:
    """Return how much help was given."""
    return next(one.label for one in helps() if one.value == given)


def pressure_word(pressure: Pressure) -> str:
    """Return a level of pressure with what it is on the bench scale."""
    chosen = next(one for one in pressures() if one.value == pressure)
    return f"{chosen.label} ({chosen.hint})"


def removal_sign(outcome: RemovalOutcome) -> str:
    """Return the mark of a verdict."""
    return {
        RemovalOutcome.WITHIN: "within",
        RemovalOutcome.EXCEEDED: "exceeded",
        RemovalOutcome.CANNOT_TELL: "cannot-tell",
    }[outcome]


def outcome_word(outcome: str) -> str:
    """Return the outcome of a practical."""
    if outcome == Outcome.STOPPED:
        return _("stopped for safety, counts for nobody and against nobody")
    return _("competent") if outcome == Outcome.COMPETENT else _("not yet competent")


def outcome_sign(outcome: str) -> str:
    """Return the mark of an outcome."""
    if outcome == Outcome.STOPPED:
        return "suspended"
    return "competent" if outcome == Outcome.COMPETENT else "not-yet-competent"
