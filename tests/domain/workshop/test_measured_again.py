"""Readings in doubt against a verified gauge: what agrees, what differs, what is refused."""

from __future__ import annotations

from decimal import Decimal

import pytest

from academy.domain.metrology.verification import Combine, Tolerance
from academy.domain.workshop.measured_again import EverySpotAgain, measured_again

# ±(1 µm + 1 %) for both gauges: 2 µm each at 100 µm, together 2.83 µm by root-sum-square
TOLERANCE = Tolerance(Decimal(1), Decimal(1))


def three(film: str) -> tuple[Decimal, ...]:
    return (Decimal(film),) * 3


@pytest.mark.parametrize(
    ("recorded", "combine", "agrees"),
    [
        ("100.0", Combine.ROOT_SUM_SQUARE, True),
        ("102.8", Combine.ROOT_SUM_SQUARE, True),
        ("97.2", Combine.ROOT_SUM_SQUARE, True),
        ("102.9", Combine.ROOT_SUM_SQUARE, False),
        ("97.1", Combine.ROOT_SUM_SQUARE, False),
        ("104.0", Combine.SUM, True),
        ("104.1", Combine.SUM, False),
    ],
)
def test_what_agrees_is_what_a_verification_would_pass(
    recorded: str, combine: Combine, agrees: bool
) -> None:
    (spot,) = measured_again([three(recorded)], [three("100.0")], TOLERANCE, TOLERANCE, combine)
    assert spot.agrees is agrees
    expected = 4.0 if combine is Combine.SUM else 2 * 2**0.5  # worked by hand
    assert spot.allowed_um == pytest.approx(expected)


def test_one_spot_that_differs_is_told_from_the_others() -> None:
    recorded = [three("100.0"), three("110.0")]
    again = [three("100.1"), three("100.1")]
    spots = measured_again(recorded, again, TOLERANCE, TOLERANCE, Combine.ROOT_SUM_SQUARE)
    assert [spot.agrees for spot in spots] == [True, False]


@pytest.mark.parametrize(
    "again",
    [
        pytest.param([three("100")], id="a spot too few"),
        pytest.param([three("100"), three("100"), three("100")], id="a spot too many"),
        pytest.param([three("100"), (Decimal(100),) * 2], id="two readings at a spot"),
        pytest.param([], id="nothing"),
    ],
)
def test_every_spot_is_read_often_enough(again: list[tuple[Decimal, ...]]) -> None:
    recorded = [three("100"), three("100")]
    with pytest.raises(EverySpotAgain, match="2 spots at least 3 times"):
        measured_again(recorded, again, TOLERANCE, TOLERANCE, Combine.ROOT_SUM_SQUARE)
