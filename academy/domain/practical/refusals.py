"""What a practical refuses, and what to do about it."""

from __future__ import annotations

from dataclasses import dataclass

from academy.domain.sentences import TradeError


class PracticalError(TradeError):
    """Something a practical does not allow."""


@dataclass(eq=False)
class PracticalIsClosed(PracticalError):
    """The record is frozen."""

    template = "This practical is closed; a closed record is not edited"


@dataclass(eq=False)
class PracticalIsSigned(PracticalError):
    """The record carries a signature."""

    template = "This practical is already signed; a signed record is never edited"


@dataclass(eq=False)
class PracticalIsOpen(PracticalError):
    """Signing comes after closing."""

    template = "This practical is still open; close it at the panel before it is signed"


@dataclass(eq=False)
class StageNotReached(PracticalError):
    """An earlier stage has not been recorded."""

    template = "Record '%(missing)s' first; '%(stage)s' comes after it"
    stage: str
    missing: str


@dataclass(eq=False)
class StageIsOver(PracticalError):
    """Readings before the work cannot change once the work has begun."""

    template = "'%(stage)s' can no longer change: '%(later)s' has been recorded since"
    stage: str
    later: str


@dataclass(eq=False)
class StageNotAsked(PracticalError):
    """The task has no such stage."""

    template = "'%(stage)s' is not part of the task '%(task)s'"
    stage: str
    task: str


@dataclass(eq=False)
class StepOfAnotherStage(PracticalError):
    """What was given belongs to another stage."""

    template = "'%(stage)s' does not record this; open the page of that stage again"
    stage: str


@dataclass(eq=False)
class NotOnTheTask(PracticalError):
    """A check or criterion that the task does not have."""

    template = "The task '%(task)s' has no check or criterion '%(name)s'"
    task: str
    name: str


@dataclass(eq=False)
class SetUpIncomplete(PracticalError):
    """A set-up check is missing; the work does not start."""

    template = "Not ready to work: %(missing)s"
    missing: str


@dataclass(eq=False)
class WrongSpots(PracticalError):
    """The readings do not cover the task's spots."""

    template = "The task asks for %(needed)d spots; readings for %(given)d were given"
    needed: int
    given: int


@dataclass(eq=False)
class TooFewReadings(PracticalError):
    """A spot has too few readings."""

    template = "Spot %(spot)d needs %(needed)d readings; %(taken)d taken"
    spot: int
    needed: int
    taken: int


@dataclass(eq=False)
class CriterionNotJudged(PracticalError):
    """A criterion was left out."""

    template = "Say whether this criterion was met: %(criterion)s"
    criterion: str


@dataclass(eq=False)
class NothingSaid(PracticalError):
    """The talk needs both parts."""

    template = "Write down what went well and the one thing to change"


@dataclass(eq=False)
class WrongSubstrate(PracticalError):
    """The panel is not one the task is done on."""

    template = "The task '%(task)s' is not done on %(substrate)s; choose another section"
    task: str
    substrate: str


@dataclass(eq=False)
class ReasonMissing(PracticalError):
    """A check was declared not to apply without saying why."""

    template = "Say why this does not apply: %(check)s"
    check: str


@dataclass(eq=False)
class ProtectionIsNotLeftOut(PracticalError):
    """Protective equipment cannot be declared not to apply."""

    template = "Protective equipment is not left out. Not ready to work: %(check)s"
    check: str


@dataclass(eq=False)
class FoilNotRead(PracticalError):
    """The gauge was not proved on its foil."""

    template = "Read the foil once more and write down what the gauge shows"


@dataclass(eq=False)
class FoilIsOff(PracticalError):
    """The gauge reads the foil outside both tolerances."""

    template = (
        "The gauge shows %(reading_um).1f µm on a foil of %(certified_um).1f µm; it may be off by"
        " %(allowed_um).1f µm. Do not read with it: clean foil and probe, then verify the gauge"
    )
    reading_um: float
    certified_um: float
    allowed_um: float


@dataclass(eq=False)
class PhotographMissing(PracticalError):
    """A photograph proves it."""

    template = "Take a photograph of this: %(what)s"
    what: str


@dataclass(eq=False)
class CopiedWithoutSheet(PracticalError):
    """Copied readings come with a picture of what they were copied from."""

    template = "Readings copied from a bench sheet need a photograph of the sheet"


@dataclass(eq=False)
class ExpectationMissing(PracticalError):
    """The trainee says what they will do and what they expect, before the first pass."""

    template = (
        "Write down the trainee's plan, the removal they expect and how far that may be wrong"
    )


@dataclass(eq=False)
class NoReasonToStop(PracticalError):
    """Stopping says why, so that it can be put right."""

    template = "Say in a few words what made you stop; nobody is blamed for it"


@dataclass(eq=False)
class SectionIsRetired(PracticalError):
    """Its budget is used; nothing more comes off."""

    template = "%(section)s is retired: its budget is used. Choose a section with paint left"
    section: str


@dataclass(eq=False)
class SacrificialIsForPractice(PracticalError):
    """A panel that may be spoiled shows nothing about careful work."""

    template = (
        "%(section)s is on a sacrificial panel: it is for seeing and feeling, in coached practice."
        " Choose another section for an assessed practical"
    )
    section: str
