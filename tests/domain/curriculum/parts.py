"""Builders for parts of a course; every argument has a sound default."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from academy.domain.curriculum.course import Module
from academy.domain.curriculum.kinds import Interaction, Level, ObjectiveKind
from academy.domain.curriculum.lessons import HeadingLink, Objective
from academy.domain.curriculum.questions import (
    Blueprint,
    BlueprintCell,
    Decision,
    Effect,
    Option,
    PanelState,
    Question,
)

OPTIONS = tuple(Option(number, f"option {number}", f"reason {number}") for number in (1, 2, 3))


def a_question(question_id: str = "cord", **more: object) -> Question:
    fields: dict[str, object] = {
        "id": question_id,
        "module_id": "safety",
        "interaction": Interaction.CHOICE,
        "level": Level.APPLY,
        "objective_id": "cord",
        "teaches": HeadingLink("safety", "before", "cord"),
        "stem_html": "<p>Where?</p>",
        "options": OPTIONS,
        "key": (1,),
        "rating_percent": 70,
        "rating_reason": "seen",
        "source": "common practice, no source",
        "digest": "d",
    }
    return Question(**(fields | more))  # type: ignore[arg-type]


def a_decision(decision_id: str, key: int, effects: Mapping[int, Effect]) -> Decision:
    return Decision(decision_id, "<p>What now?</p>", OPTIONS, key, effects)


def a_scenario(
    decisions: Sequence[Decision], panel: PanelState | None = None, **more: object
) -> Question:
    return a_question(
        "panel",
        interaction=Interaction.SCENARIO,
        key=(),
        options=(),
        decisions=tuple(decisions),
        panel=panel or PanelState(thickness_um=112, temperature_c=24, finish="swirls", minutes=0),
        **more,
    )


def an_objective(objective_id: str = "cord", must_know: bool = True) -> Objective:
    return Objective(objective_id, "Keep it clear", ObjectiveKind.KNOWING, must_know, "safety")


def a_module(
    objectives: Sequence[Objective],
    questions: Sequence[Question],
    cells: Sequence[tuple[str, Level, int]],
) -> Module:
    return Module(
        id="safety",
        number=1,
        title="Safety",
        summary_html="",
        cautions=(),
        objectives=tuple(objectives),
        lessons=(),
        questions=tuple(questions),
        blueprint=Blueprint(tuple(BlueprintCell(*cell) for cell in cells)),
        digest="",
    )
