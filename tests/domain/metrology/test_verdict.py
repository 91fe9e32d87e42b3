"""Within the limit, exceeded, or not to be told."""

from __future__ import annotations

import pytest

from academy.domain.metrology.removal import SpotReadings, SpotRemoval, removal_at_spots
from academy.domain.metrology.verdict import Outcome, judge_removal


def spot(lower: float, upper: float) -> SpotRemoval:
    """Return a spot whose interval is known."""
    return SpotRemoval((lower + upper) / 2, 0.1, 4, lower, upper)


SINGLE = SpotRemoval(1.0, None, None, None, None)


@pytest.mark.parametrize(
    ("spots", "outcome", "sentence"),
    [
        ([spot(1, 1.5), spot(1, 2.0)], Outcome.WITHIN, "2.00 µm at spot 2"),
        ([spot(1, 1.5), spot(1, 2.01)], Outcome.CANNOT_TELL, "at spot 2 between 1.00 and 2.01"),
        ([spot(2.0, 2.5)], Outcome.CANNOT_TELL, "Take more readings"),
        ([spot(1, 1.5), spot(2.01, 3)], Outcome.EXCEEDED, "at spot 2 at least 2.01"),
        ([spot(1, 9), spot(2.01, 3)], Outcome.EXCEEDED, "at spot 2"),
        ([spot(1, 1.5), SINGLE], Outcome.CANNOT_TELL, "spot 2 has single readings"),
        ([SINGLE, spot(2.5, 3)], Outcome.EXCEEDED, "at spot 2"),
        ([SINGLE], Outcome.CANNOT_TELL, "Read each spot at least twice"),
    ],
)
def test_a_removal_is_judged_spot_by_spot(
    spots: list[SpotRemoval], outcome: Outcome, sentence: str
) -> None:
    verdict = judge_removal(spots, limit_um=2.0)
    assert verdict.outcome is outcome
    assert sentence in str(verdict)


def test_a_removal_of_exactly_the_limit_is_within_it() -> None:
    removal = removal_at_spots([SpotReadings([112.3, 112.3], [110.2, 110.2])])
    assert judge_removal(removal.per_spot, limit_um=2.1).outcome is Outcome.WITHIN


def test_a_good_mean_does_not_hide_a_bad_spot() -> None:
    spots = [SpotReadings([112, 112.1], [111.5, 111.6])] * 4 + [
        SpotReadings([112, 112.1], [107, 107.1])
    ]
    removal = removal_at_spots(spots)
    assert removal.removed_um < 2
    assert judge_removal(removal.per_spot, limit_um=2.0).outcome is Outcome.EXCEEDED


def test_a_verdict_needs_a_spot() -> None:
    with pytest.raises(ValueError, match="at least one spot"):
        judge_removal([], limit_um=2.0)
