"""An examination on paper: as printed, its key, and what two people read from it."""

from __future__ import annotations

from typing import Any

from werkzeug.datastructures import MultiDict

from academy.domain.assessment.forms import FormQuestion
from academy.domain.assessment.scoring import read_number
from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.questions import Option, Question
from academy.domain.curriculum.scenario import best_path, path_taken
from academy.web.language import gettext as _
from academy.web.quizzes.examination_pages import (
    KeyLine,
    PaperOption,
    PaperQuestion,
    PaperTurn,
)
from academy.web.quizzes.rules import marks_rule
from academy.web.quizzes.shown import response_of, shown, whole_number

LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


def printed(position: int, item: FormQuestion) -> PaperQuestion:
    """Return a question as it is printed, its options lettered in the order of the form."""
    question = item.question
    return PaperQuestion(
        position=position,
        rule=marks_rule(question),
        how=_how(question.interaction),
        shown=shown(item, None),
        options=_lettered(question, item.option_order),
        partners=tuple(
            PaperOption(number, LETTERS[place], _text(question.partners, number))
            for place, number in enumerate(item.partner_order)
        ),
        turns=_turns(question),
    )


def key_line(position: int, item: FormQuestion) -> KeyLine:
    """Return what is right for a printed question, in its letters."""
    return KeyLine(position, _right(item), item.question.explanation_html)


def entered(item: FormQuestion, sent: MultiDict[str, str], prefix: str) -> dict[str, Any] | None:
    """Return what one person read from the paper for one question, None where it was left open.

    Two people's readings are compared, so a number is kept in one spelling and
    a decision that was never reached is left out.
    """
    own = MultiDict(
        [
            (name.removeprefix(prefix), value)
            for name, value in sent.items(multi=True)
            if name.startswith(prefix)
        ]
    )
    question = item.question
    if question.interaction is Interaction.SCENARIO:
        return _entered_path(question, own)
    response = response_of(question, own, None)
    if response is not None and "value" in response:
        number = read_number(response["value"])
        if number is not None:
            response = {"value": f"{number.normalize():f}"}
    if response is not None and "chosen" in response:
        response = {"chosen": sorted(response["chosen"])}
    return response


def _entered_path(question: Question, own: MultiDict[str, str]) -> dict[str, Any] | None:
    turns = {
        decision.id: whole_number(own.get(f"turn-{place}", ""))
        for place, decision in enumerate(question.decisions, 1)
    }
    choices = {decision: chosen for decision, chosen in turns.items() if chosen is not None}
    taken = path_taken(question, choices)
    return {"choices": {s.decision.id: s.chosen for s in taken.steps}} if taken.steps else None


def _how(interaction: Interaction) -> str:
    match interaction:
        case Interaction.CHOICE:
            return _("Tick one box.")
        case Interaction.MULTIPLE_RESPONSE:
            return _("Tick every box that is right.")
        case Interaction.HOTSPOT:
            return _("Tick the numbered places.")
        case Interaction.ORDER:
            return _("Write the place into each box: 1 comes first.")
        case Interaction.MATCH:
            return _("Write one letter into each box.")
        case Interaction.NUMERIC_ENTRY:
            return _("Write the number.")
        case Interaction.SCENARIO:
            return _(
                "Begin at turn 1. Tick one box and go on where it sends you; leave the rest open."
            )


def _lettered(question: Question, order: tuple[int, ...]) -> tuple[PaperOption, ...]:
    if question.interaction in {Interaction.SCENARIO, Interaction.NUMERIC_ENTRY}:
        return ()
    return tuple(
        PaperOption(number, LETTERS[place], _text(question.options, number))
        for place, number in enumerate(order)
    )


def _text(parts: tuple[Option, ...], number: int) -> str:
    return next(part.text_html for part in parts if part.number == number)


def _turns(question: Question) -> tuple[PaperTurn, ...]:
    places = {decision.id: place for place, decision in enumerate(question.decisions, 1)}
    return tuple(
        PaperTurn(
            _("Turn %(number)d", number=places[decision.id]),
            decision.stem_html,
            tuple(
                PaperOption(
                    option.number,
                    LETTERS[place],
                    option.text_html,
                    _goes_on(places, decision.effects[option.number].follows),
                )
                for place, option in enumerate(decision.options)
            ),
        )
        for decision in question.decisions
    )


def _goes_on(places: dict[str, int], follows: str | None) -> str:
    if follows in places:
        return _("go on with turn %(number)d", number=places[follows])
    return _("the end of this question")


def _right(item: FormQuestion) -> str:
    question = item.question
    letter = {number: LETTERS[place] for place, number in enumerate(item.option_order)}
    match question.interaction:
        case Interaction.NUMERIC_ENTRY:
            return _(
                "%(value)g %(unit)s, give or take %(tolerance)g",
                value=question.key_value or 0.0,
                unit=question.unit,
                tolerance=question.tolerance,
            )
        case Interaction.HOTSPOT:
            return ", ".join(str(number) for number in sorted(question.key))
        case Interaction.ORDER:
            return ", ".join(f"{letter[n]} {place}" for place, n in enumerate(question.key, 1))
        case Interaction.MATCH:
            partner = {n: LETTERS[place] for place, n in enumerate(item.partner_order)}
            pairs = question.key_pairs.items()
            return ", ".join(f"{letter[left]} {partner[right]}" for left, right in pairs)
        case Interaction.SCENARIO:
            return _right_path(question)
    return ", ".join(sorted(letter[number] for number in question.key))


def _right_path(question: Question) -> str:
    places = {decision.id: place for place, decision in enumerate(question.decisions, 1)}
    return ", ".join(
        _(
            "turn %(number)d: %(letter)s",
            number=places[step.decision.id],
            letter=LETTERS[[o.number for o in step.decision.options].index(step.chosen)],
        )
        for step in best_path(question).steps
    )
