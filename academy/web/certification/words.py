"""Levels and what is missing, in words and marks."""

from __future__ import annotations

from collections.abc import Mapping

from academy.domain.certification import Missing, ModuleMissing, Standing, titles_for
from academy.domain.curriculum.course import Course
from academy.domain.curriculum.kinds import Supervision
from academy.web.formats import sentence_text
from academy.web.language import day_text, ngettext
from academy.web.language import gettext as _

LINES_IN_A_CELL = 2


def level_word(level: Supervision) -> str:
    """Return a level as the board says it."""
    return {
        Supervision.NOT_YET: _("not yet"),
        Supervision.BESIDE: _("supervisor beside"),
        Supervision.ON_SITE: _("supervisor on site"),
        Supervision.ALONE: _("alone"),
    }[level]


def level_sign(level: Supervision) -> str:
    """Return the mark of a level: as many bars filled as there are steps reached."""
    return f"level-{level.rank}"


def says(standing: Standing, course: Course) -> tuple[str, ...]:
    """Return until when a level holds and in short what the next one asks, for the board."""
    missing = _quizzes_in_short(standing.missing, course)
    left = len(missing) - LINES_IN_A_CELL
    if left > 0:
        more = ngettext("and one thing more", "and %(num)s things more", left)
        missing = [*missing[:LINES_IN_A_CELL], more]
    return (*_until(standing), *missing)


def until_and_missing(standing: Standing, course: Course) -> tuple[str, ...]:
    """Return until when a level holds and everything the next one asks."""
    return (*_until(standing), *missing_lines(standing.missing, course))


def _until(standing: Standing) -> tuple[str, ...]:
    if standing.valid_until is None:
        return ()
    return (_("until %(day)s", day=day_text(standing.valid_until)),)


def _quizzes_in_short(missing: tuple[Missing, ...], course: Course) -> list[str]:
    """Return what is missing; several quizzes become one line that names the next."""
    quizzes = [item for item in missing if isinstance(item, ModuleMissing)]
    if len(quizzes) < 2:
        return missing_lines(missing, course)
    titles = {module.id: module.title for module in course.modules}
    first = titles.get(quizzes[0].module_id, quizzes[0].module_id)
    short = _("%(count)d quizzes to pass, next '%(module)s'", count=len(quizzes), module=first)
    return [short, *missing_lines(tuple(m for m in missing if m not in quizzes), course)]


def missing_lines(missing: tuple[Missing, ...], course: Course) -> list[str]:
    """Return what is missing with titles in the place of ids."""
    modules: Mapping[str, str] = {module.id: module.title for module in course.modules}
    tasks: Mapping[str, str] = {task.id: task.title for task in course.tasks}
    schemes: Mapping[str, str] = {scheme.id: scheme.title for scheme in course.schemes}
    return [sentence_text(titles_for(item, modules, tasks, schemes)) for item in missing]
