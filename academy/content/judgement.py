"""The rules of the curriculum, applied to the whole course."""

from __future__ import annotations

from academy.content.draft import Draft
from academy.content.problems import Place
from academy.domain.curriculum.coverage import coverage_findings, objective_coverage
from academy.domain.curriculum.feasibility import feasibility_findings
from academy.domain.curriculum.graph import graph_findings
from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.model import Course
from academy.domain.curriculum.wording import bank_findings, wording_findings
from academy.figures import NAMES


def check_curriculum(course: Course, draft: Draft) -> None:
    """Note what coverage, blueprint, scenarios, wording and figures leave to be done."""
    for covered in objective_coverage(course.modules, course.tasks, course.drills):
        if covered.objective.module_id not in draft.unread:
            for finding in coverage_findings(covered):
                draft.note(finding)
    for module in course.modules:
        if module.id not in draft.unread:
            for finding in feasibility_findings(module):
                draft.note(finding)
        for question in module.questions:
            if question.interaction is Interaction.SCENARIO:
                for finding in graph_findings(question):
                    draft.note(finding)
    _check_wording(draft)
    _unused_figures(draft)


def _check_wording(draft: Draft) -> None:
    for wording in draft.wordings:
        for finding in wording_findings(wording):
            draft.note(finding)
    for finding in bank_findings(draft.wordings):
        draft.note(finding)


def _unused_figures(draft: Draft) -> None:
    unused = [name for name in NAMES if name not in draft.references.figure_kinds]
    if unused:
        draft.problems.warning(
            Place("course.md", 1), "no text shows the figures %(names)s", names=", ".join(unused)
        )
