"""Which lesson, question, task and drill serve each objective."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from academy.domain.curriculum.course import Module
from academy.domain.curriculum.findings import Finding, Subject, error, warning
from academy.domain.curriculum.kinds import Level, ObjectiveKind
from academy.domain.curriculum.lessons import Objective
from academy.domain.curriculum.tasks import Drill, PracticalTask

WANTED_QUESTIONS = 3
WANTED_QUESTIONS_MUST_KNOW = 4


@dataclass(frozen=True, slots=True)
class ObjectiveCoverage:
    """Everything in the course that names one objective."""

    objective: Objective
    lessons: tuple[str, ...]
    questions: Mapping[Level, int]
    tasks: tuple[str, ...]
    drills: tuple[str, ...]

    @property
    def asked(self) -> int:
        """Return how many questions ask it, at any level."""
        return sum(self.questions.values())


def objective_coverage(
    modules: Sequence[Module], tasks: Sequence[PracticalTask], drills: Sequence[Drill]
) -> tuple[ObjectiveCoverage, ...]:
    """Return the coverage of every objective, in the order of the course."""
    return tuple(
        ObjectiveCoverage(
            objective,
            tuple(
                lesson.path
                for other in modules
                for lesson in other.lessons
                if objective.id in lesson.objectives
            ),
            _asked(objective, module),
            tuple(task.id for task in tasks if objective.id in task.objectives),
            tuple(drill.id for drill in drills if objective.id in drill.objectives),
        )
        for module in modules
        for objective in module.objectives
    )


def coverage_findings(covered: ObjectiveCoverage) -> Iterator[Finding]:
    """Yield what an objective lacks.

    An objective nobody teaches or asks is an error; fewer questions than keep
    forms varied, or a doing objective without practice, is a warning.
    """
    objective = covered.objective
    subject = Subject("objective", objective.id)
    if not covered.lessons:
        yield error(subject, "no lesson teaches the objective %(id)s", id=objective.id)
    wanted = WANTED_QUESTIONS_MUST_KNOW if objective.must_know else WANTED_QUESTIONS
    if not covered.asked:
        yield error(subject, "no question asks the objective %(id)s", id=objective.id)
    elif covered.asked < wanted:
        yield warning(
            subject,
            "the objective %(id)s has %(asked)s questions; %(wanted)s keep the forms varied",
            id=objective.id,
            asked=covered.asked,
            wanted=wanted,
        )
    if objective.kind is ObjectiveKind.DOING and not covered.tasks + covered.drills:
        yield warning(
            subject,
            "the objective %(id)s is something to do, and no task or drill practises it",
            id=objective.id,
        )


def _asked(objective: Objective, module: Module) -> Mapping[Level, int]:
    levels = [q.level for q in module.questions if q.objective_id == objective.id]
    return {level: levels.count(level) for level in Level}
