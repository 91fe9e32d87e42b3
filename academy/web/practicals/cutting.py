"""The answer to 'may this section be cut again?', with the arithmetic, above a working step."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal, InvalidOperation

from flask import request

from academy.domain.metrology.budget import PlannedStep
from academy.domain.practical.cutting import CutAnswer, may_section_be_cut
from academy.store.queries.cutting import section_known
from academy.store.queries.practicals import StoredPractical
from academy.web.context import db
from academy.web.formats import sentence_text
from academy.web.identity import signed_in
from academy.web.language import gettext as _
from academy.web.parts import Fact

LARGEST_UM = 50


@dataclass(frozen=True, slots=True)
class CuttingAgain:
    """The question as answered, and the plan it was answered for."""

    sign: str
    answer: str
    reason: str
    facts: tuple[Fact, ...]
    planned_um: str
    give_or_take_um: str


def cutting_again(stored: StoredPractical) -> CuttingAgain | None:
    """Return the answer for the plan in the address, else for the trainee's; None without readings."""
    plan = stored.practical.plan
    planned = _typed("planned_um", plan.expected_um if plan else None)
    give = _typed("give_or_take_um", plan.give_or_take_um if plan else None)
    known = section_known(db(), signed_in().shop_id, stored.section_id)
    if known is None or stored.practical.task.limit_um is None:
        return None
    answer = may_section_be_cut(stored.practical, known, PlannedStep(planned, give))
    if answer is None:
        return None
    return CuttingAgain(
        _sign(answer),
        _answer(answer),
        sentence_text(answer.reason),
        (
            Fact(_("Spot that decides"), str(answer.spot)),
            Fact(_("Taken off there so far"), f"{answer.used_um:.2f} µm"),
            Fact(_("Planned, at most"), f"{planned + give:.2f} µm"),
            Fact(_("Left of the section's budget"), f"{answer.left_um:.2f} µm"),
        ),
        f"{planned:f}",
        f"{give:f}",
    )


def _answer(answer: CutAnswer) -> str:
    if answer.allowed is None:
        return _("Ask.")
    if answer.allowed:
        return _("Nothing recorded forbids it; the supervisor decides.")
    return _("No.")


def _sign(answer: CutAnswer) -> str:
    return {True: "within", False: "exceeded", None: "cannot-tell"}[answer.allowed]


def _typed(name: str, otherwise: Decimal | None) -> Decimal:
    """Return a removal from the address; what is none there gives way to the plan's."""
    try:
        value = Decimal(request.args.get(name, "").replace(",", "."))
    except InvalidOperation:
        value = otherwise or Decimal(0)
    sound = value.is_finite() and 0 <= value <= LARGEST_UM
    return round(value, 2) if sound else otherwise or Decimal(0)
