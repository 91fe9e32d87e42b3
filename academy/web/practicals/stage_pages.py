"""Pages of the stages at the panel: one form each, to be worked with gloves on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar
from uuid import UUID

from academy.domain.curriculum.lessons import Caution
from academy.domain.curriculum.tasks import Criterion
from academy.domain.practical.stages import Stage
from academy.web.exposure_notice import ExposureNotice
from academy.web.pages import Page
from academy.web.parts import Choosable, Fact, Filled
from academy.web.practicals.cutting import CuttingAgain
from academy.web.practicals.readings import ReadingField


@dataclass(frozen=True, slots=True)
class OpenHere:
    """One open practical of this supervisor, to switch to with one tap."""

    trainee: str
    waits_for: str
    url: str
    current: bool


@dataclass(frozen=True, slots=True)
class Offline:
    """What a phone needs to go on without a network: who enters, what comes next, which pages to keep."""

    practical_id: UUID
    person_id: UUID
    following: str
    pages: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class AtThePanel:
    """What stands on the page of every stage: whose practical, the others, and what the form carries."""

    practical_id: UUID
    stage: Stage
    trainee: str
    task: str
    place: str
    open_here: tuple[OpenHere, ...]
    step_id: UUID
    version: int
    offline: Offline
    cautions: tuple[Caution, ...] = ()


@dataclass(frozen=True, slots=True)
class FirstLookPage(Page):
    """The panel under the named light."""

    template: ClassVar[str] = "practicals/first_look.html"
    panel: AtThePanel
    form: Filled
    photographs: int


@dataclass(frozen=True, slots=True)
class GaugeSeenPage(Page):
    """Today's verification of the gauge, and what it can prove for this task."""

    template: ClassVar[str] = "practicals/gauge_seen.html"
    panel: AtThePanel
    form: Filled
    gauge: str
    sign: str
    says: str
    reach: str
    verify_url: str


@dataclass(frozen=True, slots=True)
class CheckRow:
    """One set-up check: its number in the form, its text, and what was answered before."""

    number: int
    text: str
    answer: str
    reason: str
    protects: bool


@dataclass(frozen=True, slots=True)
class MaskPage(Page):
    """All present, the exceptions, and the two proofs."""

    template: ClassVar[str] = "practicals/set_up.html"
    panel: AtThePanel
    form: Filled
    checks: tuple[CheckRow, ...]
    excepted: bool
    asks_foil: bool
    foils: tuple[Choosable, ...]
    asks_edge: bool
    photographs: int


@dataclass(frozen=True, slots=True)
class PlanPage(Page):
    """What the trainee means to do and expects."""

    template: ClassVar[str] = "practicals/plan.html"
    panel: AtThePanel
    form: Filled
    asks_removal: bool
    limit: str


@dataclass(frozen=True, slots=True)
class WorkPage(Page):
    """A test spot or a working step."""

    template: ClassVar[str] = "practicals/work.html"
    panel: AtThePanel
    form: Filled
    title: str
    test_spot: bool
    number: int
    cutting: CuttingAgain | None
    set_ups: tuple[Choosable, ...]
    typed: bool
    pressures: tuple[Choosable, ...]
    helps: tuple[Choosable, ...]
    exposure: ExposureNotice


@dataclass(frozen=True, slots=True)
class TraineeMarksPage(Page):
    """What the trainee sees, before the supervisor says a word."""

    template: ClassVar[str] = "practicals/trainee_marks.html"
    panel: AtThePanel
    form: Filled
    against: tuple[Choosable, ...]


@dataclass(frozen=True, slots=True)
class InspectionPage(Page):
    """What the supervisor sees, beside what the trainee said."""

    template: ClassVar[str] = "practicals/inspection.html"
    panel: AtThePanel
    form: Filled
    trainee_said: tuple[Fact, ...]
    against: tuple[Choosable, ...]


@dataclass(frozen=True, slots=True)
class CooledPage(Page):
    """The panel has the temperature of the bay again."""

    template: ClassVar[str] = "practicals/cooled.html"
    panel: AtThePanel
    form: Filled


@dataclass(frozen=True, slots=True)
class ReadingsPage(Page):
    """Typing readings, spot by spot.

    ``usual_um`` is about what a reading here will be: the leading digits that
    stay.  ``decimals`` are those the gauge shows.
    """

    template: ClassVar[str] = "practicals/readings.html"
    panel: AtThePanel
    title: str
    spots: tuple[tuple[ReadingField, ...], ...]
    reasons: tuple[Choosable, ...]
    why: tuple[str, ...]
    faults: int
    fault: str
    note: str
    says: str
    form: Filled
    photographs: int
    usual_um: str
    decimals: int
    sheet_url: str


@dataclass(frozen=True, slots=True)
class BenchSheetPage(Page):
    """A blank sheet to write readings on, for where no phone can be used."""

    template: ClassVar[str] = "practicals/bench_sheet.html"
    title: str
    rounds: tuple[str, ...]
    spots: tuple[int, ...]
    boxes: tuple[int, ...]
    limit: str


@dataclass(frozen=True, slots=True)
class StagePage(Page):
    """Criteria and talk: plain forms."""

    template: ClassVar[str] = "practicals/stage.html"
    panel: AtThePanel
    title: str
    form: Filled
    criteria: tuple[Criterion, ...]
    drills: tuple[Choosable, ...]
    to_change: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class StopPage(Page):
    """Why work stops for safety."""

    template: ClassVar[str] = "practicals/stop.html"
    form: Filled
    practical_id: UUID
    step_id: UUID
    trainee: str
    reasons: tuple[Choosable, ...]
