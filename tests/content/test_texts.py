"""Numbers, links, figures and checks in running text."""

from __future__ import annotations

import pytest

from tests.content.breaks import Break, assert_refused, assert_warned
from tests.content.course_tree import (
    CAUTIONS,
    CHOICE,
    FACTS,
    GLOSSARY,
    LESSON,
    MODULE,
    SCENARIO,
    TASK,
    CourseTree,
    errors_at,
)

SPEED = "calc:machine-speed?kind=dual-action&pad_mm=150&throw_mm=21&orbits_per_min=4200#orbit_m_s"
HERE = "Run it over"

BARE = [
    "4 µm", "4 μm", "4µm", "0.5 mil", "2 mils", "15 mm", "15-mm pads", "40 cm", "4.6 m/s", "25 mm/s",
    "1500 rpm", "1 500 rpm", "1,500 rpm", "60 °C", "30 K", "40 N", "5 kPa", "3 dB", "85 dB(A)", "2.5 m/s²", "10 %",
    "10%", "10 percent", "10 per cent", "50 ml", "230 V", "800 W", "20 g", "3 to 5 mm", "3–5 mm",
    "3 micrometres", "5 microns", "4.5m/s2", "60 degrees Celsius", "2 kg",
]  # fmt: skip

FREE = [
    "10 seconds", "2 minutes", "3 days", "4 weeks", "6 months", "two passes", "P1500 paper", "P 2000",
    "4 panels", "a throw of 21 at 4200", "3 mmm", "step 2", "1 Kelvinator", "a 45 degree turn",
    "5 Nuts", "16 gauges", "in 1948", "setting 5",
]  # fmt: skip


@pytest.mark.parametrize("bare", BARE)
def test_a_number_with_a_unit_is_never_bare(bare: str, tree: CourseTree) -> None:
    tree.change(LESSON, HERE, f"{HERE} about {bare} of it. {HERE}")
    messages = errors_at(tree.compiled(), LESSON, tree.line(LESSON, HERE))
    assert any("stands bare" in message for message in messages)


@pytest.mark.parametrize("free", FREE)
def test_times_counts_and_grades_may_stand_as_words(free: str, tree: CourseTree) -> None:
    tree.change(LESSON, HERE, f"{HERE} about {free} of it. {HERE}")
    assert tree.compiled().errors == ()


REFUSED = [
    Break("bare in a heading", LESSON, "## What good", "## 5 mm is what good", "5 mm", "'5 mm' stands bare"),
    Break("bare in code", LESSON, HERE, f"`5 mm` {HERE}", "5 mm", "'5 mm' stands bare"),
    Break("bare in a check", LESSON, "Over your shoulder.\n```", "Over 5 mm.\n```", "Over 5 mm", "'5 mm' stands bare"),
    Break("bare in a lesson link", LESSON, "[it again]", "[5 mm again]", "5 mm", "'5 mm' stands bare"),
    Break("bare on a second line", LESSON, "Run it over your", "Run it\nover 5 mm your", "5 mm", "'5 mm' stands bare"),
    Break("bare in a stem", CHOICE, "a bonnet", "a 5 mm bonnet", "5 mm", "'5 mm' stands bare"),
    Break("bare in an option", CHOICE, "On the floor", "On 5 mm of floor", "5 mm", "'5 mm' stands bare"),
    Break("bare in a reason", CHOICE, "You step on it", "You step on 5 mm", "5 mm", "'5 mm' stands bare"),
    Break("bare in a caution", CAUTIONS, "Tie hair", "Tie 5 mm hair", "5 mm", "'5 mm' stands bare"),
    Break("bare in a task", TASK, "Polish one section.\n\n", "Polish 5 mm.\n\n", "Polish 5", "'5 mm' stands bare"),
    Break("bare in the trainer's sheet", TASK, "Stand at", "Stand 5 mm at", "5 mm", "'5 mm' stands bare"),
    Break("bare in a criterion", TASK, "is within the limit", "is within 3 µm", 14, "'3 µm' stands bare"),
    Break("bare in a set-up check", TASK, "Eye protection is on", "The panel is below 40 °C", "below", "'40 °C' stands bare"),
    Break("bare in an objective", MODULE, "Keep the cord clear", "Keep the cord 5 mm clear", "id: cord", "'5 mm' stands bare"),
    Break("bare in a summary", MODULE, "A summary", "A 5 mm summary", "5 mm", "'5 mm' stands bare"),
    Break("bare in a term", GLOSSARY, "A milky", "A 5 mm milky", "5 mm", "'5 mm' stands bare"),
    Break("bare in a situation", SCENARIO, "A black", "A 5 mm black", "5 mm", "'5 mm' stands bare"),
    Break("fact with another value", LESSON, "[8 µm]", "[9 µm]", "fact:cap", "the text says '9 µm', the fact cap says 8\u00a0µm"),
    Break("fact with another range", LESSON, "[3 to 4.5]", "[3 to 5]", "fact:dial", "the text says '3 to 5', the fact dial-cut says 3 to 4.5"),
    Break("fact with three numbers", LESSON, "[3 to 4.5]", "[3, 4 to 4.5]", "fact:dial", "the fact dial-cut says"),
    Break("fact without a number", LESSON, "[3 to 4.5]", "[a few]", "fact:dial", "the fact dial-cut says"),
    Break("fact in another unit", LESSON, "[8 µm]", "[8 mm]", "fact:cap", "the value is in µm"),
    Break("the table changed", FACTS, "high: 4.5", "high: 5", "[3 to 4.5]", "the fact dial-cut says 3 to 5", LESSON),
    Break("fact that is not there", LESSON, "fact:cap", "fact:cop", "fact:cop", "there is no fact cop"),
    Break("example without a number", LESSON, HERE, f"[some](example) {HERE}", "[some]", "holds no number"),
    Break("calculation disagrees", LESSON, HERE, f"[4.63 m/s]({SPEED}) {HERE}", "4.63", "the calculation machine-speed gives 4.618"),
    Break("calculation in another unit", LESSON, HERE, f"[4.62 mm]({SPEED}) {HERE}", "4.62", "the value is in m/s"),
    Break("calculation not there", LESSON, HERE, f"[4](calc:speeed?a=1#b) {HERE}", "speeed", "no calculation named speeed"),
    Break("calculation input", LESSON, HERE, f"[4](calc:machine-speed?kind=dual-action&pad_mm=150&throw_mm=-4#orbit_m_s) {HERE}", "throw_mm=-4", "throw_mm"),
    Break("calculation result", LESSON, HERE, f"[4.62]({SPEED}_x) {HERE}", "4.62", "there is no result #orbit_m_s_x"),
    Break("term not there", LESSON, "term:haze", "term:hase", "term:hase", "no term hase"),
    Break("lesson not there", LESSON, "lesson:safety/before", "lesson:safety/after", "lesson:safety", "no lesson safety/after"),
    Break("heading of a lesson", LESSON, "lesson:safety/before-you-start#cord", "lesson:safety/before-you-start#cable", "#cable", "no heading #cable"),
    Break("heading in here", LESSON, "(#cord)", "(#cable)", "(#cable)", "no heading #cable here"),
    Break("a link to the outside", LESSON, "term:haze", "https://example.org/", "https:", "leads nowhere here"),
    Break("a relative link", LESSON, "term:haze", "other.md", "other.md", "leads nowhere here"),
    Break("a picture", LESSON, HERE, f"![A pad](pad.png) {HERE}", "pad.png", "pictures are not shown"),
    Break("raw HTML", LESSON, HERE, f"<b>bold</b> {HERE}", "<b>", "HTML is not read"),
    Break("a script", LESSON, HERE, f"<script>x</script>\n\n{HERE}", "<script>", "HTML is not read"),
    Break("a figure nobody draws", LESSON, "figure orbit-trace", "figure orbit-trase", "figure orbit", "no figure is called orbit-trase"),
    Break("a figure's parameter", LESSON, "throw_mm: 15", "throw_mm: -15", "figure orbit", "throw_mm"),
    Break("a figure's YAML", LESSON, "throw_mm: 15", "throw_mm: 15: 3", "15: 3", "colon"),
    Break("an unknown block", LESSON, "```check", "```quiz", "```quiz", "a block opens with"),
    Break("a check without answer", LESSON, "answer: ", "reply: ", "```check", "no `answer:`"),
    Break("a check that opens wrong", LESSON, "ask: ", "question: ", "question: ", "opens with `ask:`"),
    Break("a title in the text", LESSON, "## Where", "# Where", "# Where", "headings start at ##"),
    Break("an anchor twice", LESSON, "## What good looks like", "## What good looks like {#cord}", "{#cord}", "HERE"),
    Break("too far indented", CHOICE, "   You step on it.", "        You step on it.", "You step", "indented too far"),
]  # fmt: skip
REFUSED = [case for case in REFUSED if case.said != "HERE"]


@pytest.mark.parametrize("case", REFUSED, ids=lambda case: case.name)
def test_what_is_wrong_in_a_text_is_refused_at_its_line(case: Break, tree: CourseTree) -> None:
    assert_refused(case, tree)


def test_a_criterion_may_link_its_number(tree: CourseTree) -> None:
    tree.change(TASK, "is within the limit", "is at most [8 µm](fact:cap)")
    task = tree.compiled().draft.task("polish-one-section")
    assert task is not None
    assert task.criteria[0].text == "Removal at every spot is at most 8 µm"


def test_an_anchor_stands_once(tree: CourseTree) -> None:
    tree.change(LESSON, "## What good looks like", "## What good looks like {#cord}")
    line = tree.line(LESSON, "## What good")
    assert "the anchor #cord stands twice" in errors_at(tree.compiled(), LESSON, line)


WARNED = [
    Break("a lesson without 'good'", LESSON, "## What good looks like", "## Good", 7, "no heading 'What good looks like'"),
    Break("a lesson without 'wrong'", LESSON, "## What goes wrong and why", "## Wrong", 7, "no heading 'What goes wrong"),
    Break("a short lesson", LESSON, "Where", "Where", 7, "600 to 1300"),
    Break("a hazard late", LESSON, "## What good looks like", "## Hazards\n\nX.\n\n## What good looks like", "## Hazards", "comes late"),
    Break("hard to read", LESSON, "Run it over your shoulder.", "Notwithstanding aforementioned considerations regarding electrical installations, precautionary organisational administration necessitates continuous documentation. " * 3, 7, "reading ease"),
    Break("a fact nobody uses", LESSON, "at most [8 µm](fact:cap)", "little", 8, "no text uses the fact cap", FACTS),
]  # fmt: skip


@pytest.mark.parametrize("case", WARNED, ids=lambda case: case.name)
def test_what_an_author_should_look_at_is_a_warning(case: Break, tree: CourseTree) -> None:
    assert_warned(case, tree)


def test_figures_no_text_shows_are_named_once(tree: CourseTree) -> None:
    messages = [problem.message for problem in tree.compiled().problems]
    (message,) = [message for message in messages if "no text shows the figures" in message]
    assert "spot-grid" in message
    assert "orbit-trace" not in message
