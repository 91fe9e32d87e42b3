"""Questions of every interaction, scenarios that unfold, and the blueprint a form is drawn by."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from academy.domain.curriculum.kinds import Interaction, Level
from academy.domain.curriculum.lessons import HeadingLink


@dataclass(frozen=True, slots=True)
class Option:
    """One option of a question, numbered as in the source, with the reason for it."""

    number: int
    text_html: str
    reason_html: str


@dataclass(frozen=True, slots=True)
class PanelState:
    """What a scenario shows of its panel; only what the author gave is set."""

    thickness_um: float | None = None
    temperature_c: float | None = None
    finish: str | None = None
    minutes: float | None = None


@dataclass(frozen=True, slots=True)
class Effect:
    """What one option of a decision does to the panel, and which decision follows.

    ``marks`` is what the option adds to the question, in percent; ``follows`` is
    ``None`` where the situation ends.
    """

    marks: int
    removed_um: float = 0.0
    warms_k: float = 0.0
    takes_minutes: float = 0.0
    finish: str | None = None
    follows: str | None = None


@dataclass(frozen=True, slots=True)
class Decision:
    """One decision of a scenario."""

    id: str
    stem_html: str
    options: tuple[Option, ...]
    key: int
    effects: Mapping[int, Effect]


@dataclass(frozen=True, slots=True)
class Region:
    """A rectangle of a hotspot figure, in percent of its width and height."""

    number: int
    label: str
    left: float
    top: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Question:
    """One question; which fields carry meaning depends on ``interaction``.

    choice: ``key`` holds one option number.  multiple response: several.
    order: the option numbers in the right order.  match: ``key_pairs`` maps an
    option number to the number of its partner in ``partners``.  numeric entry:
    ``key_value``, ``unit`` and ``tolerance``; options are wrong values that are
    recognised.  hotspot: ``regions``, ``key`` names the right ones.  scenario:
    ``panel`` and ``decisions``, the first of which opens it.

    ``marks`` maps an option number to percent of the question where partial
    credit is given; scores are clamped to 0..100.  ``rating_percent`` is the
    share of barely competent trainees expected to be right.
    """

    id: str
    module_id: str
    interaction: Interaction
    level: Level
    objective_id: str
    teaches: HeadingLink
    stem_html: str
    options: tuple[Option, ...]
    key: tuple[int, ...]
    rating_percent: int
    rating_reason: str
    source: str
    digest: str
    shuffle: bool = True
    marks: Mapping[int, int] = field(default_factory=lambda: MappingProxyType({}))
    partners: tuple[Option, ...] = ()
    key_pairs: Mapping[int, int] = field(default_factory=lambda: MappingProxyType({}))
    key_value: float | None = None
    unit: str = ""
    tolerance: float = 0.0
    figure_html: str = ""
    regions: tuple[Region, ...] = ()
    panel: PanelState | None = None
    decisions: tuple[Decision, ...] = ()
    apart_from: tuple[str, ...] = ()
    explanation_html: str = ""


@dataclass(frozen=True, slots=True)
class BlueprintCell:
    """How many questions of one objective at one level a form carries."""

    objective_id: str
    level: Level
    questions: int


@dataclass(frozen=True, slots=True)
class Blueprint:
    """What every form of a module's quiz is made of."""

    cells: tuple[BlueprintCell, ...]

    @property
    def questions(self) -> int:
        """Return the length of a form."""
        return sum(cell.questions for cell in self.cells)
