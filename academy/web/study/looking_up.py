"""Looking things up: the glossary, and searching the course."""

from __future__ import annotations

from itertools import groupby

from flask import request, url_for
from flask.typing import ResponseReturnValue

from academy.content.search import Found, find_in_course
from academy.content.search_entries import Entry, EntryKind
from academy.domain.curriculum.course import Course
from academy.domain.curriculum.lessons import GlossaryTerm
from academy.domain.people import Permission
from academy.web.context import academy, course
from academy.web.identity import requires
from academy.web.language import gettext as _
from academy.web.pages import render
from academy.web.study.blueprint import bp
from academy.web.study.pages import FoundLine, GlossaryPage, Letter, SearchPage

LONGEST_SHOWN = 200


@bp.get("/glossary")
@requires(Permission.STUDY)
def glossary() -> ResponseReturnValue:
    """Show every term with its meaning."""
    return render(glossary_page(course()))


@bp.get("/search")
@requires(Permission.STUDY)
def search() -> ResponseReturnValue:
    """Show what fits the words in the address best."""
    return render(search_page(course(), request.args.get("q", "")))


def glossary_page(course: Course) -> GlossaryPage:
    """Return the glossary by first letter."""
    return GlossaryPage(
        letters=tuple(
            Letter(letter, tuple(terms)) for letter, terms in groupby(course.glossary, _letter)
        )
    )


def search_page(course: Course, typed: str) -> SearchPage:
    """Return the results for what was typed."""
    found = find_in_course(academy().settings.instance / "search", course, typed)
    return SearchPage(
        typed=" ".join(typed[:LONGEST_SHOWN].split()), results=tuple(map(_line, found))
    )


def _letter(term: GlossaryTerm) -> str:
    return term.term[:1].upper()


def _line(found: Found) -> FoundLine:
    return FoundLine(found.entry.title, _url(found.entry), _where(found.entry), found.snippet)


def _url(entry: Entry) -> str:
    anchor = entry.anchor or None
    if entry.kind is EntryKind.TERM:
        return url_for("study.glossary", _anchor=anchor)
    if entry.kind is EntryKind.OBJECTIVE:
        return url_for("study.module", module_id=entry.module_id, _anchor=anchor)
    return url_for(
        "study.lesson", module_id=entry.module_id, lesson_id=entry.lesson_id, _anchor=anchor
    )


def _where(entry: Entry) -> str:
    match entry.kind:
        case EntryKind.TERM:
            return _("In the glossary")
        case EntryKind.OBJECTIVE:
            return _("Objective of %(module)s", module=entry.module_title)
        case EntryKind.LESSON:
            return _("Lesson of %(module)s", module=entry.module_title)
        case EntryKind.HEADING:
            return _("%(module)s, %(lesson)s", module=entry.module_title, lesson=entry.lesson_title)
