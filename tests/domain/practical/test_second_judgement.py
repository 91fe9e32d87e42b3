"""The draw, and how two judgements agree in words.

The interval: 6 of 6 by Wilson's score interval is (0.6097, 1), computed from
n/(n + z²) with z = 1.959964 at the upper end of the proportion.
"""

from __future__ import annotations

from random import Random

import pytest

from academy.domain.practical.second_judgement import (
    Answer,
    HowTheyAgree,
    NothingCompared,
    Pair,
    beyond_chance,
    drawn,
    how_they_agree,
    pairs_of,
)


def test_one_in_ten_is_drawn() -> None:
    """Binomial with n = 20,000 and p = 0.1: four standard deviations are 170."""
    chance = Random(20261125)
    assert sum(drawn(chance) for _ in range(20_000)) == pytest.approx(2000, abs=170)


def test_the_same_seed_draws_the_same() -> None:
    assert [drawn(Random(str(n))) for n in range(99)] == [drawn(Random(str(n))) for n in range(99)]


def test_what_cannot_be_seen_from_the_record_is_not_compared() -> None:
    first = {"cord": True, "arm": True, "wipe": False}
    second = {"cord": Answer.CANNOT_SEE.value, "arm": "not met", "wipe": "not met"}
    assert pairs_of(first, second) == (Pair(True, False), Pair(False, False))


def test_agreement_in_words_always_carries_n() -> None:
    assert how_they_agree([Pair(True, True)] * 6) == HowTheyAgree(6, 6, 61, 100)
    assert how_they_agree([]) == NothingCompared()


def test_agreement_beyond_chance() -> None:
    """J. Cohen (1960): po = 0.7, pe = 0.5 give (0.7 − 0.5)/(1 − 0.5) = 0.4."""
    pairs = (
        [Pair(True, True)] * 4 + [Pair(True, False)] + [Pair(False, True)] * 2
        + [Pair(False, False)] * 3
    )  # fmt: skip
    assert beyond_chance(pairs) == pytest.approx(0.4)
    assert beyond_chance([Pair(True, True)] * 5) is None
