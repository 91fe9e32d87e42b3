"""After submission: what was answered, what was right and why, and where it is taught."""

from __future__ import annotations

from collections.abc import Mapping

from flask import url_for

from academy.domain.assessment.forms import FormQuestion
from academy.domain.assessment.results import ObjectiveResult, SittingResult
from academy.domain.assessment.scoring import scenario_choices
from academy.domain.curriculum.course import Course
from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.questions import Option, PanelState, Question
from academy.domain.curriculum.scenario import Path, best_path, path_taken
from academy.web.language import gettext as _
from academy.web.parts import Fact, Link, ReviewedAnswer
from academy.web.quizzes.pages import (
    DebriefedPath,
    DebriefedStep,
    Questioned,
    ReviewedObjective,
    ReviewedQuestion,
)
from academy.web.quizzes.shown import panel_facts, shown_regions, split_figure


def reviewed(
    position: int,
    item: FormQuestion,
    response: object,
    marks: int | None,
    course: Course,
    questioned: Questioned | None = None,
) -> ReviewedQuestion:
    """Return one question with its answer, the right one and every reason.

    Without marks the question has been taken out of the result.
    """
    question = item.question
    figure = split_figure(question)
    given = response if isinstance(response, Mapping) else {}
    return ReviewedQuestion(
        position=position,
        stem_html=question.stem_html,
        interaction=question.interaction.value,
        sign="right" if marks == 100 else "chosen" if marks else "other",
        word=_marks_word(marks, bool(given)),
        figure_html=figure.drawing_html,
        figure_notes_html=figure.notes_html,
        regions=shown_regions(question),
        answers=_answers(item, given),
        facts=_facts(question, given),
        explanation_html=question.explanation_html,
        teaches=_teaches(question, course),
        questioned=questioned or Questioned(""),
        taken=_path_answers(path_taken(question, scenario_choices(given))),
        paths=_paths(question, given),
    )


def reviewed_objectives(
    result: SittingResult, items: tuple[FormQuestion, ...], course: Course
) -> tuple[ReviewedObjective, ...]:
    """Return how each objective on the form went, with the headings that teach it."""
    texts = {o.id: o.text for module in course.modules for o in module.objectives}
    return tuple(
        ReviewedObjective(
            text=texts.get(objective.objective_id, objective.objective_id),
            must_know=objective.must_know,
            sign="right" if objective.met else "other",
            word=_objective_word(objective),
            teaches=() if objective.met else _unique_links(items, objective.objective_id, course),
        )
        for objective in result.objectives
    )


def _objective_word(objective: ObjectiveResult) -> str:
    if not objective.asked:
        return _("asked again, its question was taken out")
    return _("met") if objective.met else _("not met yet")


def _marks_word(marks: int | None, answered: bool) -> str:
    if marks is None:
        return _("taken out, it was found faulty")
    if marks == 100:
        return _("right")
    if not answered:
        return _("not answered")
    return _("%(marks)d of 100 for this question", marks=marks) if marks else _("not right")


def _answers(item: FormQuestion, given: Mapping[str, object]) -> tuple[ReviewedAnswer, ...]:
    question = item.question
    match question.interaction:
        case Interaction.CHOICE | Interaction.MULTIPLE_RESPONSE:
            by_number = {option.number: option for option in question.options}
            options = [by_number[number] for number in item.option_order]
            return _reviewed_options(options, given, question.key)
        case Interaction.HOTSPOT:
            return _reviewed_options(question.options, given, question.key)
        case Interaction.ORDER:
            by_number = {option.number: option for option in question.options}
            placed = list(_listed(given.get("order")))
            return tuple(
                ReviewedAnswer(
                    by_number[number].text_html,
                    by_number[number].reason_html,
                    chosen=place < len(placed) and placed[place] == number,
                    right=True,
                )
                for place, number in enumerate(question.key)
            )
        case Interaction.MATCH:
            return _reviewed_pairs(question, given)
    return ()


def _reviewed_options(
    options: list[Option] | tuple[Option, ...], given: Mapping[str, object], key: tuple[int, ...]
) -> tuple[ReviewedAnswer, ...]:
    chosen = set(_listed(given.get("chosen")))
    return tuple(
        ReviewedAnswer(o.text_html, o.reason_html, o.number in chosen, o.number in key)
        for o in options
    )


def _reviewed_pairs(question: Question, given: Mapping[str, object]) -> tuple[ReviewedAnswer, ...]:
    pairs = given.get("pairs")
    chosen = (
        {str(left): right for left, right in pairs.items()} if isinstance(pairs, Mapping) else {}
    )
    partners = {partner.number: partner.text_html for partner in question.partners}
    return tuple(
        ReviewedAnswer(
            f"{option.text_html}<p>→</p>{partners[question.key_pairs[option.number]]}",
            option.reason_html,
            chosen=chosen.get(str(option.number)) == question.key_pairs[option.number],
            right=True,
        )
        for option in question.options
    )


def _facts(question: Question, given: Mapping[str, object]) -> tuple[Fact, ...]:
    if question.interaction is not Interaction.NUMERIC_ENTRY:
        return ()
    return (
        Fact(_("You wrote"), f"{given.get('value', '–')} {question.unit}"),
        Fact(
            _("Right is"),
            _(
                "%(value)g %(unit)s, give or take %(tolerance)g",
                value=question.key_value or 0.0,
                unit=question.unit,
                tolerance=question.tolerance,
            ),
        ),
    )


def _path_answers(path: Path) -> tuple[ReviewedAnswer, ...]:
    """Return every option of each decision that was reached, with its reason."""
    return tuple(
        ReviewedAnswer(
            option.text_html,
            option.reason_html,
            option.number == step.chosen,
            option.number == step.decision.key,
        )
        for step in path.steps
        for option in step.decision.options
    )


def _paths(question: Question, given: Mapping[str, object]) -> tuple[DebriefedPath, ...]:
    """Return the path that was taken and the better one, each decision with the panel after it."""
    if question.interaction is not Interaction.SCENARIO:
        return ()
    yours, better = path_taken(question, scenario_choices(given)), best_path(question)
    if [step.chosen for step in yours.steps] == [step.chosen for step in better.steps]:
        return (_debriefed(_("Your path, which is the better one"), yours),)
    return (
        _debriefed(_("Your path"), yours),
        _debriefed(_("The better path"), better),
    )


def _debriefed(name: str, path: Path) -> DebriefedPath:
    return DebriefedPath(
        name,
        tuple(
            DebriefedStep(
                next(o.text_html for o in step.decision.options if o.number == step.chosen),
                _panel_words(step.panel),
            )
            for step in path.steps
        ),
        _("At the end: %(panel)s", panel=_panel_words(path.panel)),
        _("%(marks)d of 100 for this question", marks=path.marks_percent),
    )


def _panel_words(panel: PanelState) -> str:
    return ", ".join(f"{fact.name.lower()} {fact.value}" for fact in panel_facts(panel))


def _teaches(question: Question, course: Course) -> Link | None:
    link = question.teaches
    lesson = course.lesson(link.module_id, link.lesson_id)
    if lesson is None:
        return None
    heading = next((h for h in lesson.headings if h.anchor == link.anchor), None)
    url = url_for("study.lesson", module_id=link.module_id, lesson_id=link.lesson_id)
    return Link(heading.text if heading else lesson.title, f"{url}#{link.anchor}")


def _unique_links(
    items: tuple[FormQuestion, ...], objective_id: str, course: Course
) -> tuple[Link, ...]:
    links = (
        _teaches(item.question, course)
        for item in items
        if item.question.objective_id == objective_id
    )
    return tuple(dict.fromkeys(link for link in links if link is not None))


def _listed(value: object) -> list[object]:
    return list(value) if isinstance(value, list | tuple) else []
