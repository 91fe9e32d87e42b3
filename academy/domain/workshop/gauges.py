"""May a gauge be read from now?  Its verification, its method, and what a failed one puts in doubt.

The rule of this platform: a gauge is verified on zero and on certified foils
before the day's work, with the method the readings are taken with.  A passed
verification holds until the end of that calendar day in the shop's time zone;
a failed one ends it at once.  That a gauge is checked before work and that a
failed check puts everything since the last good one in doubt: SSPC-PA 2.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta, tzinfo
from decimal import Decimal

from academy.domain.curriculum.kinds import Substrate
from academy.domain.metrology.methods import METHOD_BY_SUBSTRATE, GaugeMethod
from academy.domain.metrology.methods import Substrate as MeasuredSubstrate
from academy.domain.metrology.verification import Check, Combine, Tolerance, in_doubt, verify_gauge
from academy.domain.sentences import TradeError

LEAST_READINGS = 3


class GaugeRefusal(TradeError):
    """Base of the reasons why a gauge may not be read from."""


@dataclass(eq=False)
class GaugeNotVerified(GaugeRefusal):
    """Nobody has verified the gauge today."""

    template = (
        "%(gauge)s has not been verified today for the %(method)s method. It takes two minutes:"
        " three readings on bare metal and three on each foil, under Workshop, Verify a gauge"
    )
    gauge: str
    method: str


@dataclass(eq=False)
class GaugeFailed(GaugeRefusal):
    """The newest verification of the gauge failed."""

    template = (
        "%(gauge)s failed its last verification for the %(method)s method. Clean the probe and the"
        " foils, adjust zero on bare metal, and verify it again before anybody reads with it"
    )
    gauge: str
    method: str


@dataclass(eq=False)
class WrongMethod(GaugeRefusal):
    """The gauge does not have the method this metal asks for."""

    template = (
        "%(gauge)s cannot read paint on %(substrate)s: that asks for the %(needed)s method."
        " Choose another gauge"
    )
    gauge: str
    substrate: str
    needed: str


@dataclass(eq=False)
class NothingReadsPlastic(GaugeRefusal):
    """Magnetic and eddy-current gauges read metal."""

    template = (
        "No magnetic or eddy-current gauge reads paint on plastic. Choose a task that is judged by"
        " eye, or a panel of metal"
    )


@dataclass(eq=False)
class TooFewOnStandard(GaugeRefusal):
    """A standard was read too few times."""

    template = "Read %(standard)s at least %(needed)d times; %(taken)d given"
    standard: str
    taken: int
    needed: int


@dataclass(eq=False)
class NoFoilRead(GaugeRefusal):
    """Zero alone does not show that the gauge reads paint right."""

    template = (
        "Read at least one certified foil; zero alone does not show that a thickness is right"
    )


@dataclass(frozen=True, slots=True)
class Standard:
    """A certified foil, or zero on bare metal, with its tolerance."""

    label: str
    certified_um: Decimal
    tolerance: Tolerance

    @property
    def is_zero(self) -> bool:
        """Return whether this is bare metal."""
        return self.certified_um == 0


@dataclass(frozen=True, slots=True)
class StandardRead:
    """A standard and what the gauge showed on it."""

    standard: Standard
    readings_um: tuple[Decimal, ...]


@dataclass(frozen=True, slots=True)
class StandardJudged:
    """One standard's outcome, in micrometres."""

    read: StandardRead
    mean_um: float
    error_um: float
    limit_um: float
    passed: bool


def judge_standards(
    reads: Sequence[StandardRead], gauge: Tolerance, combine: Combine
) -> tuple[StandardJudged, ...]:
    """Judge each standard with the tolerances of gauge and standard together.

    On zero the percent parts are nothing, so the absolute parts judge alone.

    Raises
    ------
    TooFewOnStandard, NoFoilRead
        The readings do not make a verification.
    """
    for read in reads:
        if len(read.readings_um) < LEAST_READINGS:
            raise TooFewOnStandard(read.standard.label, len(read.readings_um), LEAST_READINGS)
    if all(read.standard.is_zero for read in reads):
        raise NoFoilRead()
    return tuple(_judged(read, gauge, combine) for read in reads)


def _judged(read: StandardRead, gauge: Tolerance, combine: Combine) -> StandardJudged:
    standard = read.standard
    outcome = verify_gauge(
        standard.certified_um, read.readings_um, gauge, standard.tolerance, combine
    )
    return StandardJudged(read, outcome.mean_um, outcome.error_um, outcome.limit_um, outcome.passed)


def method_for(substrate: Substrate) -> GaugeMethod | None:
    """Return the method that reads paint on a substrate, or None for plastic."""
    method = METHOD_BY_SUBSTRATE[MeasuredSubstrate(substrate.value)]
    return None if method is GaugeMethod.ULTRASONIC else method


def method_needed(gauge: str, methods: Sequence[GaugeMethod], substrate: Substrate) -> GaugeMethod:
    """Return the method to read a substrate with.

    Raises
    ------
    NothingReadsPlastic, WrongMethod
        The gauge cannot read there.
    """
    needed = method_for(substrate)
    if needed is None:
        raise NothingReadsPlastic()
    if needed not in methods:
        raise WrongMethod(gauge, substrate.value, needed.value)
    return needed


def day_of(moment: datetime, zone: tzinfo) -> date:
    """Return the calendar day of a moment on the shop's clock."""
    return moment.astimezone(zone).date()


def _later(check: Check) -> tuple[datetime, bool]:
    """Order checks by time; of two at one moment the failed one counts."""
    return check.at, not check.passed


def newest_check(checks: Sequence[Check]) -> Check | None:
    """Return the check that counts now, or None."""
    return max(checks, key=_later, default=None)


def verified_now(checks: Sequence[Check], now: datetime, zone: tzinfo) -> bool:
    """Return whether the newest check passed, and was made on this calendar day."""
    newest = newest_check(checks)
    return newest is not None and newest.passed and day_of(newest.at, zone) == day_of(now, zone)


def refuse_unverified_gauge(
    gauge: str, method: GaugeMethod, checks: Sequence[Check], now: datetime, zone: tzinfo
) -> None:
    """Raise GaugeFailed or GaugeNotVerified unless the gauge may be read from now.

    `checks` are those of this method, in any order.
    """
    newest = newest_check(checks)
    if newest is not None and not newest.passed:
        raise GaugeFailed(gauge, method.value)
    if not verified_now(checks, now, zone):
        raise GaugeNotVerified(gauge, method.value)


@dataclass(frozen=True, slots=True)
class Doubt:
    """Readings rest on a gauge that failed; ``failed_at`` is the check that says so."""

    failed_at: datetime
    remeasure_by: date


def doubt_about(
    checks: Sequence[Check],
    taken_at: Sequence[datetime],
    *,
    zone: tzinfo,
    remeasure_days: int,
    settled_at: datetime | None = None,
) -> Doubt | None:
    """Return the doubt about readings taken at some moments, or None.

    The day to re-measure by is counted from the day of the failed check.  A
    settlement ends the doubts from checks made before it, and no later one.
    """
    doubted = [
        moment
        for moment in taken_at
        if in_doubt(checks, moment)
        and (settled_at is None or _failure_behind(checks, moment) > settled_at)
    ]
    if not doubted:
        return None
    failed = _failure_behind(checks, min(doubted))
    return Doubt(failed, day_of(failed, zone) + timedelta(days=remeasure_days))


def _failure_behind(checks: Sequence[Check], taken_at: datetime) -> datetime:
    """Return the failed check that puts a reading in doubt: the next one, else the one before."""
    failures = sorted(check.at for check in checks if not check.passed)
    return next((at for at in failures if at > taken_at), failures[-1])
