"""Options: who takes which, and when somebody should look again."""

from __future__ import annotations

import pytest

from academy.domain.assessment.option_statistics import ItemFlag, OptionTable, option_tables
from academy.domain.assessment.responses import RowsDiffer

ABLE = ["b", "a", "a", "a"]
WEAK = ["a", "c", "b", "c"]


def tables(keys: list[str], able: int = 40, weak: int = 40) -> tuple[OptionTable, ...]:
    """Return the tables of able and weak trainees who take ABLE's and WEAK's options."""
    return option_tables([ABLE] * able + [WEAK] * weak, keys)


def test_a_key_that_only_the_weak_take_is_suspected() -> None:
    first, second, *_ = tables(["a", "a", "a", "a"])
    assert ItemFlag.SUSPECTED_WRONG_KEY in first.flags
    assert first.option_rest["b"] == pytest.approx(1.0)
    assert first.option_rest["a"] == pytest.approx(-1.0)
    assert second.flags == ()


def test_a_right_key_is_not_suspected() -> None:
    assert all(table.flags == () for table in tables(["b", "a", "a", "a"]))


def test_a_key_that_nobody_takes_is_suspected_where_the_able_agree() -> None:
    first = tables(["d", "a", "a", "a"])[0]
    assert first.counts == {"a": 40, "b": 40, "d": 0}
    assert ItemFlag.SUSPECTED_WRONG_KEY in first.flags
    assert first.option_rest["d"] is None


def test_few_answers_are_said_to_be_few() -> None:
    assert ItemFlag.FEW_ANSWERS in tables(["b", "a", "a", "a"], 10, 10)[0].flags
    assert ItemFlag.FEW_ANSWERS not in tables(["b", "a", "a", "a"], 15, 15)[0].flags


def test_an_option_nobody_takes_is_seen_where_the_options_are_given() -> None:
    given = [ABLE] * 40 + [WEAK] * 40
    without = option_tables(given, ABLE)[0]
    with_all = option_tables(given, ABLE, [["a", "b", "c", "d"]] * 4)[0]
    assert ItemFlag.UNUSED_OPTION not in without.flags
    assert ItemFlag.UNUSED_OPTION in with_all.flags
    assert with_all.counts["d"] == 0


def test_blank_is_wrong_and_not_presented_is_neither() -> None:
    table = option_tables([["a", "a"], ["", "b"], [None, "a"]], ["a", "a"])[0]
    assert table.counts == {"": 1, "a": 1}
    assert table.answered == 2


def test_a_question_nobody_was_asked_has_an_empty_table() -> None:
    table = option_tables([["a", None], ["b", None]], ["a", "a"])[1]
    assert table.answered == 0
    assert table.flags == (ItemFlag.FEW_ANSWERS,)


def test_hard_and_easy_questions_are_flagged() -> None:
    easy = option_tables([["a", "a"]] * 40 + [["b", "b"]], ["a", "b"])
    assert ItemFlag.TOO_EASY in easy[0].flags
    assert ItemFlag.TOO_HARD in easy[1].flags


def test_a_row_of_another_length_is_refused() -> None:
    with pytest.raises(RowsDiffer):
        option_tables([["a"]], ["a", "b"])
