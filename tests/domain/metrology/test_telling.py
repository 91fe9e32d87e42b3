"""How many more readings would tell: checked by taking them."""

from __future__ import annotations

from itertools import pairwise

import pytest

from academy.domain.metrology.removal import SpotReadings, removal_at_spots
from academy.domain.metrology.telling import (
    MoreReadingsTell,
    NoReadingsTell,
    more_readings_to_tell,
)

BEFORE = ["110.4", "109.6"] * 5
AFTER = ["108.4", "107.6"] * 2


def told(limit_um: float, before: list[str], after: list[str]) -> object:
    """Return what is said of one spot."""
    readings = SpotReadings(before, after)
    (spot,) = removal_at_spots([readings]).per_spot
    return more_readings_to_tell(1, spot, readings, limit_um)


def test_so_many_more_readings_of_the_same_scatter_do_tell() -> None:
    """2.0 ± 0.54 µm against 2.4 µm: the number said is taken, in pairs that keep mean and scatter."""
    says = told(2.4, BEFORE, AFTER)
    assert isinstance(says, MoreReadingsTell)
    assert says.more > 2
    decided = [
        told(2.4, BEFORE, AFTER + ["108.4", "107.6"] * pairs) is None for pairs in range(1, 10)
    ]
    first = decided.index(True) + 1
    assert all(earlier <= later for earlier, later in pairwise(decided))
    assert abs(says.more - 2 * first) <= 2  # the scatter moves a little with each pair


def test_too_few_readings_before_the_work_cannot_be_made_good() -> None:
    says = told(2.05, ["110.4", "109.6"], AFTER)
    assert isinstance(says, NoReadingsTell)
    assert says.before == 2
    assert says.half_um > 0.05


@pytest.mark.parametrize("limit_um", [1.0, 4.0])
def test_a_spot_that_is_decided_asks_for_nothing(limit_um: float) -> None:
    assert told(limit_um, BEFORE, AFTER) is None


def test_single_readings_say_nothing_about_more() -> None:
    readings = SpotReadings(["110"], ["108"])
    (spot, _other) = removal_at_spots([readings, readings]).per_spot
    assert more_readings_to_tell(1, spot, readings, 2.0) is None
