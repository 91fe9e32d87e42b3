"""From a question on a form to what is shown, and from what is sent to a response."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from werkzeug.datastructures import MultiDict

from academy.domain.assessment.forms import FormQuestion
from academy.domain.assessment.scoring import read_number, scenario_choices
from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.questions import Option, PanelState, Question
from academy.domain.curriculum.scenario import Path, path_taken
from academy.web.forms import printable
from academy.web.language import gettext as _
from academy.web.parts import Fact
from academy.web.quizzes.pages import ShownOption, ShownQuestion, ShownRegion, TakenDecision

LONGEST_NUMBER = 60
MOST_DIGITS = 5
_DRAWING = re.compile(r"<svg\b.*?</svg>", re.DOTALL)


def shown(item: FormQuestion, response: object) -> ShownQuestion:
    """Return a question as it may be shown before submission."""
    question = item.question
    if question.interaction is Interaction.SCENARIO:
        return _shown_scenario(question, response)
    figure = split_figure(question)
    chosen_from = () if question.interaction is Interaction.NUMERIC_ENTRY else item.option_order
    return ShownQuestion(
        id=question.id,
        interaction=question.interaction.value,
        stem_html=question.stem_html,
        options=_in_order(question.options, chosen_from),
        partners=_in_order(question.partners, item.partner_order),
        unit=question.unit,
        figure_html=figure.drawing_html,
        figure_notes_html=figure.notes_html,
        regions=shown_regions(question),
    )


@dataclass(frozen=True, slots=True)
class SplitFigure:
    """A hotspot's drawing, which the places are laid over, and the notes that stand below."""

    drawing_html: str
    notes_html: str


def split_figure(question: Question) -> SplitFigure:
    """Return the figure whole, or for a hotspot the drawing apart from its caption and table.

    The places are percent of the drawing, so nothing else may share its box.
    """
    drawing = _DRAWING.search(question.figure_html)
    if drawing is None or question.interaction is not Interaction.HOTSPOT:
        return SplitFigure(question.figure_html, "")
    notes = question.figure_html.replace(drawing[0], "")
    return SplitFigure(drawing[0], notes)


def shown_regions(question: Question) -> tuple[ShownRegion, ...]:
    """Return the places of a hotspot, which tell nothing about its key."""
    return tuple(
        ShownRegion(r.number, r.label, r.left, r.top, r.width, r.height) for r in question.regions
    )


def _shown_scenario(question: Question, response: object) -> ShownQuestion:
    path = path_taken(question, scenario_choices(response))
    here = path.next_decision
    return ShownQuestion(
        id=question.id,
        interaction=question.interaction.value,
        stem_html=question.stem_html,
        options=_in_order(here.options, [o.number for o in here.options]) if here else (),
        partners=(),
        unit="",
        figure_html=question.figure_html,
        figure_notes_html="",
        regions=(),
        taken=_taken(path),
        panel=panel_facts(path.panel),
        decision_id=here.id if here else "",
        decision_html=here.stem_html if here else "",
        ended=path.ended,
    )


def panel_facts(panel: PanelState) -> tuple[Fact, ...]:
    """Return what is known of a scenario's panel, as the author gave it."""
    facts = []
    if panel.thickness_um is not None:
        facts.append(Fact(_("Film thickness"), f"{panel.thickness_um:.1f} µm"))
    if panel.temperature_c is not None:
        facts.append(Fact(_("Panel temperature"), f"{panel.temperature_c:.0f} °C"))
    if panel.finish:
        facts.append(Fact(_("Finish"), panel.finish))
    if panel.minutes is not None:
        facts.append(Fact(_("Time spent"), _("%(minutes).0f min", minutes=panel.minutes)))
    return tuple(facts)


def response_of(
    question: Question, sent: MultiDict[str, str], before: object
) -> dict[str, Any] | None:
    """Return the response that was sent, or None where nothing was answered."""
    match question.interaction:
        case Interaction.CHOICE:
            return _several("chosen", sent.getlist("answer")[:1])
        case Interaction.MULTIPLE_RESPONSE:
            return _several("chosen", sent.getlist("answer"))
        case Interaction.HOTSPOT:
            return _several("chosen", sent.getlist("region"))
        case Interaction.ORDER:
            return _order(question, sent)
        case Interaction.MATCH:
            return _match(question, sent)
        case Interaction.NUMERIC_ENTRY:
            typed = printable(sent.get("answer", ""))[:LONGEST_NUMBER].strip()
            return {"value": typed} if typed else None
        case Interaction.SCENARIO:
            return _decided(question, sent, before)


def typed_again(question: Question, response: object) -> dict[str, Any]:
    """Return a saved response under the names of the page's controls."""
    if not isinstance(response, Mapping):
        return {}
    chosen = [str(number) for number in response.get("chosen", [])]
    typed: dict[str, Any] = {"answer": chosen, "region": chosen}
    if "value" in response:
        typed["answer"] = response["value"]
    for place, number in enumerate(response.get("order", []), 1):
        typed[f"place-{number}"] = str(place)
    for left, right in response.get("pairs", {}).items():
        typed[f"partner-{left}"] = str(right)
    return typed


def fault_of(question: Question, response: Mapping[str, Any] | None) -> str:
    """Return why a response cannot be used yet, or nothing."""
    if response is None:
        return _("Nothing was answered yet. Answer, or go on and come back later.")
    if question.interaction is Interaction.NUMERIC_ENTRY and read_number(response["value"]) is None:
        return _("Write a number, for example 4.5 or 4,5.")
    if question.interaction is Interaction.ORDER and len(set(response["order"])) != len(
        question.options
    ):
        return _("Give each one its own place.")
    return ""


def whole_number(text: str) -> int | None:
    """Return the number of an option, a place or a partner as it was sent; None for anything else."""
    short = len(text) <= MOST_DIGITS and text.isascii() and text.isdigit()
    return int(text) if short else None


def _several(name: str, sent: list[str]) -> dict[str, Any] | None:
    numbers = [number for value in sent if (number := whole_number(value)) is not None]
    return {name: numbers} if numbers else None


def _order(question: Question, sent: MultiDict[str, str]) -> dict[str, Any] | None:
    places = {option.number: sent.get(f"place-{option.number}", "") for option in question.options}
    if not any(places.values()):
        return None
    by_place = sorted(
        (number for number, place in places.items() if whole_number(place) is not None),
        key=lambda number: whole_number(places[number]) or 0,
    )
    different = len(set(places.values())) == len(places)
    return {"order": by_place if different and len(by_place) == len(places) else []}


def _match(question: Question, sent: MultiDict[str, str]) -> dict[str, Any] | None:
    chosen = {o.number: whole_number(sent.get(f"partner-{o.number}", "")) for o in question.options}
    pairs = {str(left): right for left, right in chosen.items() if right is not None}
    return {"pairs": pairs} if pairs else None


def _decided(
    question: Question, sent: MultiDict[str, str], before: object
) -> dict[str, Any] | None:
    choices = scenario_choices(before)
    here = path_taken(question, choices).next_decision
    answer = whole_number(sent.get("answer", ""))
    # the decision this page showed is named, so that a page sent twice decides nothing further on
    if here is None or sent.get("decision") != here.id or answer is None:
        return {"choices": choices} if choices else None
    return {"choices": {**choices, here.id: answer}}


def _taken(path: Path) -> tuple[TakenDecision, ...]:
    return tuple(
        TakenDecision(
            step.decision.stem_html,
            next(o.text_html for o in step.decision.options if o.number == step.chosen),
        )
        for step in path.steps
    )


def _in_order(options: tuple[Option, ...], order: Any) -> tuple[ShownOption, ...]:
    by_number = {option.number: option for option in options}
    return tuple(ShownOption(number, by_number[number].text_html) for number in order)
