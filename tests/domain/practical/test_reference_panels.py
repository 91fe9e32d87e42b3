"""When a supervisor may assess, as a truth table."""

from __future__ import annotations

from typing import Any
from uuid import uuid4

import pytest

from academy.domain.practical.reference_panels import (
    AgreedAlone,
    Compared,
    MayAssess,
    NothingAgreed,
    ReferencesLeft,
    SupervisorRecord,
    TooFarFromReferences,
    compared,
    refuse_agreement,
    standing_of,
)
from tests.support.clock import NOW, later


def known(**overrides: Any) -> SupervisorRecord:
    """Return a new supervisor in a shop with two reference panels, both judged and all the same."""
    fields: dict[str, Any] = {
        "founding": False,
        "agreed_on_references": False,
        "assessed_before_references": False,
        "references": 2,
        "judged": 2,
        "compared": pairs(10, 0),
        "latest_at": NOW,
    }
    return SupervisorRecord(**(fields | overrides))


def pairs(same: int, other: int, critical: bool = False) -> tuple[Compared, ...]:
    return tuple(
        Compared("Bonnet 1", f"criterion {n}", critical and n >= same, True, n < same)
        for n in range(same + other)
    )


@pytest.mark.parametrize(
    ("overrides", "kind"),
    [
        ({}, MayAssess),
        ({"references": 0, "judged": 0, "compared": ()}, MayAssess),
        ({"judged": 0, "compared": (), "founding": True}, MayAssess),
        ({"judged": 0, "compared": (), "agreed_on_references": True}, MayAssess),
        ({"judged": 0, "compared": (), "assessed_before_references": True}, MayAssess),
        ({"judged": 1}, ReferencesLeft),
        ({"judged": 0, "compared": ()}, ReferencesLeft),
        ({"compared": pairs(8, 2)}, MayAssess),
        ({"compared": pairs(7, 3)}, TooFarFromReferences),
        ({"compared": pairs(9, 1, critical=True)}, TooFarFromReferences),
    ],
)
def test_who_may_assess(overrides: dict[str, Any], kind: type) -> None:
    assert isinstance(standing_of(known(**overrides)), kind)


def test_a_miss_says_by_how_much_and_when_to_judge_again() -> None:
    missed = standing_of(known(compared=pairs(6, 4)))
    assert isinstance(missed, TooFarFromReferences)
    assert "6 of 10" in str(missed)
    assert str(later(days=14).date()) in str(missed)


def test_only_what_was_agreed_is_compared() -> None:
    criteria = {"clean": ("Clean", True), "even": ("Even", False)}
    found = compared("Wing", criteria, {"clean": True}, {"clean": False, "even": True})
    assert found == (Compared("Wing", "Clean", True, True, False),)


def test_an_agreement_needs_two_where_there_are_two() -> None:
    one, other = uuid4(), uuid4()
    refuse_agreement({"clean": True}, [one], supervisors=1)
    refuse_agreement({"clean": True}, [one, other], supervisors=3)
    with pytest.raises(AgreedAlone):
        refuse_agreement({"clean": True}, [one, one], supervisors=2)
    with pytest.raises(NothingAgreed):
        refuse_agreement({}, [one, other], supervisors=2)
