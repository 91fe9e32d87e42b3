"""``academy content``: what an author sees at the shell."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from academy.cli import main
from tests.content.course_tree import CHOICE, LESSON, CourseTree


@pytest.fixture
def tree(tmp_path: Path) -> CourseTree:
    return CourseTree(tmp_path)


def academy(*words: object) -> Result:
    return CliRunner().invoke(main, ["content", *map(str, words)])


def test_a_sound_course_leaves_with_status_zero(tree: CourseTree) -> None:
    result = academy("check", tree.root)
    assert result.exit_code == 0
    assert "1 modules, 1 lessons, 9 questions: 0 errors" in result.stdout


def test_an_error_is_listed_as_file_line_sentence_and_leaves_with_one(tree: CourseTree) -> None:
    tree.change(CHOICE, "key: 2", "key: 9")
    result = academy("check", tree.root)
    assert result.exit_code == 1
    line = tree.line(CHOICE, "key: 9")
    assert f"{tree.root / CHOICE}:{line}: L08: the key names 9" in result.stdout


def test_warnings_are_called_so(tree: CourseTree) -> None:
    result = academy("check", tree.root)
    assert f"{tree.root / LESSON}:7: warning: the lesson has" in result.stdout


def test_json_has_the_counts_and_the_problems(tree: CourseTree) -> None:
    tree.change(CHOICE, "key: 2", "key: 9")
    result = academy("check", "--json", tree.root)
    assert result.exit_code == 1
    report = json.loads(result.stdout)
    assert list(report) == [
        "modules",
        "lessons",
        "objectives",
        "questions",
        "by_interaction",
        "by_level",
        "scenarios",
        "unfolding_scenarios",
        "computed_scenarios",
        "practical_tasks",
        "certificates",
        "glossary_terms",
        "figures",
        "problems",
    ]
    assert report["questions"] == 9
    (error,) = [problem for problem in report["problems"] if problem["severity"] == "error"]
    assert error["path"] == str(tree.root / CHOICE)
    assert error["line"] == tree.line(CHOICE, "key: 9")
    assert set(error) == {"path", "line", "severity", "message"}


def test_a_folder_that_is_not_there_is_refused(tmp_path: Path) -> None:
    assert academy("check", tmp_path / "nowhere").exit_code == 2


def test_coverage_shows_what_serves_each_objective(tree: CourseTree) -> None:
    result = academy("coverage", tree.root)
    assert result.exit_code == 0
    assert "1 Safety (safety)" in result.stdout
    after = result.stdout.split("cord (doing, must know)")[1]
    assert "safety/before-you-start" in after
    assert "4 (0 recall, 4 apply, 0 judge)" in after
    assert "polish-one-section" in after
    assert "plate-mark" in after


def test_a_fact_shows_every_place_that_leans_on_it(tree: CourseTree) -> None:
    result = academy("fact", "cap", tree.root)
    assert result.exit_code == 0
    assert "cap: 8\u00a0µm" in result.stdout
    assert f"{tree.root / LESSON}:{tree.line(LESSON, 'fact:cap')}" in result.stdout


def test_a_fact_nobody_wrote_is_refused(tree: CourseTree) -> None:
    result = academy("fact", "cop", tree.root)
    assert result.exit_code == 2
    assert "there is no fact cop" in result.stderr


def test_figures_lists_names_and_parameters() -> None:
    result = academy("figures")
    assert result.exit_code == 0
    assert "orbit-trace: " in result.stdout
    assert "    throw_mm: " in result.stdout
