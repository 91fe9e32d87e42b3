"""Pages of the calculators."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from academy.web.calculators.controls import Controls
from academy.web.calculators.results import ShownResult
from academy.web.pages import Page
from academy.web.parts import Filled, Link, Listed, ReadingsTable


@dataclass(frozen=True, slots=True)
class CalculatorGroup:
    """What somebody is doing, and the calculators that help with it."""

    anchor: str
    title: str
    calculators: tuple[Listed, ...]


@dataclass(frozen=True, slots=True)
class CommandLineOnly:
    """A calculation that only the command line has."""

    name: str
    says: str


@dataclass(frozen=True, slots=True)
class CalculatorsPage(Page):
    """All calculators, by what a person does."""

    template: ClassVar[str] = "calculators/overview.html"
    groups: tuple[CalculatorGroup, ...]
    others: tuple[CommandLineOnly, ...]


@dataclass(frozen=True, slots=True)
class Computed:
    """A result with everything needed to check it."""

    results: tuple[ShownResult, ...]
    table: ReadingsTable | None
    link: str
    command: str
    unrounded: str


@dataclass(frozen=True, slots=True)
class CalculatorPage(Page):
    """One calculator: its form, what came out, and how it is computed."""

    template: ClassVar[str] = "calculators/calculator.html"
    name: str
    title: str
    says: str
    form: Filled
    controls: Controls
    units: str
    unit_links: tuple[Link, ...]
    example_url: str
    computed: Computed | None
    formula: str
    source: str
    caution: str
