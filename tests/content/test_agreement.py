"""Names that no part of the course answers to are refused."""

from __future__ import annotations

import pytest

from tests.content.breaks import Break, assert_refused, assert_warned
from tests.content.course_tree import (
    CHOICE,
    COURSE,
    DRILL,
    LESSON,
    MODULE,
    SCHEME,
    TASK,
    CourseTree,
)

REFUSED = [
    Break(
        "caution of a module",
        MODULE,
        "[rotating-pad]",
        "[dust]",
        "[dust]",
        "no caution called dust",
    ),
    Break(
        "caution of a lesson",
        LESSON,
        "[rotating-pad]",
        "[dust]",
        "[dust]",
        "no caution called dust",
    ),
    Break(
        "caution of a task", TASK, "[rotating-pad]", "[dust]", "[dust]", "no caution called dust"
    ),
    Break(
        "caution of a drill", DRILL, "[rotating-pad]", "[dust]", "[dust]", "no caution called dust"
    ),
    Break(
        "a hazard the module hides",
        MODULE,
        "cautions: [rotating-pad]",
        "cautions: []",
        "cautions:",
        "does not open with it",
        LESSON,
    ),
    Break(
        "objective of a lesson",
        LESSON,
        "[cord, heat]",
        "[cord, heat, dust]",
        3,
        "no objective called dust",
    ),
    Break(
        "objective of a question",
        CHOICE,
        "objective: cord",
        "objective: dust",
        "objective:",
        "dust is not one",
    ),
    Break("objective of a task", TASK, "[cord]", "[dust]", "[dust]", "no objective called dust"),
    Break("objective of a drill", DRILL, "[cord]", "[dust]", "[dust]", "no objective called dust"),
    Break("objective twice", MODULE, "id: heat", "id: cord", 9, "stands already at"),
    Break(
        "blueprint row", MODULE, "  heat: {", "  dust: {", "dust:", "no objective of this module"
    ),
    Break(
        "a lesson that is not there",
        CHOICE,
        "safety/before",
        "safety/after",
        "teaches",
        "no lesson safety/after",
    ),
    Break("a heading that is not there", CHOICE, "#cord", "#cable", "teaches", "no heading #cable"),
    Break(
        "apart from nobody",
        CHOICE,
        "key: 2",
        "key: 2\napart-from: [nobody]",
        "nobody",
        "no question called nobody",
    ),
    Break(
        "apart from itself",
        CHOICE,
        "key: 2",
        "key: 2\napart-from: [cord-behind]",
        "apart-from",
        "apart from itself",
    ),
    Break(
        "kind of work of a task",
        TASK,
        "kind-of-work: polishing",
        "kind-of-work: sanding",
        3,
        "does not list",
    ),
    Break(
        "kind of work of a scheme",
        SCHEME,
        "kind-of-work: polishing",
        "kind-of-work: sanding",
        3,
        "does not list",
    ),
    Break(
        "module of a scheme",
        SCHEME,
        "[safety]",
        "[sanding]",
        "[sanding]",
        "no module called sanding",
    ),
    Break(
        "task of a scheme",
        SCHEME,
        "polish-one-section: 3",
        "sand-one: 3",
        "sand-one",
        "no practical task",
    ),
    Break(
        "a trainee decides",
        SCHEME,
        "by: [owner]",
        "by: [owner, trainee]",
        "decision:",
        "a trainee decides on nobody",
    ),
    Break(
        "a decision on no level",
        SCHEME,
        "from: alone",
        "from: supervisor on site",
        "decision:",
        "is no level of this scheme",
    ),
    Break(
        "another task again",
        SCHEME,
        "recertification: {practicals: {polish-one-section: 1}",
        "recertification: {practicals: {sand-one: 1}",
        "recertification:",
        "recertification asks for sand-one",
    ),
    Break(
        "a window as long as the term",
        SCHEME,
        "window-months: 3",
        "window-months: 12",
        "recertification:",
        "as long as the whole term",
    ),
    Break(
        "module listed twice", COURSE, "[safety]", "[safety, safety]", "modules:", "listed twice"
    ),
    Break(
        "limit without measuring",
        TASK,
        "measured: true",
        "measured: false",
        "criteria:",
        "no criterion is measured",
    ),
    Break("measuring without limit", TASK, "limit-um: 3\n", "", "criteria:", "no limit-um"),
]

WARNED = [
    Break(
        "teaches elsewhere",
        LESSON,
        "[cord, heat]",
        "[cord]",
        5,
        "does not say that it teaches heat",
        "modules/safety/questions/order-of-start.md",
    ),
    Break(
        "work without scheme",
        COURSE,
        "  polishing: P",
        "  sanding: Sanding\n  polishing: P",
        "sanding",
        "no scheme leads to sanding",
    ),
]


@pytest.mark.parametrize("case", REFUSED, ids=lambda case: case.name)
def test_a_name_nobody_answers_to_is_refused(case: Break, tree: CourseTree) -> None:
    assert_refused(case, tree)


def test_a_question_of_another_lesson_s_objective_is_pointed_out(tree: CourseTree) -> None:
    second = "modules/safety/lessons/02-heat.md"
    text = tree.text(LESSON).replace("[cord, heat]", "[heat]").replace("before-you-start#", "heat#")
    tree.write(second, text)
    assert_warned(WARNED[0], tree)


def test_a_kind_of_work_without_a_scheme_is_pointed_out(tree: CourseTree) -> None:
    assert_warned(WARNED[1], tree)


def test_two_schemes_cannot_lead_to_the_same_work(tree: CourseTree) -> None:
    tree.write("schemes/second.md", tree.text(SCHEME))
    messages = [problem.message for problem in tree.compiled().errors]
    assert messages == ["two schemes lead to polishing"]
