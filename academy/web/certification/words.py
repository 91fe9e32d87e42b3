"""Levels and what is missing, in words and marks."""

from __future__ import annotations

from collections.abc import Mapping

from academy.domain.certification import Missing, ModuleMissing, Status, StatusWord, titles_for
from academy.domain.certification.held_back import Restricted
from academy.domain.curriculum.course import Course
from academy.domain.curriculum.kinds import Supervision
from academy.web.formats import sentence_text
from academy.web.language import day_text, ngettext
from academy.web.language import gettext as _

LINES_IN_A_CELL = 2
_WITHOUT_LEVEL = {StatusWord.EXPIRED, StatusWord.SUSPENDED, StatusWord.WITHDRAWN}


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


def status_word(status: Status) -> str:
    """Return what a cell says first: the level, or why there is none."""
    if status.level is Supervision.NOT_YET and status.word in _WITHOUT_LEVEL:
        return _(status.word.value)
    return level_word(status.level)


def status_sign(status: Status) -> str:
    """Return the mark beside that word."""
    if status.level is Supervision.NOT_YET and status.word in _WITHOUT_LEVEL:
        return status.word.value
    held = any(isinstance(why, Restricted) for why in status.held_back)
    return "held" if held else level_sign(status.level)


def says(status: Status, course: Course) -> tuple[str, ...]:
    """Return what is decided, why it is held back, and in short what the next level asks."""
    missing = _quizzes_in_short(status.missing, course)
    left = len(missing) - LINES_IN_A_CELL
    if left > 0:
        more = ngettext("and one thing more", "and %(num)s things more", left)
        missing = [*missing[:LINES_IN_A_CELL], more]
    return (*decided_lines(status, course), *missing)


def until_and_missing(status: Status, course: Course) -> tuple[str, ...]:
    """Return what is decided, why it is held back, and everything the next level asks."""
    return (*decided_lines(status, course), *missing_lines(status.missing, course))


def decided_lines(status: Status, course: Course) -> tuple[str, ...]:
    """Return what is true of the certificate: its last day, what holds it back, what is due."""
    lines = [*_certificate(status), *map(sentence_text, status.held_back)]
    if status.ready_for is not None:
        lines.append(_("ready for decision: '%(level)s'", level=level_word(status.ready_for)))
    if status.to_renew and status.ready_for is None:
        lines += missing_lines(status.to_renew, course)
    return tuple(lines)


def _certificate(status: Status) -> list[str]:
    if status.valid_until is None:
        return []
    day = day_text(status.valid_until)
    if status.word is StatusWord.EXPIRED:
        return [_("expired after %(day)s", day=day)]
    if not status.certified.rank:
        return []
    said = _("certified '%(level)s' until %(day)s", level=level_word(status.certified), day=day)
    one = [_("trained and decided by the same person")] if status.by_trainer else []
    return [said, *one]


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
