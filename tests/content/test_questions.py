"""Questions: keys, marks, reasons, kinds and scenarios are refused where they do not fit."""

from __future__ import annotations

import pytest

from tests.content.breaks import Break, assert_refused, assert_warned
from tests.content.course_tree import (
    CHOICE,
    HOTSPOT,
    MATCH,
    MODULE,
    MULTIPLE,
    NUMERIC,
    ORDER,
    SCENARIO,
    CourseTree,
    errors_at,
)

REASON = "\n\n   You step on it."
TWO_KEYS = "key: [1, 3]"

REFUSED = [
    Break("key beyond the options", CHOICE, "key: 2", "key: 7", "key: 7", "L08: the key names 7"),
    Break("key of nothing", CHOICE, "key: 2", "key: 0", "key: 0", "`key` is 0"),
    Break("two keys in a choice", CHOICE, "key: 2", "key: [1, 2]", "key:", "a whole number is expected"),
    Break("a reason missing", CHOICE, REASON, "", "1. On the floor", "L17: option 1 has no reason"),
    Break("a reason not set off", CHOICE, "\n\n   You step", "\n   You step", "1. On the floor", "L17: option 1 has no reason"),
    Break("a reason not indented", CHOICE, "   You step on it.", "You step on it.", "You step", "stands after the options"),
    Break("a number skipped", CHOICE, "3. Round", "4. Round", "4. Round", "numbered 4 and stands at place 3"),
    Break("no stem", CHOICE, "You are about to polish a bonnet with a corded machine. Where does the cord go?\n", "", 11, "no stem"),
    Break("no options", CHOICE, "1. On the floor, between you and the car.\n\n   You step on it.\n\n2. Over your shoulder, behind you.\n\n   It follows you.\n\n3. Round your wrist, held fast.\n\n   It pulls your hand into the pad.", "", 11, "no numbered list"),
    Break("two options", CHOICE, "3. Round your wrist, held fast.\n\n   It pulls your hand into the pad.\n", "", 11, "L16: there are 2 options"),
    Break("a heading astray", CHOICE, "3. Round", "## More\n\n3. Round", "## More", "'More' has no meaning here"),
    Break("marks for nobody", CHOICE, "key: 2", "key: 2\nmarks: {2: 100, 9: 10}", "marks:", "given for 9"),
    Break("key without full marks", CHOICE, "key: 2", "key: 2\nmarks: {2: 90}", "marks:", "the key earns 90"),
    Break("full marks for a wrong one", CHOICE, "key: 2", "key: 2\nmarks: {1: 100}", "marks:", "option 1 earns full marks"),
    Break("marks beyond bounds", CHOICE, "key: 2", "key: 2\nmarks: {1: 130}", "marks:", "130"),
    Break("every option right", MULTIPLE, TWO_KEYS, "key: [1, 2, 3]", "key:", "L08: the key names every one"),
    Break("no option right", MULTIPLE, TWO_KEYS, "key: []", "key:", "empty"),
    Break("the same key twice", MULTIPLE, TWO_KEYS, "key: [1, 1]", "key:", "the same number twice"),
    Break("marks that do not add up", MULTIPLE, TWO_KEYS, "key: [1, 3]\nmarks: {1: 50, 3: 40}", "marks:", "add up to 90"),
    Break("a wrong option that earns", MULTIPLE, TWO_KEYS, "key: [1, 3]\nmarks: {1: 50, 3: 50, 2: 5}", "marks:", "2 is wrong and earns 5"),
    Break("an order without an item", ORDER, "[3, 1, 2]", "[3, 1, 1]", "key:", "name each item once"),
    Break("an order too short", ORDER, "[3, 1, 2]", "[1, 2]", "key:", "too short"),
    Break("an order that is not shuffled", ORDER, "key: [3", "shuffle: false\nkey: [3", "shuffle", "shuffle"),
    Break("a match without partners", MATCH, "## Partners", "## Partnerss", "## Partnerss", "no meaning here"),
    Break("an option without partner", MATCH, "{1: 2, 2: 1}", "{1: 2}", "key:", "pair each option once"),
    Break("a partner not there", MATCH, "{1: 2, 2: 1}", "{1: 2, 2: 9}", "key:", "pairs 2 with 9"),
    Break("a partner for two", MATCH, "{1: 2, 2: 1}", "{1: 2, 2: 2}", "key:", "same partner"),
    Break("a number that is text", NUMERIC, "key: 9.09", "key: nine", "key:", "a number is expected"),
    Break("a tolerance below nothing", NUMERIC, "0.05", "-0.05", "tolerance", "-0.05"),
    Break("a numeric entry without why", NUMERIC, "## Why", "Why", 13, "L17: a numeric entry ends with"),
    Break("a wrong value within tolerance", NUMERIC, "1. 10", "1. 9.1", "1. 9.1", "listed as wrong and within"),
    Break("a region beyond the figure", HOTSPOT, "left: 0, top: 50, width: 50", "left: 60, top: 50, width: 50", "left: 60", "beyond the figure"),
    Break("a region on another", HOTSPOT, "top: 50", "top: 40", "top: 40", "regions 1 and 2 overlap"),
    Break("a region without reason", HOTSPOT, "\n\n2. You never reach it.", "", "  2: {", "L17: region 2 has no reason"),
    Break("a hotspot without figure", HOTSPOT, "```figure paint-layers\n```\n", "", 14, "exactly one figure"),
    Break("a key that is no region", HOTSPOT, "key: 1", "key: 3", "key: 3", "L08: the key names 3"),
    Break("follows a stranger", SCENARIO, "follows: warm-panel", "follows: hot-panel", "hot-panel", "hot-panel, which is not a decision"),
    Break("a circle", SCENARIO, "2: {marks: 50}", "2: {marks: 50, follows: first-pass}", "## first-pass", "in a circle"),
    Break("a decision nobody reaches", SCENARIO, "follows: warm-panel}\n      2: {marks: 0, removed_um: 2, warms_k: 35, takes_minutes: 4, follows: warm-panel}", "}\n      2: {marks: 0}", "## warm-panel", "no path reaches"),
    Break("marks short of a hundred", SCENARIO, "2: {marks: 50}", "2: {marks: 40}", "decisions:", "add up to 90"),
    Break("marks above a hundred", SCENARIO, "1: {marks: 0, warms_k: 10}", "1: {marks: 60, warms_k: 10}", "decisions:", "earns 110"),
    Break("a decision without heading", SCENARIO, "## warm-panel", "## cold-panel", "  warm-panel:", "has no heading"),
    Break("a heading without decision", SCENARIO, "## warm-panel", "## cold-panel", "## cold-panel", "not in the front matter"),
    Break("a decision twice", SCENARIO, "## warm-panel", "## first-pass", 42, "stands twice"),
    Break("a decision's key", SCENARIO, "key: 2\n", "key: 5\n", "key: 5", "L08: the key of warm-panel"),
    Break("an option without effect", SCENARIO, "      3: {marks: 0}\n", "", 19, "options 1, 2, 3 and effects for 1, 2"),
    Break("a decision's reason", SCENARIO, "\n\n   It takes too much.", "", "2. A wool", "L17: option 2"),
    Break("a decision that asks nothing", SCENARIO, "What do you start with?\n\n", "", "  first-pass:", "asks nothing"),
    Break("a number the panel hides", SCENARIO, "thickness_um: 112, ", "", 14, "changes thickness_um"),
    Break("a decision's wording", SCENARIO, "3. Pour water on it.", "3. All of the above", "## warm-panel", "L01"),
    Break("worn through", SCENARIO, "removed_um: 2,", "removed_um: 200,", "panel:", "more than the panel has"),
    Break("a blueprint no form can fill", MODULE, "judge: 1", "judge: 9", "judge: 9", "a form carries 9 of heat at judge"),
    Break("a must-know off the form", MODULE, "apply: 1", "apply: 0", "  cord: {", "not on every form"),
    Break("an objective nobody asks", MODULE, "blueprint:", "  - {id: dust, text: x, kind: knowing, must-know: false}\nblueprint:", "id: dust", "no question asks the objective dust"),
    Break("an objective nobody teaches", MODULE, "blueprint:", "  - {id: dust, text: x, kind: knowing, must-know: false}\nblueprint:", "id: dust", "no lesson teaches the objective dust"),
    Break("the longest option is the key", CHOICE, "2. Over your shoulder, behind you.", "2. Over your shoulder and behind you, so that it follows you along the car.", 11, "L03: the key"),
    Break("an unknown lint rule", CHOICE, "key: 2", "key: 2\naccepted: {X1: because}", "accepted", "accepted"),
]  # fmt: skip


@pytest.mark.parametrize("case", REFUSED, ids=lambda case: case.name)
def test_what_does_not_fit_is_refused_at_its_line(case: Break, tree: CourseTree) -> None:
    assert_refused(case, tree)


WARNED = [
    Break("working that misses the key", NUMERIC, "[9.09](example)", "[9.5](example)", "## Why", "does not come to the key, 9.09"),
    Break("a vague option", CHOICE, "1. On the floor", "1. Often on the floor", 11, "L19"),
]  # fmt: skip


@pytest.mark.parametrize("case", WARNED, ids=lambda case: case.name)
def test_what_an_author_should_look_at_is_a_warning(case: Break, tree: CourseTree) -> None:
    assert_warned(case, tree)


def test_three_questions_of_a_must_know_are_pointed_out(tree: CourseTree) -> None:
    tree.remove("modules/safety/questions/cord-again-3.md")
    messages = [str(problem) for problem in tree.compiled().problems]
    assert (
        f"{MODULE}:{tree.line(MODULE, 'id: cord')}: "
        "the objective cord has 3 questions; 4 keep the forms varied" in messages
    )


def test_a_warning_is_set_aside_with_a_reason(tree: CourseTree) -> None:
    tree.change(CHOICE, "1. On the floor", "1. Often on the floor")
    tree.change(CHOICE, "key: 2", "key: 2\naccepted: {L19: the word is the mistake}")
    assert not any(problem.message.startswith("L19") for problem in tree.compiled().problems)


def test_a_broken_question_does_not_make_its_module_seem_unasked(tree: CourseTree) -> None:
    tree.change(CHOICE, "level: apply", "level: guess")
    (problem,) = tree.compiled().errors
    assert problem.path == CHOICE


def test_partial_marks_are_kept(tree: CourseTree) -> None:
    tree.change(CHOICE, "key: 2", "key: 2\nmarks: {2: 100, 1: 30}")
    question = tree.compiled().draft.question("cord-behind")
    assert question is not None
    assert dict(question.marks) == {2: 100, 1: 30}


def test_a_scenario_may_end_with_its_why(tree: CourseTree) -> None:
    tree.write(SCENARIO, tree.text(SCENARIO) + "\n## Why\n\nHeat adds up.\n")
    compiled = tree.compiled()
    assert compiled.errors == ()
    question = compiled.draft.question("warm-bonnet")
    assert question is not None
    assert question.explanation_html == "<p>Heat adds up.</p>\n"


def test_a_scenario_opens_with_its_situation(tree: CourseTree) -> None:
    tree.change(SCENARIO, "A black bonnet with swirl marks stands in the bay.\n", "")
    line = tree.text(SCENARIO).split("\n").index("---", 1) + 2
    assert "the scenario does not open with its situation" in errors_at(
        tree.compiled(), SCENARIO, line
    )
