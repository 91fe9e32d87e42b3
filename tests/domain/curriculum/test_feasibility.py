"""A blueprint asks no more than the questions can give."""

from __future__ import annotations

from academy.domain.curriculum.course import Module
from academy.domain.curriculum.feasibility import feasibility_findings, largest_drawable
from academy.domain.curriculum.findings import Severity
from academy.domain.curriculum.kinds import Level
from tests.domain.curriculum.parts import a_module, a_question, an_objective

APPLY = Level.APPLY


def errors(module: Module) -> list[str]:
    found = feasibility_findings(module)
    return [str(finding) for finding in found if finding.severity is Severity.ERROR]


def test_a_cell_with_enough_questions_is_left_alone() -> None:
    questions = [a_question(f"q{n}") for n in range(3)]
    assert (
        list(feasibility_findings(a_module([an_objective()], questions, [("cord", APPLY, 2)])))
        == []
    )


def test_a_cell_with_too_few_questions_is_refused() -> None:
    module = a_module(
        [an_objective()],
        [a_question("a"), a_question("b", level=Level.JUDGE)],
        [("cord", APPLY, 2)],
    )
    assert errors(module)[0] == "a form carries 2 of cord at apply; 1 can be drawn together"


def test_questions_kept_apart_do_not_fill_a_cell_together() -> None:
    questions = [a_question("a", apart_from=("b",)), a_question("b")]
    module = a_module([an_objective(must_know=False)], questions, [("cord", APPLY, 2)])
    assert errors(module) == ["a form carries 2 of cord at apply; 1 can be drawn together"]


def test_a_cell_is_filled_whatever_the_other_cells_carry() -> None:
    apply = [a_question("a", apart_from=("x",)), a_question("b")]
    judge = [a_question("x", level=Level.JUDGE), a_question("y", level=Level.JUDGE)]
    objective = an_objective(must_know=False)
    cells = [("cord", APPLY, 2), ("cord", Level.JUDGE, 1)]
    (message,) = errors(a_module([objective], apply + judge, cells))
    assert message.startswith("a form carries 2 of cord at apply; questions of other cells")
    assert message.endswith("only 1 can be drawn whatever else it carries")
    spare = a_question("c")
    assert errors(a_module([objective], [*apply, spare, *judge], cells)) == []


def test_the_largest_set_that_may_meet_is_found_exactly() -> None:
    star = [a_question("hub", apart_from=("a", "b", "c")), *(a_question(n) for n in "abc")]
    assert largest_drawable(star) == 3
    ring = [a_question(str(n), apart_from=(str((n + 1) % 5),)) for n in range(5)]
    assert largest_drawable(ring) == 2
    assert largest_drawable([]) == 0


def test_a_must_know_objective_has_one_question_to_spare() -> None:
    questions = [a_question("a"), a_question("b")]
    must = a_module([an_objective()], questions, [("cord", APPLY, 2)])
    assert "one more is needed to ask again" in errors(must)[0]
    other = a_module([an_objective(must_know=False)], questions, [("cord", APPLY, 2)])
    assert errors(other) == []


def test_a_must_know_objective_is_on_every_form() -> None:
    module = a_module([an_objective()], [a_question()], [])
    assert "the must-know objective cord is not on every form" in errors(module)[0]


def test_another_objective_off_the_forms_is_only_pointed_out() -> None:
    module = a_module([an_objective(must_know=False)], [a_question()], [])
    (finding,) = feasibility_findings(module)
    assert finding.severity is Severity.WARNING
