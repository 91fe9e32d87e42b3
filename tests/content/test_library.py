"""The site serves the last good course, whatever an author does meanwhile."""

from __future__ import annotations

import os
import threading
from dataclasses import dataclass
from pathlib import Path

import pytest

from academy.content.library import CourseLibrary
from academy.domain.curriculum.findings import Severity
from tests.content.course_tree import CHOICE, COURSE, CourseTree


@dataclass
class Clock:
    seconds: float = 0.0

    def __call__(self) -> float:
        return self.seconds


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def library(tree: CourseTree, clock: Clock) -> CourseLibrary:
    return CourseLibrary(tree.root, clock=clock)


def test_a_sound_course_is_served(library: CourseLibrary) -> None:
    assert library.course.title == "A small course"
    assert {problem.severity for problem in library.problems} == {Severity.WARNING}


def test_the_last_good_course_keeps_serving(
    library: CourseLibrary, tree: CourseTree, clock: Clock
) -> None:
    before = library.course
    tree.change(CHOICE, "key: 2", "key: 9")
    clock.seconds += 2
    assert library.course is before
    assert any("L08" in problem.message for problem in library.problems)
    tree.change(CHOICE, "key: 9", "key: 1")
    clock.seconds += 2
    question = library.course.question("cord-behind")
    assert question is not None
    assert question.key == (1,)


def test_the_folder_is_looked_at_once_a_second_at_most(
    library: CourseLibrary, tree: CourseTree, clock: Clock
) -> None:
    assert library.course.title == "A small course"
    tree.change(COURSE, "A small course", "Another course")
    clock.seconds += 0.9
    assert library.course.title == "A small course"
    clock.seconds += 0.2
    assert library.course.title == "Another course"


def test_a_touched_file_with_the_same_content_is_not_compiled_again(
    library: CourseLibrary, tree: CourseTree, clock: Clock
) -> None:
    before = library.compiled
    os.utime(tree.root / CHOICE, (1, 1))
    clock.seconds += 2
    assert library.compiled is before


def test_a_course_that_was_never_good_is_empty_and_says_why(tree: CourseTree) -> None:
    tree.change(CHOICE, "key: 2", "key: 9")
    library = CourseLibrary(tree.root)
    assert library.course.modules == ()
    assert library.course.digest == ""
    assert library.problems != ()


def test_an_absent_folder_never_raises(tree: CourseTree) -> None:
    library = CourseLibrary(tree.root / "nowhere")
    assert library.course.digest == ""
    assert [problem.message for problem in library.problems] == ["the course has no course.md"]


def test_many_threads_get_the_same_course(library: CourseLibrary) -> None:
    seen: list[str] = []
    threads = [
        threading.Thread(target=lambda: seen.append(library.course.digest)) for _ in range(8)
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(seen) == 8
    assert len(set(seen)) == 1
    assert seen[0] != ""


def test_a_fault_of_the_program_itself_keeps_the_last_course(
    library: CourseLibrary, clock: Clock, tree: CourseTree, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = library.course
    tree.change(COURSE, "A small course", "Another course")

    def broken(*args: object, **kwargs: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr("academy.content.library.compile_course", broken)
    clock.seconds += 2
    assert library.course is before
    (problem,) = library.problems
    assert "could not be compiled" in problem.message


def test_the_last_good_course_outlives_a_restart(tree: CourseTree, tmp_path: Path) -> None:
    """A site started on a broken source serves what was good before, and lists what is wrong."""
    kept_at = tmp_path / "kept" / "course.json"
    good = CourseLibrary(tree.root, kept_at=kept_at).course
    tree.write("course.md", "no front matter")
    restarted = CourseLibrary(tree.root, kept_at=kept_at)
    assert restarted.course.title == good.title
    assert [module.id for module in restarted.course.modules] == [m.id for m in good.modules]
    assert restarted.problems


def test_a_broken_keepsake_serves_nothing_and_fails_nothing(
    tree: CourseTree, tmp_path: Path
) -> None:
    kept_at = tmp_path / "course.json"
    kept_at.write_text("{", encoding="utf-8")
    tree.write("course.md", "no front matter")
    assert CourseLibrary(tree.root, kept_at=kept_at).course.modules == ()
