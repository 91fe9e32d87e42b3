"""How much of everything the course holds."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from academy.domain.curriculum.course import Course
from academy.domain.curriculum.kinds import Interaction, Level
from academy.domain.curriculum.scenario import changes_numbers


@dataclass(frozen=True, slots=True)
class Counts:
    """The numbers ``academy content check`` reports.

    ``unfolding_scenarios`` have two decisions or more; ``computed_scenarios``
    change a number of their panel.
    """

    modules: int
    lessons: int
    objectives: int
    questions: int
    by_interaction: Mapping[str, int]
    by_level: Mapping[str, int]
    scenarios: int
    unfolding_scenarios: int
    computed_scenarios: int
    practical_tasks: int
    certificates: int
    glossary_terms: int
    figures: int


def counts_of(course: Course, figures: int) -> Counts:
    """Count the parts of a course; ``figures`` are the blocks that were drawn."""
    questions = [question for module in course.modules for question in module.questions]
    scenarios = [q for q in questions if q.interaction is Interaction.SCENARIO]
    kinds = Counter(question.interaction for question in questions)
    levels = Counter(question.level for question in questions)
    return Counts(
        modules=len(course.modules),
        lessons=sum(len(module.lessons) for module in course.modules),
        objectives=sum(len(module.objectives) for module in course.modules),
        questions=len(questions),
        by_interaction={kind.value: kinds[kind] for kind in Interaction},
        by_level={level.value: levels[level] for level in Level},
        scenarios=len(scenarios),
        unfolding_scenarios=sum(len(q.decisions) > 1 for q in scenarios),
        computed_scenarios=sum(map(changes_numbers, scenarios)),
        practical_tasks=len(course.tasks),
        certificates=len(course.schemes),
        glossary_terms=len(course.glossary),
        figures=figures,
    )
