"""The rules of wording: each finds its flaw, and leaves a sound question alone."""

from __future__ import annotations

import pytest

from academy.domain.curriculum.findings import Severity
from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.wording import LINT_RULES, Wording, wording_findings
from academy.domain.curriculum.wording.texts import number_of, range_of
from tests.domain.curriculum.wordings import a_wording

MULTIPLE = Interaction.MULTIPLE_RESPONSE
LONG = "Over your shoulder and behind you, so that it follows you along the whole car"

FLAWED = [
    ("L01", Severity.ERROR, a_wording("One thing", "Another", "All of the above")),
    ("L01", Severity.ERROR, a_wording("One thing", "Another", "All of these")),
    ("L01", Severity.ERROR, a_wording("One thing", "Another", "Both A and B")),
    ("L01", Severity.ERROR, a_wording("One thing", "Another", "A and C")),
    ("L02", Severity.WARNING, a_wording("One thing", "Another", "None of the above")),
    ("L03", Severity.ERROR, a_wording(LONG, "On the floor", "Round your wrist")),
    ("L04", Severity.WARNING, a_wording("On the floor", LONG, "Round your wrist")),
    ("L06", Severity.WARNING, a_wording("10 mm", "30 mm", "20 mm", shuffle=False)),
    ("L06", Severity.WARNING, a_wording("10 mm", "20 mm", "30 mm")),
    ("L07", Severity.ERROR, a_wording("1 to 3", "3 to 5", "6 to 8", shuffle=False)),
    ("L07", Severity.ERROR, a_wording("1–4 µm", "3–5 µm", "6–8 µm", shuffle=False)),
    ("L09", Severity.ERROR, a_wording("On the floor", "on the floor.", "Behind you")),
    ("L10", Severity.WARNING, a_wording(stem="Which of these places is not safe for a cord?")),
    ("L10", Severity.WARNING, a_wording(stem="Which **safe** place is not for a **cord** here?")),
    ("L10", Severity.WARNING, a_wording(stem="All of these hold a cord except which one?")),
    ("L10", Severity.ERROR, a_wording("It never slips", "It lies flat", "It hangs free", stem="Why should you **never** hold a cord?")),
    ("L11", Severity.WARNING, a_wording("Behind you", "Always in front", "On the floor")),
    ("L11", Severity.WARNING, a_wording("Only behind you", "In front", "On the floor")),
    ("L13", Severity.WARNING, a_wording(stem="The part of a polisher that holds the pad is a")),
    ("L13", Severity.WARNING, a_wording(stem="Which two places are safe for a cord?", keys=(1,), interaction=MULTIPLE)),
    ("L14", Severity.WARNING, a_wording(stem="The cord of a polisher is long.")),
    ("L14", Severity.WARNING, a_wording(stem="And the cord?")),
    ("L14", Severity.WARNING, a_wording(LONG, LONG[4:], LONG[9:], stem="Where does the cord go?")),
    ("L15", Severity.WARNING, a_wording("Put the cord behind", "Put the cord down", "Put the cord away")),
    ("L16", Severity.ERROR, a_wording("Behind you", "In front")),
    ("L16", Severity.WARNING, a_wording("Here", "There", "Behind", "Above", "Below")),
    ("L18", Severity.ERROR, a_wording("On the floor", "Behind you", "1 and 2 only")),
    ("L18", Severity.ERROR, a_wording("On the floor", "Behind you", "Options 1 and 2")),
    ("L19", Severity.WARNING, a_wording("Usually behind", "In front", "On the floor")),
]  # fmt: skip


def found(wording: Wording) -> set[tuple[str, Severity]]:
    return {(str(finding)[:3], finding.severity) for finding in wording_findings(wording)}


@pytest.mark.parametrize(("rule", "severity", "wording"), FLAWED)
def test_a_flaw_of_wording_is_found(rule: str, severity: Severity, wording: Wording) -> None:
    assert (rule, severity) in found(wording)


SOUND = [
    a_wording(),
    a_wording("10 mm", "20 mm", "30 mm", shuffle=False),
    a_wording("30", "20", "10", shuffle=False),
    a_wording("1 to 3", "4 to 6", "7 to 9", shuffle=False),
    a_wording("Wash, clay, polish", "Clay, wash, polish", "Polish, clay, wash"),
    a_wording(stem="Which of these places is **not** safe for a cord?"),
    a_wording(stem="Which of these places is NOT safe for a cord?"),
    a_wording(stem="You have at least two metres of cord. Where does the cord go?"),
    a_wording(stem="The pad is not wet. Where does the cord go?"),
    a_wording("9.09", "10", "11", shuffle=False),
    a_wording(stem="Before you polish, the cord goes ____"),
    a_wording(
        "Spread it", "Lay the pad flat", "Polish", stem="Put these steps in order.", keys=(),
        interaction=Interaction.ORDER,
    ),
    a_wording(stem="What now?", decision_id="first", interaction=Interaction.SCENARIO),
]  # fmt: skip


@pytest.mark.parametrize("wording", SOUND)
def test_a_sound_question_is_left_alone(wording: Wording) -> None:
    assert [str(finding) for finding in wording_findings(wording)] == []


def test_an_author_sets_a_warning_aside_with_a_reason_but_never_an_error() -> None:
    warned = a_wording("One thing", "Another", "None of the above")
    accepted = {"L02": "it is the right answer", "L16": "two are enough"}
    assert ("L02", Severity.WARNING) in found(warned)
    assert found(a_wording("One thing", "Another", "None of the above", accepted=accepted)) == set()
    assert ("L16", Severity.ERROR) in found(a_wording("Here", "There", accepted=accepted))


def test_every_rule_that_reports_is_in_the_table() -> None:
    assert {rule for rule, _, _ in FLAWED} <= set(LINT_RULES)


@pytest.mark.parametrize(
    ("text", "value"),
    [("10 mm", 10.0), ("-3", -3.0), ("4.5 m/s", 4.5), ("10 %", 10.0), ("about 10", None), ("P800 paper", None)],
)  # fmt: skip
def test_an_option_that_is_a_number_is_recognised(text: str, value: float | None) -> None:
    assert number_of(text) == value


def test_an_option_that_is_a_range_is_recognised_either_way_round() -> None:
    found_range = range_of("5 to 3 µm")
    assert found_range is not None
    assert (found_range.low, found_range.high) == (3.0, 5.0)
    assert range_of("from the top to the bottom") is None
