"""Levels and what is missing, in words and marks."""

from __future__ import annotations

from collections.abc import Mapping

from academy.domain.certification import Missing, Standing, titles_for
from academy.domain.curriculum.kinds import Supervision
from academy.domain.curriculum.model import Course
from academy.web.formats import sentence_text
from academy.web.language import gettext as _


def level_word(level: Supervision) -> str:
    """Return a level as the board says it."""
    return {
        Supervision.NOT_YET: _("not yet"),
        Supervision.BESIDE: _("supervisor beside"),
        Supervision.ON_SITE: _("supervisor on site"),
        Supervision.ALONE: _("alone"),
    }[level]


def level_sign(level: Supervision) -> str:
    """Return the mark of a level."""
    return {
        Supervision.NOT_YET: "other",
        Supervision.BESIDE: "chosen",
        Supervision.ON_SITE: "held",
        Supervision.ALONE: "valid",
    }[level]


def says(standing: Standing, course: Course) -> tuple[str, ...]:
    """Return until when a level holds and what the next one asks."""
    lines = []
    if standing.valid_until is not None:
        lines.append(_("until %(day)s", day=standing.valid_until.isoformat()))
    lines += missing_lines(standing.missing, course)
    return tuple(lines)


def missing_lines(missing: tuple[Missing, ...], course: Course) -> list[str]:
    """Return what is missing with titles in the place of ids."""
    modules: Mapping[str, str] = {module.id: module.title for module in course.modules}
    tasks: Mapping[str, str] = {task.id: task.title for task in course.tasks}
    return [sentence_text(titles_for(item, modules, tasks)) for item in missing]
