"""Flaws that show when questions are read together."""

from __future__ import annotations

from academy.domain.curriculum.wording import Wording, bank_findings
from tests.domain.curriculum.wordings import a_wording


def said(wordings: list[Wording]) -> list[str]:
    return [str(finding) for finding in bank_findings(wordings)]


def questions_with_keys(keys: list[int]) -> list[Wording]:
    return [a_wording(keys=(key,), question_id=f"q{i}") for i, key in enumerate(keys)]


def test_keys_that_stand_at_one_place_are_found_in_the_bank_and_the_module() -> None:
    # 20 of 30 at one place: chi-square 20, two degrees of freedom, p = 4.5e-5.
    messages = said(questions_with_keys([2] * 20 + [1] * 5 + [3] * 5))
    assert sum(message.startswith("L05") for message in messages) == 2
    assert any("5, 20, 5" in message for message in messages)


def test_keys_spread_about_evenly_are_left_alone() -> None:
    messages = said(questions_with_keys([1] * 12 + [2] * 10 + [3] * 8))
    assert not any(message.startswith("L05") for message in messages)


def test_too_few_questions_say_nothing_about_places() -> None:
    assert not any(m.startswith("L05") for m in said(questions_with_keys([2] * 14)))


def test_a_bank_whose_keys_are_mostly_the_longest_is_found() -> None:
    longest = [
        a_wording("Behind you now", "On the floor", "In a bag", question_id=f"q{i}")
        for i in range(12)
    ]
    (message,) = [message for message in said(longest) if message.startswith("L03")]
    # A third of 12 by chance, 1/3 + 2 sqrt(2/9/12) = 0.605 of 12 at most.
    assert message.startswith("L03: in 12 of 12 questions with 3 options")
    assert "up to 7" in message


def test_a_rare_word_of_the_stem_in_the_key_alone_is_found() -> None:
    filler = [
        a_wording(*(f"{letter}{i} word{i}{letter}" for letter in "abc"), question_id=f"q{i}", stem=f"What of thing{i}?")
        for i in range(80)
    ]  # fmt: skip
    common = a_wording(
        "The counterweight balances it",
        "The washer holds it",
        "The cord turns it",
        stem="What does a counterweight do in a machine?",
    )
    # The filler repeats a few words often enough to fill the list of common ones.
    often = [
        a_wording(*(" ".join(f"often{n}" for n in range(k, 200, 3)) for k in range(3)), question_id=f"o{i}")
        for i in range(3)
    ]  # fmt: skip
    messages = said([common, *filler, *often])
    assert "L12: only the key repeats 'counterweight' of the stem" in messages


def test_a_key_that_another_stem_gives_away_is_found() -> None:
    asked = a_wording(
        "Lower the machine's speed first", "Press harder", "Go on", question_id="asked"
    )
    telling = a_wording(
        stem="After you lower the machine's speed first, what comes next?", question_id="telling"
    )
    messages = said([asked, telling])
    assert (
        "L21: the stem of telling holds 'lower the machine's speed' of this key; "
        "name it under apart-from" in messages
    )


def test_questions_kept_apart_may_answer_each_other() -> None:
    asked = a_wording(
        "Lower the machine's speed first", "Press harder", "Go on",
        question_id="asked", apart_from=frozenset(["telling"]),
    )  # fmt: skip
    telling = a_wording(
        stem="After you lower the machine's speed first, what comes next?", question_id="telling"
    )
    assert not any(message.startswith("L21") for message in said([asked, telling]))


def test_four_words_that_say_nothing_are_no_cue() -> None:
    asked = a_wording("It is on the pad", "Press", "Go on", question_id="asked")
    other = a_wording(stem="What if it is on the panel of the car?", question_id="other")
    assert not any(message.startswith("L21") for message in said([asked, other]))
