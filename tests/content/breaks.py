"""One way of breaking a sound course, and the line it must be refused at."""

from __future__ import annotations

from dataclasses import dataclass

from tests.content.course_tree import CourseTree, errors_at, warnings_at


@dataclass(frozen=True)
class Break:
    """``old`` becomes ``new`` in one file; ``said`` must stand in what is said at ``at``.

    ``at`` is a line number, or words of the line in the broken file; ``where``
    is the file of the complaint when it is another one.
    """

    name: str
    path: str
    old: str
    new: str
    at: str | int
    said: str
    where: str = ""

    def apply(self, tree: CourseTree) -> tuple[str, int]:
        tree.change(self.path, self.old, self.new)
        where = self.where or self.path
        return where, self.at if isinstance(self.at, int) else tree.line(where, self.at)


def assert_refused(case: Break, tree: CourseTree) -> None:
    where, line = case.apply(tree)
    compiled = tree.compiled()
    messages = errors_at(compiled, where, line)
    everything = "\n".join(map(str, compiled.problems))
    assert any(case.said in message for message in messages), everything
    assert compiled.course is None


def assert_warned(case: Break, tree: CourseTree) -> None:
    where, line = case.apply(tree)
    compiled = tree.compiled()
    messages = warnings_at(compiled, where, line)
    everything = "\n".join(map(str, compiled.problems))
    assert any(case.said in message for message in messages), everything
    assert compiled.course is not None, everything
