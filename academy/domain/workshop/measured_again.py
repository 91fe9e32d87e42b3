"""How readings in doubt are settled: measured again with a verified gauge, or decided by the owner."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from academy.domain.metrology.verification import Combine, Tolerance, verify_gauge
from academy.domain.sentences import TradeError

LEAST_AT_A_SPOT = 3


class Settled(StrEnum):
    """What was done about readings in doubt."""

    MEASURED_AGAIN = "measured again"
    ACCEPTED = "accepted"
    REFUSED = "refused"


@dataclass(eq=False)
class NothingInDoubt(TradeError):
    """There is no doubt, or it has been settled."""

    template = "These readings are not in doubt, or that has been settled already"


@dataclass(eq=False)
class StillAtThePanel(TradeError):
    """An open practical is read again by its own stages."""

    template = "This practical is still open; take its readings again there, with a verified gauge"


@dataclass(eq=False)
class WorkedSince(TradeError):
    """The section no longer is what was read."""

    template = (
        "%(section)s has been worked since these readings, so it cannot be measured again;"
        " the owner decides from what is on record"
    )
    section: str


@dataclass(eq=False)
class EverySpotAgain(TradeError):
    """The same spots, each often enough."""

    template = "Read each of the %(spots)d spots at least %(needed)d times, in the same order"
    spots: int
    needed: int = LEAST_AT_A_SPOT


@dataclass(eq=False)
class ReasonNeeded(TradeError):
    """A decision without a reason helps nobody later."""

    template = "Write the reason: somebody will ask why in a year"


@dataclass(frozen=True, slots=True)
class SpotAgain:
    """One spot: what stood on record, what a verified gauge shows, and what they may differ by."""

    recorded_um: float
    again_um: float
    allowed_um: float
    agrees: bool


def measured_again(
    recorded_um: Sequence[Sequence[Decimal]],
    again_um: Sequence[Sequence[Decimal]],
    suspect: Tolerance,
    verified: Tolerance,
    combine: Combine,
) -> tuple[SpotAgain, ...]:
    """Compare spot by spot; the section stands in for the foil of a verification.

    The gauge in doubt is judged as it would be on a certified foil: its mean
    against that of the verified gauge, with both stated tolerances.  Policy of
    this platform, after SSPC-PA 2's rule for gauge and standard.

    Raises
    ------
    EverySpotAgain
        Other spots, or too few readings at one.
    """
    short = any(len(readings) < LEAST_AT_A_SPOT for readings in again_um)
    if short or len(again_um) != len(recorded_um):
        raise EverySpotAgain(len(recorded_um))
    return tuple(
        _spot(recorded, again, suspect, verified, combine)
        for recorded, again in zip(recorded_um, again_um, strict=True)
    )


def _spot(
    recorded: Sequence[Decimal],
    again: Sequence[Decimal],
    suspect: Tolerance,
    verified: Tolerance,
    combine: Combine,
) -> SpotAgain:
    stands_for_foil = sum(again) / len(again)
    judged = verify_gauge(stands_for_foil, recorded, suspect, verified, combine)
    return SpotAgain(judged.mean_um, float(stands_for_foil), judged.limit_um, judged.passed)
