"""Every objective is taught, asked and, where it is something to do, practised."""

from __future__ import annotations

from dataclasses import replace

from academy.domain.curriculum.coverage import (
    ObjectiveCoverage,
    coverage_findings,
    objective_coverage,
)
from academy.domain.curriculum.findings import Severity
from academy.domain.curriculum.kinds import Level, ObjectiveKind
from tests.domain.curriculum.parts import a_module, a_question, an_objective


def covered(asked: int, must_know: bool = False, **more: object) -> ObjectiveCoverage:
    fields: dict[str, object] = {
        "objective": an_objective(must_know=must_know),
        "lessons": ("safety/before",),
        "questions": {Level.APPLY: asked},
        "tasks": (),
        "drills": (),
    }
    return ObjectiveCoverage(**(fields | more))  # type: ignore[arg-type]


def said(coverage: ObjectiveCoverage) -> list[tuple[Severity, str]]:
    return [(finding.severity, str(finding)) for finding in coverage_findings(coverage)]


def test_an_objective_nobody_teaches_is_refused() -> None:
    assert said(covered(3, lessons=())) == [
        (Severity.ERROR, "no lesson teaches the objective cord")
    ]


def test_an_objective_nobody_asks_is_refused() -> None:
    assert said(covered(0)) == [(Severity.ERROR, "no question asks the objective cord")]


def test_three_questions_are_enough_and_four_for_a_must_know() -> None:
    assert said(covered(3)) == []
    assert said(covered(4, must_know=True)) == []
    ((severity, sentence),) = said(covered(3, must_know=True))
    assert severity is Severity.WARNING
    assert sentence == "the objective cord has 3 questions; 4 keep the forms varied"
    assert [severity for severity, _ in said(covered(2))] == [Severity.WARNING]


def test_something_to_do_wants_a_task_or_a_drill() -> None:
    doing = replace(an_objective(must_know=False), kind=ObjectiveKind.DOING)
    assert [severity for severity, _ in said(covered(3, objective=doing))] == [Severity.WARNING]
    assert said(covered(3, objective=doing, drills=("plate-mark",))) == []
    assert said(covered(3, objective=doing, tasks=("polish",))) == []


def test_coverage_counts_questions_by_level() -> None:
    questions = [
        a_question("a"),
        a_question("b", level=Level.JUDGE),
        a_question("c", objective_id="heat"),
    ]
    module = a_module([an_objective(), an_objective("heat")], questions, [])
    cord, heat = objective_coverage([module], [], [])
    assert dict(cord.questions) == {Level.RECALL: 0, Level.APPLY: 1, Level.JUDGE: 1}
    assert (cord.asked, heat.asked) == (2, 1)
