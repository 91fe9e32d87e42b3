"""Front matter and files: what does not hold is refused at its own line."""

from __future__ import annotations

import pytest

from tests.content.breaks import Break, assert_refused
from tests.content.course_tree import (
    CAUTIONS,
    CHOICE,
    COURSE,
    DRILL,
    FACTS,
    GLOSSARY,
    HOTSPOT,
    LESSON,
    MODULE,
    SCENARIO,
    SCHEME,
    TASK,
    CourseTree,
    errors_at,
)

MATTER = [
    Break("no front matter", CHOICE, "---\n", "", 1, "does not open with front matter"),
    Break("front matter never closed", DRILL, "10\n---\n", "10\n", 1, "not closed"),
    Break("a field twice", CHOICE, "key: 2", "key: 2\nkey: 3", "key: 3", "`key` is given twice"),
    Break("a field unknown", CHOICE, "key: 2", "key: 2\nhint: no", "hint", "`hint` is not known"),
    Break("a field missing", CHOICE, "rating: 75\n", "", 2, "`rating` is missing"),
    Break("a rating above 100", CHOICE, "rating: 75", "rating: 130", "rating: 130", "130"),
    Break("a rating that is text", CHOICE, "rating: 75", 'rating: "75"', "rating:", "whole number"),
    Break("a rating without a reason", CHOICE, "Seen on the first day.", '""', 8, "rating-reason"),
    Break("an unknown kind", CHOICE, "kind: choice", "kind: riddle", "kind: riddle", "riddle"),
    Break("an unknown level", CHOICE, "level: apply", "level: guess", "level: guess", "guess"),
    Break("no source", CHOICE, "source: common practice, no source\n", "", 2, "`source`"),
    Break("a colon too many", CHOICE, "Seen on", "Seen: on", "Seen: on", "quotes around"),
    Break("an alias", COURSE, "[safety]", "&m [safety]\nagain: *m", 3, "write the value out"),
    Break("a link without heading", CHOICE, "you-start#cord", "you-start", "teaches", "teaches"),
    Break(
        "no cautions field", MODULE, "cautions: [rotating-pad]\n", "", 2, "`cautions` is missing"
    ),
    Break(
        "no lesson cautions", LESSON, "cautions: [rotating-pad]\n", "", 2, "`cautions` is missing"
    ),
    Break("no task cautions", TASK, "cautions: [rotating-pad]\n", "", 2, "`cautions` is missing"),
    Break("objective kind", MODULE, "kind: doing", "kind: feeling", "kind: feeling", "feeling"),
    Break(
        "must-know as text", MODULE, "must-know: true", "must-know: 1", "must-know: 1", "true or"
    ),
    Break("blueprint level", MODULE, "{recall: 0, apply: 1", "{know: 0, apply: 1", 14, "know"),
    Break("a negative blueprint", MODULE, "apply: 1", "apply: -1", "apply: -1", "-1"),
    Break("lesson minutes", LESSON, "minutes: 8", "minutes: 0", "minutes: 0", "0"),
    Break("marks far out", SCENARIO, "marks: 50, removed", "marks: 500, removed", "500", "500"),
    Break("panel not a number", SCENARIO, "112", ".nan", "panel:", "thickness_um"),
    Break("region too wide", HOTSPOT, "width: 50", "width: 500", "width: 500", "500"),
    Break(
        "task without criteria",
        TASK,
        "  - id: within-limit\n",
        "  - idd: within-limit\n",
        14,
        "idd",
    ),
    Break("unknown substrate", TASK, "[steel]", "[wood]", "[wood]", "wood"),
    Break("zero practicals", SCHEME, "section: 3", "section: 0", "section: 0", "0"),
    Break("unknown supervision", SCHEME, "  alone:", "  far away:", "far away", "far away"),
    Break(
        "a level that asks nothing",
        SCHEME,
        "  alone: {practicals: {polish-one-section: 3}}",
        "  alone: {}",
        "  alone:",
        "asks nothing, so everybody would hold it",
    ),
    Break("nothing asked for not yet", SCHEME, "  alone:", "  not yet:", "not yet", "not yet"),
    Break(
        "fact without source", FACTS, "  source: common practice, no source\n", "", 1, "`source`"
    ),
    Break("fact confidence", FACTS, "confidence: medium", "confidence: fair", 7, "fair"),
    Break("fact range upside down", FACTS, "high: 4.5", "high: 2", "high: 2", "not above low"),
    Break("fact twice", FACTS, "cap:", "dial-cut:", 8, "given twice"),
    Break(
        "two cautions alike",
        CAUTIONS,
        "Tie hair",
        "Tie.\n\n## Pad {#rotating-pad}\n\nTie hair",
        5,
        "stands already",
    ),
    Break("caution without text", CAUTIONS, "Tie hair back.", "", 1, "has no text"),
    Break("text before a term", GLOSSARY, "## Haze", "Words.\n\n## Haze", 1, "before the first"),
    Break("anchor in capitals", GLOSSARY, "{#haze}", "{#Haze}", 1, "small letters"),
]


@pytest.mark.parametrize("case", MATTER, ids=lambda case: case.name)
def test_what_does_not_hold_is_refused_at_its_line(case: Break, tree: CourseTree) -> None:
    assert_refused(case, tree)


def test_every_fault_of_a_file_is_listed_at_once(tree: CourseTree) -> None:
    tree.change(CHOICE, "rating: 75", "rating: 130")
    tree.change(CHOICE, "level: apply", "level: guess")
    paths = [problem.path for problem in tree.compiled().errors]
    assert paths == [CHOICE, CHOICE]


@pytest.mark.parametrize(
    ("path", "said"),
    [
        ("modules/safety/notes.md", "nothing in the course reads"),
        ("modules/safety/lessons/pictures/a.md", "nothing in the course reads"),
        ("modules/safety/questions/Cord.md", "small letters"),
        ("tasks/photo.png", "only .md and .yaml"),
    ],
)
def test_a_stray_file_is_refused(path: str, said: str, tree: CourseTree) -> None:
    tree.write(path, "text\n")
    messages = errors_at(tree.compiled(), path, 1)
    assert any(said in message for message in messages)


def test_editor_leftovers_and_hidden_files_are_passed_over(tree: CourseTree) -> None:
    tree.write("tasks/.swap", "x")
    tree.write("tasks/polish.md~", "x")
    tree.write("README.md", "How to write.")
    assert tree.compiled().errors == ()


def test_a_file_that_is_not_text_is_refused_at_the_broken_line(tree: CourseTree) -> None:
    (tree.root / CHOICE).write_bytes(b"---\nkind: choice\n\xff\xfe\n---\n")
    assert errors_at(tree.compiled(), CHOICE, 3) == ["the file is not UTF-8 text"]


def test_two_lessons_cannot_share_an_id(tree: CourseTree) -> None:
    second = "modules/safety/lessons/02-before-you-start.md"
    tree.write(second, tree.text(LESSON))
    (message,) = errors_at(tree.compiled(), second, 1)
    assert message == f"the id before-you-start belongs to {LESSON}"


def test_a_question_id_is_unique_in_the_whole_course(tree: CourseTree) -> None:
    tree.change(COURSE, "[safety]", "[safety, second]")
    tree.write(
        "modules/second/module.md",
        tree.text(MODULE).replace("id: cord", "id: cord-b").replace("id: heat", "id: heat-b"),
    )
    twin = "modules/second/questions/cord-behind.md"
    tree.write(twin, tree.text(CHOICE))
    assert f"the id cord-behind belongs to {CHOICE}" in errors_at(tree.compiled(), twin, 1)


def test_a_module_folder_that_is_not_listed_is_refused(tree: CourseTree) -> None:
    tree.write("modules/second/module.md", tree.text(MODULE))
    messages = errors_at(tree.compiled(), COURSE, tree.line(COURSE, "modules:"))
    assert "the module second is not listed" in messages


def test_a_listed_module_without_a_folder_is_refused(tree: CourseTree) -> None:
    tree.change(COURSE, "[safety]", "[safety, second]")
    path = "modules/second/module.md"
    assert errors_at(tree.compiled(), path, 1) == ["the module second has no module.md"]


@pytest.mark.parametrize("path", [CHOICE, LESSON, MODULE, FACTS, COURSE, SCENARIO, CAUTIONS])
@pytest.mark.parametrize(
    "nonsense",
    [
        "",
        "\n",
        "---",
        "---\n---\n",
        "---\n- a\n---\n",
        "---\n[: {\n---\n",
        "\x00\x07",
        "---\n2024-01-01: x\n---\n",
        "---\n? [a, b]\n: c\n---\n",
        "a: &a [*a]\n",
        "---\nkey: !!python/object:os.system x\n---\n",
    ],
)
def test_nonsense_is_a_problem_and_never_a_crash(
    path: str, nonsense: str, tree: CourseTree
) -> None:
    tree.write(path, nonsense)
    compiled = tree.compiled()
    assert compiled.course is None or (path, nonsense.strip()) == (FACTS, "")
