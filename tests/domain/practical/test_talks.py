"""The one thing to change, and whether a later practical shows it."""

from __future__ import annotations

from itertools import permutations
from uuid import UUID, uuid4

import pytest

from academy.domain.practical.talks import (
    ChangeAsked,
    ChangeLookedFor,
    ChangeSeen,
    changes,
)
from tests.support.clock import NOW, later

FIRST, SECOND = uuid4(), uuid4()
ASKED = [ChangeAsked(FIRST, NOW, "lift the hose"), ChangeAsked(SECOND, later(days=2), "slower")]


def looked(asked_in: UUID, seen: ChangeSeen, day: int) -> ChangeLookedFor:
    return ChangeLookedFor(asked_in, uuid4(), seen, later(days=day))


def test_what_nobody_looked_for_yet_is_open_and_the_newest_comes_first() -> None:
    states = changes(ASKED, [])

    assert [state.asked.change for state in states] == ["slower", "lift the hose"]
    assert all(state.still_open and state.last is None for state in states)


@pytest.mark.parametrize(
    ("said", "still_open"),
    [
        ([ChangeSeen.SHOWS], False),
        ([ChangeSeen.NOT_YET], True),
        ([ChangeSeen.DID_NOT_COME_UP], True),
        ([ChangeSeen.NOT_YET, ChangeSeen.SHOWS], False),
        ([ChangeSeen.SHOWS, ChangeSeen.NOT_YET], True),
        ([ChangeSeen.NOT_YET, ChangeSeen.DID_NOT_COME_UP], True),
    ],
)
def test_the_latest_word_counts(said: list[ChangeSeen], still_open: bool) -> None:
    words = [looked(FIRST, seen, day) for day, seen in enumerate(said, 3)]

    for order in permutations(words):
        _newer, older = changes(ASKED, order)
        assert older.still_open is still_open
        assert older.last == words[-1]


def test_a_word_about_one_change_leaves_the_other_alone() -> None:
    newer, older = changes(ASKED, [looked(FIRST, ChangeSeen.SHOWS, 3)])

    assert newer.still_open
    assert not older.still_open
