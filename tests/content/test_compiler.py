"""What the compiler makes of a sound course."""

from __future__ import annotations

from academy.domain.curriculum.kinds import Harm, Interaction, Supervision
from academy.domain.curriculum.schemes import DecisionRule, RecertificationRule
from academy.domain.people.roles import Role
from tests.content.course_tree import CHOICE, CourseTree


def test_a_sound_course_has_no_errors(tree: CourseTree) -> None:
    compiled = tree.compiled()
    assert [str(problem) for problem in compiled.errors] == []
    assert compiled.course is not None


def test_the_counts_tell_how_much_there_is(tree: CourseTree) -> None:
    counts = tree.compiled().counts
    assert (counts.modules, counts.lessons, counts.objectives, counts.questions) == (1, 1, 2, 9)
    assert (counts.scenarios, counts.unfolding_scenarios, counts.computed_scenarios) == (1, 1, 1)
    assert (counts.practical_tasks, counts.certificates, counts.glossary_terms) == (1, 1, 1)
    assert counts.figures == 2
    assert counts.by_interaction[Interaction.CHOICE] == 3
    assert counts.by_level == {"recall": 0, "apply": 4, "judge": 5}


def test_a_question_keeps_its_options_reasons_and_key(tree: CourseTree) -> None:
    course = tree.compiled().draft
    question = course.question("cord-behind")
    assert question is not None
    assert question.key == (2,)
    assert [option.text_html for option in question.options] == [
        "On the floor, between you and the car.",
        "Over your shoulder, behind you.",
        "Round your wrist, held fast.",
    ]
    assert question.options[0].reason_html == "<p>You step on it.</p>\n"
    assert str(question.teaches) == "safety/before-you-start#cord"


def test_every_kind_of_question_is_read(tree: CourseTree) -> None:
    course = tree.compiled().draft
    multiple, order, match, numeric, hotspot, scenario = (
        course.question(name)
        for name in (
            "two-checks",
            "order-of-start",
            "match-marks",
            "share-of-mix",
            "point-at-clear",
            "warm-bonnet",
        )
    )
    assert multiple is not None
    assert multiple.key == (1, 3)
    assert order is not None
    assert order.key == (3, 1, 2)
    assert match is not None
    assert dict(match.key_pairs) == {1: 2, 2: 1}
    assert len(match.partners) == 3
    assert numeric is not None
    assert (numeric.key_value, numeric.unit, numeric.tolerance) == (9.09, "percent", 0.05)
    assert "9.09" in numeric.explanation_html
    assert hotspot is not None
    assert "<svg" in hotspot.figure_html
    assert "<svg" not in hotspot.stem_html
    assert [region.label for region in hotspot.regions] == ["top layer", "lower layer"]
    assert scenario is not None
    assert [decision.id for decision in scenario.decisions] == ["first-pass", "warm-panel"]
    assert scenario.decisions[0].effects[2].warms_k == 35


def test_a_task_and_a_scheme_are_read(tree: CourseTree) -> None:
    course = tree.compiled().draft
    task = course.task("polish-one-section")
    assert task is not None
    assert task.limit_um == 3
    assert task.criteria[0].measured
    assert "Stand at the left" in task.trainer_sheet_html
    assert "Stand at the left" not in task.body_html
    scheme = course.scheme("polishing")
    assert scheme is not None
    assert [asked.level for asked in scheme.requirements] == [
        Supervision.BESIDE,
        Supervision.ALONE,
    ]
    assert dict(scheme.requirements[1].practicals) == {"polish-one-section": 3}
    assert scheme.decision == DecisionRule(Supervision.ALONE, (Role.OWNER,))
    assert scheme.recertification == RecertificationRule({"polish-one-section": 1}, 3)
    assert (scheme.return_check_months, scheme.suspended_by) == (6, (Harm.BURN_THROUGH,))


def test_a_lesson_knows_its_headings_facts_and_figures(tree: CourseTree) -> None:
    lesson = tree.compiled().draft.lesson("safety", "before-you-start")
    assert lesson is not None
    assert [heading.anchor for heading in lesson.headings] == [
        "cord",
        "what-good-looks-like",
        "what-goes-wrong-and-why",
    ]
    assert lesson.facts == ("dial-cut", "cap")
    assert lesson.figures == ("orbit-trace",)
    assert 'id="cord"' in lesson.body_html
    assert "{#cord}" not in lesson.body_html


def test_the_digest_changes_with_any_source(tree: CourseTree) -> None:
    before = tree.compiled().draft.digest
    assert tree.compiled().draft.digest == before
    tree.change(CHOICE, "rating: 75", "rating: 76")
    assert tree.compiled().draft.digest != before


def test_windows_line_ends_and_a_byte_order_mark_read_the_same(tree: CourseTree) -> None:
    text = tree.text(CHOICE)
    file = tree.root / CHOICE
    file.write_bytes(b"\xef\xbb\xbf" + text.replace("\n", "\r\n").encode())
    compiled = tree.compiled()
    assert compiled.errors == ()


def test_a_missing_folder_is_a_problem_and_not_a_crash(tree: CourseTree) -> None:
    from academy.content import compile_course

    compiled = compile_course(tree.root / "nowhere")
    assert compiled.course is None
    assert [str(problem) for problem in compiled.errors] == [
        "course.md:1: the course has no course.md"
    ]


def test_progress_counts_the_modules(tree: CourseTree) -> None:
    from academy.content import compile_course

    seen: list[tuple[int, int]] = []
    compile_course(tree.root, progress=lambda done, of: seen.append((done, of)))
    assert seen == [(1, 1)]
