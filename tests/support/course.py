"""Builders for a small invented course; every argument has a sound default."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from academy.domain.curriculum.course import Course, Module
from academy.domain.curriculum.kinds import Interaction, Level, ObjectiveKind, Supervision
from academy.domain.curriculum.lessons import HeadingLink, Lesson, Objective
from academy.domain.curriculum.questions import (
    Blueprint,
    BlueprintCell,
    Decision,
    Effect,
    Option,
    PanelState,
    Question,
    Region,
)
from academy.domain.curriculum.schemes import Requirement, Scheme
from academy.domain.curriculum.tasks import Criterion, PracticalTask

OPTIONS = tuple(
    Option(number, f"<p>option {number}</p>", f"<p>reason {number}</p>") for number in (1, 2, 3, 4)
)


def a_digest(word: str) -> str:
    """Return a digest-shaped text that is the same for the same word."""
    return (word.encode().hex() + "0" * 64)[:64]


def a_question(question_id: str = "cord-1", **overrides: Any) -> Question:
    """Return a question; a choice with option 1 right unless told otherwise."""
    fields: dict[str, Any] = {
        "id": question_id,
        "module_id": "safety",
        "interaction": Interaction.CHOICE,
        "level": Level.APPLY,
        "objective_id": "cord",
        "teaches": HeadingLink("safety", "before-you-start", "the-cord"),
        "stem_html": "<p>Where does the cord go?</p>",
        "options": OPTIONS,
        "key": (1,),
        "rating_percent": 70,
        "rating_reason": "seen in every first week",
        "source": "common practice, no source",
        "digest": a_digest(question_id),
    }
    return Question(**(fields | overrides))


def a_question_of_each_kind() -> tuple[Question, ...]:
    """Return one question for each interaction."""
    return (
        a_question("choice"),
        a_question("several", interaction=Interaction.MULTIPLE_RESPONSE, key=(1, 3)),
        a_question("order", interaction=Interaction.ORDER, key=(2, 1, 4, 3)),
        a_question(
            "match",
            interaction=Interaction.MATCH,
            key=(),
            options=OPTIONS[:2],
            partners=tuple(Option(n, f"<p>partner {n}</p>", "<p>so</p>") for n in (1, 2, 3)),
            key_pairs={1: 3, 2: 1},
        ),
        a_question(
            "number",
            interaction=Interaction.NUMERIC_ENTRY,
            key=(),
            options=(),
            key_value=2.4,
            unit="um",
            tolerance=0.1,
        ),
        a_question(
            "hotspot",
            interaction=Interaction.HOTSPOT,
            options=(),
            key=(2,),
            regions=tuple(Region(n, f"region {n}", 10.0 * n, 10.0, 8.0, 8.0) for n in (1, 2, 3)),
        ),
        a_scenario(),
    )


def a_scenario(question_id: str = "scenario", **overrides: Any) -> Question:
    """Return two decisions: measuring first earns 60, one more pass earns 40."""
    fields: dict[str, Any] = {
        "interaction": Interaction.SCENARIO,
        "key": (),
        "options": (),
        "panel": PanelState(thickness_um=112.0, temperature_c=24.0, finish="swirls", minutes=0.0),
        "decisions": (
            Decision(
                "first", "<p>What now?</p>", OPTIONS[:2], 1,
                {1: Effect(60, follows="second"), 2: Effect(0, removed_um=1.5, follows="second")},
            ),
            Decision(
                "second", "<p>And now?</p>", OPTIONS[:2], 2,
                {1: Effect(-20, removed_um=2.0), 2: Effect(40, removed_um=0.4)},
            ),
        ),
    }  # fmt: skip
    return a_question(question_id, **(fields | overrides))


def an_objective(objective_id: str = "cord", **overrides: Any) -> Objective:
    """Return an objective; not a must-know one unless told otherwise."""
    fields: dict[str, Any] = {
        "id": objective_id,
        "text": f"Keep the {objective_id} where it belongs",
        "kind": ObjectiveKind.KNOWING,
        "must_know": False,
        "module_id": "safety",
    }
    return Objective(**(fields | overrides))


def a_lesson(lesson_id: str = "before-you-start", **overrides: Any) -> Lesson:
    """Return a lesson."""
    fields: dict[str, Any] = {
        "id": lesson_id,
        "module_id": "safety",
        "title": "Before you start",
        "objectives": ("cord",),
        "minutes": 6,
        "cautions": (),
        "headings": (),
        "body_html": "<p>Put the cord over your shoulder.</p>",
        "words": 6,
        "figures": (),
        "digest": a_digest(lesson_id),
    }
    return Lesson(**(fields | overrides))


def a_blueprint(cells: Mapping[str, int], level: Level = Level.APPLY) -> Blueprint:
    """Return a blueprint of so many questions of each objective, all at one level."""
    return Blueprint(tuple(BlueprintCell(name, level, count) for name, count in cells.items()))


def a_module(module_id: str = "safety", **overrides: Any) -> Module:
    """Return a module with two objectives, 'cord' a must-know one, and four questions of each.

    A form carries two of each.  The ids of its questions start with the
    module's id, so that two modules stand in one course.
    """
    names = ("cord", "goggles")
    fields: dict[str, Any] = {
        "id": module_id,
        "number": 1,
        "title": "Working safely",
        "summary_html": "<p>What hurts.</p>",
        "cautions": (),
        "objectives": tuple(
            an_objective(name, must_know=name == "cord", module_id=module_id) for name in names
        ),
        "lessons": (a_lesson(module_id=module_id),),
        "questions": tuple(
            a_question(f"{module_id}-{name}-{n}", objective_id=name, module_id=module_id)
            for name in names
            for n in range(1, 5)
        ),
        "blueprint": a_blueprint(dict.fromkeys(names, 2)),
        "digest": a_digest(module_id),
    }
    return Module(**(fields | overrides))


def a_criterion(criterion_id: str = "even arm", **overrides: Any) -> Criterion:
    """Return a criterion that the supervisor judges; not a critical one."""
    fields: dict[str, Any] = {
        "id": criterion_id,
        "text": f"{criterion_id.capitalize()} all through",
        "critical": False,
    }
    return Criterion(**(fields | overrides))


def a_task(task_id: str = "polish a section", **overrides: Any) -> PracticalTask:
    """Return a task with readings at two spots, a limit of 3 µm and four criteria."""
    fields: dict[str, Any] = {
        "id": task_id,
        "title": "Polish a section",
        "kind_of_work": "polishing",
        "objectives": ("cord",),
        "cautions": (),
        "spots": 2,
        "readings_per_spot": 3,
        "limit_um": 3.0,
        "criteria": (
            a_criterion("within limit", critical=True, measured=True),
            a_criterion("cord safe", critical=True),
            a_criterion("even arm"),
            a_criterion("clean wipe"),
        ),
        "set_up_checks": ("goggles on", "cord over the shoulder"),
        "minutes": 30,
        "body_html": "<p>One section.</p>",
        "digest": a_digest(task_id),
    }
    return PracticalTask(**(fields | overrides))


def a_task_by_eye(task_id: str = "inspect", **overrides: Any) -> PracticalTask:
    """Return a task with a machine, without spots and without a limit."""
    by_eye = {
        "spots": 0,
        "readings_per_spot": 0,
        "limit_um": None,
        "cautions": ("rotating-pad",),
        "criteria": (a_criterion("cord safe", critical=True), a_criterion("even arm")),
    }
    return a_task(task_id, **(by_eye | overrides))


def a_measuring_task(task_id: str = "measure", **overrides: Any) -> PracticalTask:
    """Return a task that only measures: spots and no limit."""
    only_measured = {"limit_um": None, "criteria": (a_criterion("gauge flat", critical=True),)}
    return a_task(task_id, **(only_measured | overrides))


def a_scheme(scheme_id: str = "polishing", **overrides: Any) -> Scheme:
    """Return a scheme of three levels: the quiz; one practical; three in a row.  Term: a year."""
    fields: dict[str, Any] = {
        "id": scheme_id,
        "version": 1,
        "kind_of_work": "polishing",
        "title": "Polishing",
        "requirements": (
            Requirement(Supervision.BESIDE, ("safety",), {}),
            Requirement(Supervision.ON_SITE, (), {"polish a section": 1}),
            Requirement(Supervision.ALONE, (), {"polish a section": 3}),
        ),
        "term_months": 12,
        "body_html": "<p>Polishing alone.</p>",
        "digest": a_digest(scheme_id),
    }
    return Scheme(**(fields | overrides))


def a_course(modules: Sequence[Module] | None = None, **overrides: Any) -> Course:
    """Return a course of one module, one task and one scheme."""
    fields: dict[str, Any] = {
        "title": "An invented course",
        "modules": (a_module(),) if modules is None else tuple(modules),
        "tasks": (a_task(),),
        "drills": (),
        "schemes": (a_scheme(),),
        "cautions": (),
        "glossary": (),
        "digest": a_digest("course"),
        "kinds_of_work": {"polishing": "Polishing"},
    }
    return Course(**(fields | overrides))
