"""Reading ease tells plain words from heavy ones."""

from __future__ import annotations

import pytest

from academy.domain.curriculum.reading import readability, syllables


@pytest.mark.parametrize(
    ("word", "count"),
    [("pad", 1), ("panel", 2), ("polish", 2), ("table", 2), ("take", 1), ("started", 2), ("machine", 2), ("machines", 2), ("passes", 2), ("edges", 2), ("while", 1), ("refined", 2), ("finishes", 3), ("supervisor", 4), ("I", 1)],
)  # fmt: skip
def test_syllables_of_common_words(word: str, count: int) -> None:
    assert syllables(word) == count


def test_the_formula_is_flesch_s() -> None:
    found = readability("The pad is flat. The cord is clear.")
    assert (found.words, found.sentences, found.syllables) == (8, 2, 8)
    # 206.835 - 1.015 x 4 - 84.6 x 1
    assert found.ease == pytest.approx(118.175)


def test_a_line_of_its_own_ends_a_sentence() -> None:
    assert readability("Wash the car\nDry the car").sentences == 2


def test_a_text_without_words_has_no_ease() -> None:
    assert readability("112, 118.").ease is None
