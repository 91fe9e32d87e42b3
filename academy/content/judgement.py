"""The rules of the curriculum, applied to the whole course."""

from __future__ import annotations

from collections.abc import Iterator

from academy.content.draft import Draft
from academy.content.problems import Place
from academy.domain.curriculum.course import Course
from academy.domain.curriculum.coverage import coverage_findings, objective_coverage
from academy.domain.curriculum.feasibility import feasibility_findings
from academy.domain.curriculum.findings import Finding
from academy.domain.curriculum.graph import graph_findings
from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.wording import bank_findings, wording_findings
from academy.figures import NAMES


def check_curriculum(course: Course, draft: Draft) -> None:
    """Note what coverage, blueprint, scenarios, wording and figures leave to be done."""
    for finding in _findings(course, draft):
        draft.note(finding)
    if draft.references.lessons:
        _unused_figures(draft)


def _findings(course: Course, draft: Draft) -> Iterator[Finding]:
    for covered in objective_coverage(course.modules, course.tasks, course.drills):
        if covered.objective.module_id not in draft.unread:
            yield from coverage_findings(covered)
    for module in course.modules:
        if module.id not in draft.unread:
            yield from feasibility_findings(module)
        for question in module.questions:
            if question.interaction is Interaction.SCENARIO:
                yield from graph_findings(question)
    for wording in draft.wordings:
        yield from wording_findings(wording)
    yield from bank_findings(draft.wordings)


def _unused_figures(draft: Draft) -> None:
    unused = [name for name in NAMES if name not in draft.references.figure_kinds]
    if unused:
        draft.problems.warning(
            Place("course.md", 1), "no text shows the figures %(names)s", names=", ".join(unused)
        )
