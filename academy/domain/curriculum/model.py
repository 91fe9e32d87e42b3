"""The curriculum as frozen values, as compiled from ``content/``.

Text fields named ``*_html`` are rendered and sanitised; fields named ``*_md``
keep the author's Markdown.  Identifiers are the words an author writes; the
digest of the source stands beside everything a record may later point at.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from academy.domain.curriculum.kinds import (
    Interaction,
    Level,
    ObjectiveKind,
    Substrate,
    Supervision,
)

NOTHING: Mapping[str, int] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Caution:
    """A hazard and what to do about it; modules, lessons and tasks open with theirs."""

    id: str
    title: str
    text_html: str


@dataclass(frozen=True, slots=True)
class Objective:
    """One thing a trainee must know or be able to do."""

    id: str
    text: str
    kind: ObjectiveKind
    must_know: bool
    module_id: str


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading inside a lesson; ``anchor`` is what a question's link points to."""

    anchor: str
    text: str
    depth: int
    line: int


@dataclass(frozen=True, slots=True)
class Lesson:
    """One lesson of a module; ``id`` is unique in its module."""

    id: str
    module_id: str
    title: str
    objectives: tuple[str, ...]
    minutes: int
    cautions: tuple[str, ...]
    headings: tuple[Heading, ...]
    body_html: str
    words: int
    figures: tuple[str, ...]
    digest: str
    restudy: bool = False
    text: str = ""
    facts: tuple[str, ...] = ()

    @property
    def path(self) -> str:
        """Return ``module/lesson``, as questions write it."""
        return f"{self.module_id}/{self.id}"


@dataclass(frozen=True, slots=True)
class HeadingLink:
    """The heading that teaches a question: ``module/lesson#anchor``."""

    module_id: str
    lesson_id: str
    anchor: str

    def __str__(self) -> str:
        return f"{self.module_id}/{self.lesson_id}#{self.anchor}"


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


@dataclass(frozen=True, slots=True)
class Module:
    """One module of the course with its lessons and questions."""

    id: str
    number: int
    title: str
    summary_html: str
    cautions: tuple[str, ...]
    objectives: tuple[Objective, ...]
    lessons: tuple[Lesson, ...]
    questions: tuple[Question, ...]
    blueprint: Blueprint
    digest: str
    trainer_sheet_html: str = ""

    @property
    def must_know(self) -> tuple[Objective, ...]:
        """Return the objectives that have each to be met on their own."""
        return tuple(objective for objective in self.objectives if objective.must_know)


@dataclass(frozen=True, slots=True)
class Criterion:
    """How a practical task is judged; a failed critical one fails the practical."""

    id: str
    text: str
    critical: bool
    measured: bool = False


@dataclass(frozen=True, slots=True)
class PracticalTask:
    """One piece of supervised panel work: what is to be done and how it is judged.

    ``limit_um`` is the most that may be taken off at any spot; ``None`` for a
    task that is judged by eye alone.
    """

    id: str
    title: str
    kind_of_work: str
    objectives: tuple[str, ...]
    cautions: tuple[str, ...]
    spots: int
    readings_per_spot: int
    limit_um: float | None
    criteria: tuple[Criterion, ...]
    set_up_checks: tuple[str, ...]
    minutes: int
    body_html: str
    digest: str
    substrates: tuple[Substrate, ...] = (Substrate.STEEL, Substrate.ALUMINIUM)
    trainer_sheet_html: str = ""


@dataclass(frozen=True, slots=True)
class Drill:
    """Ten to twenty minutes of one hand skill, never assessed."""

    id: str
    title: str
    objectives: tuple[str, ...]
    cautions: tuple[str, ...]
    minutes: int
    body_html: str
    digest: str


@dataclass(frozen=True, slots=True)
class Requirement:
    """What a scheme asks for one level of supervision.

    ``modules`` must have been passed; ``practicals`` maps a task to how many
    assessed practicals in a row must have been judged competent;
    ``examination`` asks for the scheme's examination.
    """

    level: Supervision
    modules: tuple[str, ...]
    practicals: Mapping[str, int]
    examination: bool = False


@dataclass(frozen=True, slots=True)
class ExaminationRule:
    """A scheme's examination: over all its modules, timed, opened by a supervisor.

    Every must-know objective of every module is on every form;
    ``others_per_module`` more questions come from each module.
    """

    minutes: int
    others_per_module: int
    retake_days: int


@dataclass(frozen=True, slots=True)
class SpokenQuestion:
    """A prepared question a supervisor asks when a result lies near the cut, with its model answer."""

    id: str
    objective_id: str
    text_html: str
    model_answer_html: str
    digest: str


@dataclass(frozen=True, slots=True)
class Scheme:
    """What is asked before somebody may do a kind of work, and for how long it holds."""

    id: str
    version: int
    kind_of_work: str
    title: str
    requirements: tuple[Requirement, ...]
    term_months: int
    body_html: str
    digest: str
    retake_days: int = 0
    examination: ExaminationRule | None = None

    @property
    def modules(self) -> tuple[str, ...]:
        """Return every module some level asks for, in the levels' order."""
        asked = (module for requirement in self.requirements for module in requirement.modules)
        return tuple(dict.fromkeys(asked))


@dataclass(frozen=True, slots=True)
class GlossaryTerm:
    """One word of the trade and what it means here."""

    id: str
    term: str
    definition_html: str


@dataclass(frozen=True, slots=True)
class Fact:
    """One figure of the trade: where it comes from and how far it is to be trusted.

    ``high`` is ``None`` for a single value.  ``unit`` is the code the facts
    files use (``um``, ``C``, ``percent``); ``confidence`` is high, medium or low.
    """

    id: str
    says: str
    low: float
    high: float | None
    unit: str
    source: str
    confidence: str


@dataclass(frozen=True, slots=True)
class Course:
    """Everything compiled from ``content/``; ``digest`` changes when any source does.

    ``kinds_of_work`` maps the id of a kind of work to what pages call it.
    """

    title: str
    modules: tuple[Module, ...]
    tasks: tuple[PracticalTask, ...]
    drills: tuple[Drill, ...]
    schemes: tuple[Scheme, ...]
    cautions: tuple[Caution, ...]
    glossary: tuple[GlossaryTerm, ...]
    digest: str
    summary_html: str = ""
    kinds_of_work: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    facts: tuple[Fact, ...] = ()
    spoken: tuple[SpokenQuestion, ...] = ()

    def module(self, module_id: str) -> Module | None:
        """Return the module of that name, or None."""
        return next((m for m in self.modules if m.id == module_id), None)

    def lesson(self, module_id: str, lesson_id: str) -> Lesson | None:
        """Return one lesson, or None."""
        module = self.module(module_id)
        lessons = module.lessons if module else ()
        return next((lesson for lesson in lessons if lesson.id == lesson_id), None)

    def task(self, task_id: str) -> PracticalTask | None:
        """Return the practical task of that name, or None."""
        return next((t for t in self.tasks if t.id == task_id), None)

    def scheme(self, scheme_id: str) -> Scheme | None:
        """Return the scheme of that name, or None."""
        return next((s for s in self.schemes if s.id == scheme_id), None)

    def caution(self, caution_id: str) -> Caution | None:
        """Return the caution of that name, or None."""
        return next((c for c in self.cautions if c.id == caution_id), None)

    def question(self, question_id: str) -> Question | None:
        """Return one question of any module, or None."""
        return next((q for m in self.modules for q in m.questions if q.id == question_id), None)
