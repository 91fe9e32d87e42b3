"""Which questions stand on the list to mend, for which reason, and in which order."""

from __future__ import annotations

from typing import Any

import pytest

from academy.domain.assessment import mending
from academy.domain.assessment.mending import Judged, NearCut, findings, urgency
from academy.domain.assessment.question_evidence import fisher_interval
from academy.domain.assessment.shown_share import shown_share
from academy.domain.assessment.wording_evidence import Evidence, PartTaken


def a_part(name: str, right: bool, taken: int, mean: float = 0.7) -> PartTaken:
    return PartTaken(name, right, taken, taken, mean if taken else None, 0.15 if taken else None)


def judged(right: int = 70, answered: int = 100, r: float = 0.35, **overrides: Any) -> Judged:
    """Return a sound question: 70 of 100 right, the able more often, each option taken."""
    wrong = answered - right
    fields: dict[str, Any] = {
        "parts": (
            a_part("1", right=True, taken=right, mean=0.75),
            a_part("2", right=False, taken=wrong // 2, mean=0.55),
            a_part("3", right=False, taken=wrong - wrong // 2, mean=0.55),
        ),
        "rating_percent": 60,
        "one_option": True,
        "options": True,
        "voided": False,
        "open_disputes": 0,
        "near_cut": NearCut(62, 5.0),
    }
    fields |= overrides
    parts = fields.pop("parts")
    rest = fisher_interval(r, answered) if answered else None
    evidence = Evidence(answered, right, 0, answered, rest, parts, 0.69, 0.15)
    return Judged(evidence=evidence, share=shown_share(right, answered), **fields)


def kinds(one: Judged) -> list[type]:
    return [type(found) for found in findings(one)]


def test_a_sound_question_is_not_on_the_list() -> None:
    assert findings(judged()) == ()


def test_a_question_nobody_answered_is_not_on_the_list() -> None:
    assert findings(judged(0, 0, parts=(), near_cut=None)) == ()


KEY_BEATEN = (
    a_part("1", right=True, taken=40, mean=0.60),
    a_part("2", right=False, taken=50, mean=0.85),
    a_part("3", right=False, taken=10, mean=0.55),
)


@pytest.mark.parametrize(
    ("one", "reason"),
    [
        pytest.param(judged(voided=True), mending.StillAsked, id="voided and asked still"),
        pytest.param(judged(open_disputes=2), mending.Disputed, id="disputed"),
        pytest.param(
            judged(40, r=-0.4, parts=KEY_BEATEN), mending.SuspectedKey, id="the able take another"
        ),
        pytest.param(
            judged(
                0, 40, parts=(a_part("1", right=True, taken=0), a_part("2", right=False, taken=40))
            ),
            mending.KeyNeverTaken,
            id="nobody finds the key",
        ),
        pytest.param(judged(r=-0.05), mending.TellsNobodyApart, id="the able do no better"),
        pytest.param(judged(15, near_cut=None), mending.TooHard, id="hardly anybody is right"),
        pytest.param(judged(99, near_cut=None), mending.TooEasy, id="nearly everybody is right"),
        pytest.param(
            judged(near_cut=NearCut(20, 5.0)), mending.RatedTooHigh, id="harder than rated"
        ),
        pytest.param(
            judged(near_cut=NearCut(95, 4.0)), mending.RatedTooLow, id="easier than rated"
        ),
        pytest.param(
            judged(
                parts=(
                    a_part("1", right=True, taken=70),
                    a_part("2", right=False, taken=30, mean=0.5),
                    a_part("3", right=False, taken=0),
                )
            ),
            mending.UnusedOptions,
            id="an option nobody takes",
        ),
    ],
)
def test_each_reason_is_found_first(one: Judged, reason: type) -> None:
    found = kinds(one)
    assert found
    assert found[0] is reason


def test_of_several_options_the_wrong_one_that_the_able_tick_is_named() -> None:
    parts = (
        a_part("1", right=True, taken=60),
        a_part("2", right=True, taken=55),
        a_part("3", right=False, taken=40, mean=0.9),
    )
    found = findings(judged(30, parts=parts, one_option=False, near_cut=None))
    assert isinstance(found[0], mending.SuspectedPart)
    assert found[0].option == "3"


def test_a_handful_of_answers_accuses_nobody() -> None:
    """Three of four took an option: with so few that is luck."""
    parts = (
        a_part("1", right=True, taken=1, mean=0.2),
        a_part("2", right=False, taken=3, mean=0.9),
    )
    assert findings(judged(1, 4, r=-0.9, parts=parts)) == ()


def test_a_difference_that_luck_explains_accuses_no_key() -> None:
    parts = (
        a_part("1", right=True, taken=15, mean=0.70),
        a_part("2", right=False, taken=15, mean=0.74),
    )
    assert mending.SuspectedKey not in kinds(judged(15, 30, parts=parts, near_cut=None))


def test_an_easy_question_is_not_blamed_for_telling_little_apart() -> None:
    assert mending.TellsNobodyApart not in kinds(judged(92, r=0.0, near_cut=None))


def test_the_worst_reason_decides_the_order_and_then_the_next() -> None:
    wrong_key = findings(judged(40, r=-0.4, parts=KEY_BEATEN))
    disputed = findings(judged(open_disputes=1))
    both = findings(judged(open_disputes=1, near_cut=NearCut(20, 5.0)))
    assert sorted([disputed, both, wrong_key], key=urgency) == [wrong_key, both, disputed]


def test_every_reason_is_a_sentence_with_its_figures() -> None:
    says = str(findings(judged(40, r=-0.4, parts=KEY_BEATEN))[0])
    assert "50 took the option '2' and had 85 of 100" in says
    assert "the 40 who took the key had 60 of 100" in says
