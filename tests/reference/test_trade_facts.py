"""What the trade does, as the course teaches it: common practice, no source.

None of these was read in a published text, so each check also asks that the
course says so itself.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from academy.content.compiler import compile_course
from academy.domain.curriculum.course import Course
from academy.domain.curriculum.lessons import Fact

CONTENT = Path(__file__).parents[2] / "content"
NO_SOURCE = "common practice, no source"


@pytest.fixture(scope="module")
def course() -> Course:
    compiled = compile_course(CONTENT).course
    assert compiled is not None
    return compiled


def unsourced(course: Course, fact_id: str) -> Fact:
    fact = next(fact for fact in course.facts if fact.id == fact_id)
    assert fact.source.startswith(NO_SOURCE), fact.source
    return fact


def lesson_words(course: Course, module_id: str, lesson_id: str) -> str:
    lesson = course.lesson(module_id, lesson_id)
    assert lesson is not None
    return " ".join(lesson.text.split())


@pytest.mark.parametrize(
    ("throw", "plate", "throw_mm", "plate_mm"),
    [
        ("machines-throw-long", "machines-plate-long-throw", 21, 150),
        ("machines-throw-middle", "machines-plate-middle-throw", 15, 125),
        ("machines-throw-short", "machines-plate-short-throw", 8, 75),
    ],
)
def test_a_throw_is_commonly_paired_with_its_plate(
    course: Course, throw: str, plate: str, throw_mm: float, plate_mm: float
) -> None:
    """Common practice, no source."""
    assert unsourced(course, throw).low == throw_mm
    paired = unsourced(course, plate)
    assert (paired.low, paired.high, paired.unit) == (plate_mm, None, "mm")
    assert "other pairs exist" in paired.says


def test_the_plate_of_a_spot_tool_is_near_25_mm(course: Course) -> None:
    """Common practice, no source."""
    assert unsourced(course, "machines-plate-spot-tool").low == 25


@pytest.mark.parametrize(
    ("fact_id", "low", "high", "arm"),
    [
        ("machines-dial-spread", 1, None, "spreading"),
        ("machines-dial-cut", 3, 4.5, "slow arm"),
        ("machines-dial-refine", 5, None, "quicker arm"),
    ],
)
def test_a_dial_of_six_spreads_at_1_cuts_slowly_and_refines_near_5(
    course: Course, fact_id: str, low: float, high: float | None, arm: str
) -> None:
    """Common practice, no source; dual action only."""
    fact = unsourced(course, fact_id)
    assert (fact.low, fact.high) == (low, high)
    assert "dual-action" in fact.says
    assert "dial of six" in fact.says
    assert arm in fact.says


def test_a_rotary_is_set_in_turns_and_stays_at_or_below_2000_on_paint(course: Course) -> None:
    """Common practice, no source."""
    most = unsourced(course, "machines-rotary-most")
    work = unsourced(course, "machines-rotary-work")
    assert (most.low, most.unit, work.unit) == (2000, "rpm", "rpm")
    assert work.high is not None
    assert work.high < most.low


def test_product_is_spread_first_since_a_diminishing_abrasive_cuts_hardest_at_first(
    course: Course,
) -> None:
    """Common practice, no source."""
    words = lesson_words(course, "abrasives", "grain-and-cycle")
    assert f"It cuts hardest at first and finest at the end ({NO_SOURCE})" in words
    assert "Spread before you cut." in words


def test_a_fresh_pad_is_primed_and_then_gets_far_less(course: Course) -> None:
    """Common practice, no source."""
    words = lesson_words(course, "pads", "prime-and-clean")
    assert "From then on use far less" in words
    assert NO_SOURCE in words
    dots = unsourced(course, "technique-dots")
    assert (dots.low, dots.high) == (4, 6)


def test_about_four_passes_take_ordinary_wash_marks(course: Course) -> None:
    """Common practice, no source."""
    fact = unsourced(course, "technique-passes-wash-marks")
    assert (fact.low, fact.high) == (4, None)


def test_a_second_finer_step_takes_out_what_the_cutting_step_left(course: Course) -> None:
    """Common practice, no source."""
    words = lesson_words(course, "choosing-the-process", "least-aggressive-first")
    assert "a second, finer step follows" in words
    assert f"takes them out ({NO_SOURCE})" in words


def test_a_panel_on_which_the_hand_cannot_rest_five_seconds_is_left_to_cool(
    course: Course,
) -> None:
    """Common practice, no source."""
    words = lesson_words(course, "technique", "heat-and-edges")
    assert "back of your hand" in words
    assert (
        "five seconds in comfort: go on. You have to take it away: stop and let it cool." in words
    )
    assert "The five seconds are common practice and nobody has published a source" in words
