"""What has come off a section, when it retires, and which section to prepare next."""

from __future__ import annotations

import pytest

from academy.domain.workshop.panels import (
    EnoughSections,
    FewSectionsLeft,
    NoSectionLeft,
    PrepareSection,
    SectionNeed,
    SessionOnSection,
    WorkedSection,
    section_state,
    sections_for,
)
from tests.support.clock import NOW


def sessions(*removed: tuple[str, ...]) -> list[SessionOnSection]:
    return [SessionOnSection(NOW, one) for one in removed]


def test_the_worst_spot_decides_what_is_left() -> None:
    state = section_state(sessions(("1.0", "2.5"), ("0.5", "1.5")), 8, 2)
    assert (state.spots_um, state.used_um, state.left_um) == ((1.5, 4.0), 4.0, 4.0)


def test_noise_below_nothing_gives_no_paint_back() -> None:
    assert section_state(sessions(("2.0",), ("-0.4",)), 8, 1).used_um == 2.0


@pytest.mark.parametrize(("second", "retired"), [("0.69", False), ("0.7", True), ("0.71", True)])
def test_a_section_retires_itself_when_the_budget_is_used(second: str, retired: bool) -> None:
    """0.1 and 0.7 are exactly 0.8, as they were written."""
    assert section_state(sessions(("0.1",), (second,)), "0.8", 1).retired is retired


def test_spots_that_a_task_did_not_read_lost_nothing() -> None:
    assert section_state(sessions(("1.0",)), 8, 3).spots_um == (1.0, 0.0, 0.0)


def section(
    name: str, left_um: float = 6, *, prepared: bool = False, **more: object
) -> WorkedSection:
    fields: dict[str, object] = {"substrate": "steel", "spots": 9, "sacrificial": False}
    return WorkedSection(name=name, left_um=left_um, prepared=prepared, **(fields | more))  # type: ignore[arg-type]


NEED = SectionNeed("Polish", ("steel",), 5, 3.0)


@pytest.mark.parametrize(
    ("unfit"),
    [
        section("plastic", substrate="plastic"),
        section("few spots", spots=4),
        section("nearly used", 2.9),
        section("sacrificial", sacrificial=True),
        section("overdrawn", -1),
    ],
    ids=lambda one: one.name,
)
def test_a_section_that_cannot_carry_the_task_is_not_counted(unfit: WorkedSection) -> None:
    found = sections_for(NEED, [unfit])
    assert (found.left, found.advice) == (0, NoSectionLeft())


def test_the_section_with_the_most_left_is_prepared_next() -> None:
    found = sections_for(NEED, [section("a", 4), section("b", 7), section("c", 8, prepared=True)])
    assert (found.left, found.ready, found.advice) == (3, 1, PrepareSection("b", 7))


def test_enough_prepared_sections_ask_for_nothing() -> None:
    both = [section("a", prepared=True), section("b", prepared=True)]
    assert sections_for(NEED, both).advice == EnoughSections(2)
    assert sections_for(NEED, both[:1]).advice == FewSectionsLeft(1)
