"""What can be found in a course: headings with their text, terms and objectives."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from html import unescape

from academy.content.glossary_links import word_of
from academy.domain.curriculum.course import Course, Module
from academy.domain.curriculum.lessons import GlossaryTerm, Lesson

_FIGURE = re.compile(r"<figure\b.*?</figure>", re.DOTALL)
_TAG = re.compile(r"<[^>]*>")


class EntryKind(StrEnum):
    """What an entry is."""

    LESSON = "lesson"
    HEADING = "heading"
    TERM = "term"
    OBJECTIVE = "objective"


@dataclass(frozen=True, slots=True)
class Entry:
    """One thing to find; ``around`` is what it stands in: its lesson and module."""

    kind: EntryKind
    title: str
    text: str
    module_id: str = ""
    lesson_id: str = ""
    anchor: str = ""
    lesson_title: str = ""
    module_title: str = ""

    @property
    def around(self) -> str:
        """Return the titles of what it stands in."""
        return f"{self.lesson_title} {self.module_title}".strip()


def entries_of(course: Course) -> Iterator[Entry]:
    """Yield everything in a course that can be found."""
    for module in course.modules:
        for lesson in module.lessons:
            yield from _lesson_entries(lesson, module)
        for objective in module.objectives:
            yield Entry(
                EntryKind.OBJECTIVE,
                objective.text,
                "",
                module.id,
                anchor="objectives",
                module_title=module.title,
            )
    yield from map(_term_entry, course.glossary)


def _lesson_entries(lesson: Lesson, module: Module) -> Iterator[Entry]:
    """Yield the lesson with its opening, then each heading with what stands below it."""
    title, anchor = lesson.title, ""
    lines: list[str] = []
    waiting = list(lesson.headings)
    for line in lesson.text.splitlines():
        if waiting and line.strip() == waiting[0].text.strip():
            yield _lesson_entry(lesson, module, title, anchor, lines)
            heading = waiting.pop(0)
            title, anchor, lines = heading.text, heading.anchor, []
        else:
            lines.append(line)
    yield _lesson_entry(lesson, module, title, anchor, lines)


def _lesson_entry(
    lesson: Lesson, module: Module, title: str, anchor: str, lines: list[str]
) -> Entry:
    return Entry(
        EntryKind.HEADING if anchor else EntryKind.LESSON,
        title,
        " ".join(lines),
        module.id,
        lesson.id,
        anchor,
        lesson.title if anchor else "",
        module.title,
    )


def _term_entry(term: GlossaryTerm) -> Entry:
    words = unescape(_TAG.sub("", _FIGURE.sub("", term.definition_html)))
    return Entry(EntryKind.TERM, word_of(term.term), " ".join(words.split()), anchor=term.id)
