"""Whatever an author types, the compiler lists problems and never falls over."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.content.course_tree import FILES, CourseTree

TYPED = [
    "---", "key: [", "```figure orbit-trace", "```check", "## Why", "## Partners", "1. x", "   y", "[](fact:cap)",
    "[1](calc:x)", "[a](calc:machine-speed?kind=1#)", "| a |\n|--|", "> q", "    code", "<b>", "key: {1: 2}", "\t",
    "marks: {1: 1}", "{#a}", "![x](y)", "[x]: /url", "decisions: {}", "effects: {}", "panel: 3", "0. zero", "&a", "*a",
    "[](term:)", "[](lesson:)", "[](#)", "[](<>)", "key: 1e999", "key: .inf", "\u2028", "%(x)s", "%", "3 mm",
]  # fmt: skip

EDITS = st.lists(
    st.tuples(st.integers(0, 60), st.sampled_from(["cut", "type", "swap"]), st.sampled_from(TYPED)),
    min_size=1,
    max_size=5,
)


def edited(text: str, edits: list[tuple[int, str, str]]) -> str:
    lines = text.split("\n")
    for position, edit, typed in edits:
        at = position % len(lines)
        if edit == "cut" and len(lines) > 1:
            del lines[at]
        elif edit == "swap":
            lines[at], lines[0] = lines[0], lines[at]
        else:
            lines.insert(at, typed)
    return "\n".join(lines)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(path=st.sampled_from(sorted(FILES)), edits=EDITS)
def test_careless_edits_never_stop_the_compiler(
    path: str, edits: list[tuple[int, str, str]]
) -> None:
    with TemporaryDirectory() as folder:
        tree = CourseTree(Path(folder))
        tree.write(path, edited(FILES[path], edits))
        compiled = tree.compiled()
        assert all(problem.line >= 1 and problem.message for problem in compiled.problems)
        assert (compiled.course is None) == bool(compiled.errors)
