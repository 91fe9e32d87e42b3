"""One page that shows every element in every state, open in the demonstration only."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from flask import Blueprint, abort
from flask.typing import ResponseReturnValue

from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.lessons import Caution
from academy.figures import Figure, draw
from academy.web import invented
from academy.web.context import academy
from academy.web.identity import public
from academy.web.pages import Page, render
from academy.web.parts import (
    BoardTable,
    Choosable,
    Fact,
    Filled,
    Link,
    Listed,
    PanelSection,
    ReadingsTable,
    ReviewedAnswer,
    SpotEntries,
    Step,
)

bp = Blueprint("elements", __name__)


@dataclass(frozen=True, slots=True)
class ElementsPage(Page):
    """Every element, with a fresh form and a refused one."""

    template: ClassVar[str] = "elements.html"
    empty: Filled
    refused: Filled
    substrates: tuple[Choosable, ...]
    roles: tuple[Choosable, ...]
    ratings: tuple[Choosable, ...]
    spots: tuple[SpotEntries, ...]
    lessons: tuple[Listed, ...]
    caution: Caution
    step: Step
    card: tuple[Fact, ...]
    readings: ReadingsTable
    sections: tuple[PanelSection, ...]
    board: BoardTable
    questions: tuple[invented.ShownQuestion, ...]
    answers: tuple[ReviewedAnswer, ...]
    trail: tuple[Link, ...]
    paper: tuple[Fact, ...]
    figure: Figure
    picture: str


@bp.get("/elements")
@public
def show() -> ResponseReturnValue:
    """Show the page in the demonstration; elsewhere there is nothing at this address."""
    if not academy().settings.demo:
        abort(404)
    return render(elements_page())


def elements_page() -> ElementsPage:
    """Return the page with its invented contents."""
    figure = draw("paint-layers", {"removed_um": 3})
    picture = figure.labelled_svg
    asked = (kind for kind in Interaction if kind is not Interaction.SCENARIO)
    return ElementsPage(
        empty=invented.EMPTY,
        refused=invented.REFUSED,
        substrates=invented.SUBSTRATES,
        roles=invented.ROLES,
        ratings=invented.ANSWERS_TO_A_CRITERION,
        spots=invented.SPOTS,
        lessons=invented.LESSONS,
        caution=invented.CAUTION,
        step=invented.STEP,
        card=invented.CARD,
        readings=invented.readings_table(),
        sections=invented.panel_sections(),
        board=invented.board_table(),
        questions=tuple(invented.ShownQuestion(kind, figure_html=picture) for kind in asked),
        answers=invented.ANSWERS,
        trail=invented.TRAIL,
        paper=invented.PAPER,
        figure=figure,
        picture=picture,
    )
