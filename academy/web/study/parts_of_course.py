"""Parts of the course by the names in an address; what is not there is 404."""

from __future__ import annotations

from flask import abort

from academy.domain.curriculum.course import Module
from academy.domain.curriculum.lessons import Caution, Lesson
from academy.domain.curriculum.tasks import PracticalTask
from academy.web.context import course


def module_called(module_id: str) -> Module:
    """Return a module."""
    found = course().module(module_id)
    if found is None:
        abort(404)
    return found


def lesson_called(module_id: str, lesson_id: str) -> Lesson:
    """Return a lesson."""
    found = course().lesson(module_id, lesson_id)
    if found is None:
        abort(404)
    return found


def task_called(task_id: str) -> PracticalTask:
    """Return a practical task."""
    found = course().task(task_id)
    if found is None:
        abort(404)
    return found


def cautions_called(ids: tuple[str, ...]) -> tuple[Caution, ...]:
    """Return the cautions that are there."""
    found = (course().caution(caution_id) for caution_id in ids)
    return tuple(caution for caution in found if caution is not None)
