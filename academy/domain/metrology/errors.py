"""What measuring refuses, as sentences."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from academy.domain.sentences import TradeError


class MetrologyError(TradeError):
    """Base of the errors of measuring."""


@dataclass(eq=False)
class TooFewReadings(MetrologyError):
    """A spread cannot be told from this many readings."""

    template: ClassVar[str] = "%(needed)d readings are needed for this; %(taken)d given"
    taken: int
    needed: int


@dataclass(eq=False)
class UnlikeLengths(MetrologyError):
    """Pairs need as many second values as first ones."""

    template: ClassVar[str] = "each first value needs a second one; %(first)d and %(second)d given"
    first: int
    second: int


@dataclass(eq=False)
class NothingVaries(MetrologyError):
    """All values are the same, so a ratio of spreads has no value."""

    template: ClassVar[str] = "%(what)s are all the same, so %(sought)s has no value"
    what: str
    sought: str


@dataclass(eq=False)
class UnknownRepeatability(MetrologyError):
    """Single readings at one spot say nothing of their own scatter."""

    template: ClassVar[str] = (
        "one spot with single readings has no uncertainty of its own: repeat the readings, "
        "measure a second spot, or give the gauge's repeatability (gauge_sd_um)"
    )


@dataclass(eq=False)
class NotBalanced(MetrologyError):
    """A crossed gauge study needs every operator to measure every part equally often."""

    template: ClassVar[str] = (
        "every operator has to measure every part equally often; %(operator)s measured part %(part)s "
        "%(taken)d times, not %(needed)d"
    )
    operator: str
    part: str
    taken: int
    needed: int


@dataclass(eq=False)
class StudyTooSmall(MetrologyError):
    """A gauge study separates nothing with one operator, one part or one trial."""

    template: ClassVar[str] = (
        "a gauge study needs at least 2 operators, 2 parts and 2 trials; "
        "%(operators)d operators, %(parts)d parts and %(trials)d trials given"
    )
    operators: int
    parts: int
    trials: int


@dataclass(eq=False)
class OutsideTheTable(MetrologyError):
    """The average-range method has factors for small studies only."""

    template: ClassVar[str] = (
        "the average-range method has factors for 2 or 3 trials, 2 or 3 operators and 2 to 10 parts; "
        "%(trials)d trials, %(operators)d operators and %(parts)d parts given: use the anova method"
    )
    operators: int
    parts: int
    trials: int
