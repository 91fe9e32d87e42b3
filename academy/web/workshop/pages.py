"""Pages of the workshop."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar
from uuid import UUID

from academy.store.queries.panels import DefectRow
from academy.web.pages import Page
from academy.web.parts import Choosable, Fact, Filled, Listed, PanelSection, ReadingsTable


@dataclass(frozen=True, slots=True)
class WorkshopPage(Page):
    """What stands in the workshop, and what has to be done there first."""

    template: ClassVar[str] = "workshop/overview.html"
    to_do: tuple[Listed, ...]
    suspects: tuple[Listed, ...]
    panels: tuple[Listed, ...]
    tasks: ReadingsTable | None
    gauges: tuple[Listed, ...]
    foils: tuple[Listed, ...]
    machines: tuple[Listed, ...]
    set_ups: tuple[Listed, ...]
    products: tuple[Listed, ...]
    may_change_settings: bool


@dataclass(frozen=True, slots=True)
class PanelPage(Page):
    """Adding a panel."""

    template: ClassVar[str] = "workshop/panel.html"
    form: Filled
    panel_id: UUID
    substrates: tuple[Choosable, ...]
    curvatures: tuple[Choosable, ...]
    clear_coats: tuple[Choosable, ...]
    histories: tuple[Choosable, ...]


@dataclass(frozen=True, slots=True)
class PanelMapPage(Page):
    """A panel: what has come off it and what is left."""

    template: ClassVar[str] = "workshop/panel_map.html"
    title: str
    panel_id: UUID
    facts: tuple[Fact, ...]
    sections: tuple[PanelSection, ...]
    sessions: tuple[ReadingsTable, ...]
    prepared: tuple[tuple[str, UUID, tuple[DefectRow, ...]], ...]
    may_write: bool


@dataclass(frozen=True, slots=True)
class DefectPage(Page):
    """Noting a prepared defect."""

    template: ClassVar[str] = "workshop/defect.html"
    form: Filled
    section_name: str
    section_id: UUID
    defect_id: UUID
    severities: tuple[Choosable, ...]


@dataclass(frozen=True, slots=True)
class LabelPage(Page):
    """A label to print and stick on."""

    template: ClassVar[str] = "workshop/label.html"
    title: str
    lines: tuple[str, ...]
    address: str
    qr_svg: str
    back_url: str


@dataclass(frozen=True, slots=True)
class GaugePage(Page):
    """Adding a gauge."""

    template: ClassVar[str] = "workshop/gauge.html"
    form: Filled
    gauge_id: UUID
    methods: tuple[Choosable, ...]


@dataclass(frozen=True, slots=True)
class GaugeHistoryPage(Page):
    """A gauge with its verifications."""

    template: ClassVar[str] = "workshop/gauge_history.html"
    title: str
    gauge_id: UUID
    facts: tuple[Fact, ...]
    states: tuple[Listed, ...]
    verifications: tuple[ReadingsTable, ...]


@dataclass(frozen=True, slots=True)
class VerifyPage(Page):
    """Verifying a gauge on zero and on foils."""

    template: ClassVar[str] = "workshop/verify.html"
    form: Filled
    title: str
    gauge_id: UUID
    verification_id: UUID
    method: str
    metal: str
    standards: tuple[Choosable, ...]
    labels: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class FoilPage(Page):
    """Adding a certified foil."""

    template: ClassVar[str] = "workshop/foil.html"
    form: Filled
    foil_id: UUID


@dataclass(frozen=True, slots=True)
class MachinePage(Page):
    """Adding a machine."""

    template: ClassVar[str] = "workshop/machine.html"
    form: Filled
    machine_id: UUID
    kinds: tuple[Choosable, ...]
    sources: tuple[Choosable, ...]


@dataclass(frozen=True, slots=True)
class CheckPage(Page):
    """Noting a machine's electrical check."""

    template: ClassVar[str] = "workshop/check.html"
    form: Filled
    label: str
    machine_id: UUID


@dataclass(frozen=True, slots=True)
class SetUpPage(Page):
    """Saving a set-up."""

    template: ClassVar[str] = "workshop/set_up.html"
    form: Filled
    set_up_id: UUID
    machines: tuple[Choosable, ...]
    products: tuple[Choosable, ...]


@dataclass(frozen=True, slots=True)
class ScannedSetUpPage(Page):
    """A set-up as its label shows it."""

    template: ClassVar[str] = "workshop/scanned_set_up.html"
    title: str
    set_up_id: UUID
    facts: tuple[Fact, ...]
    unread: Listed | None
    at_panel: tuple[Listed, ...]
    may_write: bool


@dataclass(frozen=True, slots=True)
class ProductPage(Page):
    """Adding a product with its data sheet, or a new revision of the sheet."""

    template: ClassVar[str] = "workshop/product.html"
    form: Filled
    product_id: UUID
    sheet_id: UUID
    label: str


@dataclass(frozen=True, slots=True)
class SheetPage(Page):
    """A product and its safety data sheet, to be read and acknowledged."""

    template: ClassVar[str] = "workshop/sheet.html"
    title: str
    product_id: UUID
    purpose: str
    sheet_id: UUID | None
    link: str
    revised: str
    read: bool
    may_write: bool


@dataclass(frozen=True, slots=True)
class SettingsPage(Page):
    """What the owner decides for the workshop."""

    template: ClassVar[str] = "workshop/settings.html"
    form: Filled
    combinations: tuple[Choosable, ...]
    countries: tuple[Choosable, ...]


@dataclass(frozen=True, slots=True)
class NewStudyPage(Page):
    """Choosing who reads what in a gauge study."""

    template: ClassVar[str] = "workshop/new_study.html"
    form: Filled
    gauge_label: str
    gauge_id: UUID
    study_id: UUID
    people: tuple[Choosable, ...]
    sections: tuple[Choosable, ...]


@dataclass(frozen=True, slots=True)
class StudyTurnPage(Page):
    """One person reads every section once."""

    template: ClassVar[str] = "workshop/study_turn.html"
    form: Filled
    study_id: UUID
    round_id: UUID
    turn: str
    person: str
    number: int
    total: int
    sections: tuple[Choosable, ...]


@dataclass(frozen=True, slots=True)
class StudyAnswerPage(Page):
    """What a gauge study says."""

    template: ClassVar[str] = "workshop/study_answer.html"
    study_id: UUID
    gauge_id: UUID
    says: tuple[str, ...]
    may_take_over: bool


@dataclass(frozen=True, slots=True)
class CorrectionsPage(Page):
    """What stands in an entry, each value with the way to correct it, and what was corrected."""

    template: ClassVar[str] = "workshop/corrections.html"
    title: str
    entries: tuple[Listed, ...]
    done: ReadingsTable | None


@dataclass(frozen=True, slots=True)
class CorrectPage(Page):
    """One value to correct; ``field`` has its name, its word and what stands there.

    ``typed_as`` is the kind of control; ``required`` says that nothing is no answer.
    """

    template: ClassVar[str] = "workshop/correct.html"
    title: str
    form: Filled
    field: Choosable
    typed_as: str
    required: bool
    correction_id: UUID
    back: str
