"""What the page of elements is filled with: invented people, jobs and numbers."""

from __future__ import annotations

from dataclasses import dataclass

from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.lessons import Caution
from academy.domain.curriculum.questions import Option, Region
from academy.web.formats import length_text, ramp_step
from academy.web.parts import (
    BoardCell,
    BoardRow,
    BoardTable,
    Cell,
    Choosable,
    Column,
    Entry,
    Fact,
    Filled,
    Link,
    Listed,
    PanelSection,
    ReadingsTable,
    ReviewedAnswer,
    Row,
    SpotEntries,
    Step,
)

EMPTY = Filled()
REFUSED = Filled(
    typed={
        "gauge-name": "Bench 2",
        "after": "1o4",
        "role": "trainee",
        "spot-2-2": "11.2",
        "spot-1-1": "118.2",
        "note": "Second pass was dry.",
    },
    faults={
        "after": "“1o4” is not a number. Write the reading in µm, for example 104 or 104.5.",
        "substrate": "Choose what the panel is made of: it decides which gauge can read it.",
        "photograph": "Say whether a photograph may be kept.",
        "spot-2-2": "Reading 2 at spot 2 is 11.2 µm. Did you mean 112 µm?",
    },
)
SUBSTRATES = tuple(Choosable(word, word.capitalize()) for word in ("steel", "aluminium", "plastic"))
ROLES = (
    Choosable("trainee", "Trainee", "studies, takes quizzes, works on practice panels"),
    Choosable("supervisor", "Supervisor", "records practicals and signs them"),
)
ANSWERS_TO_A_CRITERION = (
    Choosable("met", "Met"),
    Choosable("not met", "Not met"),
    Choosable("not seen", "Not seen"),
)
SPOTS = tuple(
    SpotEntries(
        f"Spot {spot}", tuple(Entry(f"spot-{spot}-{one}", f"Reading {one}") for one in (1, 2, 3))
    )
    for spot in (1, 2)
)
LESSONS = (
    Listed("Before you start", "#lesson", "read", "right"),
    Listed("Where the cord runs", "#lesson", "8 minutes"),
    Listed("What to do when a pad catches", "#lesson"),
)
CAUTION = Caution(
    "rotating-pad",
    "A rotating pad catches",
    "<p>Tie hair back. No lanyard, no loose sleeve, no cloth near the pad. "
    "Let the pad stop before you put the machine down.</p>",
)
STEP = Step(
    "Read: Where the cord runs",
    "#next",
    "Open the lesson",
    "It comes before the first practical on a panel.",
    8,
)
CARD = (
    Fact("Panel", "Bonnet 7, section C"),
    Fact("Task", "Single-step polishing"),
    Fact("Trainee", "Ida Marlow"),
    Fact("Supervisor", "Tom Reyes"),
    Fact("Counts as", "assessed"),
    Fact("Limit", "3 µm at any spot"),
)
BEFORE_AFTER_UM = ((118.2, 116.4), (117.6, 115.1), (119.0, 116.9), (116.8, 113.4), (118.8, 118.1))
LIMIT_UM = 3.0
SECTIONS_UM = (118, 112, 97, 104, 88, 121)
OPTIONS = (
    Option(
        1, "<p>Wipe the section and look at it under the lamp.</p>", "<p>You see what is left.</p>"
    ),
    Option(
        2, "<p>Add compound and make a second pass.</p>", "<p>You would cut without knowing.</p>"
    ),
    Option(3, "<p>Measure the same spots again.</p>", "<p>Right, and it comes after the wipe.</p>"),
)
PARTNERS = (
    Option(1, "shows what the eye cannot: thickness", ""),
    Option(2, "shows marks that are left", ""),
    Option(3, "shows haze from the side", ""),
)
REGIONS = (Region(1, "the top edge", 22, 12, 30, 20), Region(2, "the middle", 22, 45, 30, 20))
ANSWERS = (
    ReviewedAnswer(OPTIONS[0].text_html, OPTIONS[0].reason_html, chosen=False, right=True),
    ReviewedAnswer(OPTIONS[1].text_html, OPTIONS[1].reason_html, chosen=True, right=False),
    ReviewedAnswer(OPTIONS[2].text_html, OPTIONS[2].reason_html, chosen=False, right=False),
)
TRAIL = (Link("Study", "#main"), Link("Technique", "#main"), Link("The test spot", "#main", True))
PAPER = (Fact("Card", "2031"), Fact("Printed", "25 November 2026"))


@dataclass(frozen=True, slots=True)
class ShownQuestion:
    """A question as a trainee sees it before answering."""

    interaction: Interaction
    options: tuple[Option, ...] = OPTIONS
    partners: tuple[Option, ...] = PARTNERS
    unit: str = "percent"
    regions: tuple[Region, ...] = REGIONS
    figure_html: str = ""
    figure_notes_html: str = ""


def readings_table() -> ReadingsTable:
    """Return five spots read before and after, one of them over the limit."""
    rows = tuple(
        Row(f"Spot {number}", _spot_cells(before, after))
        for number, (before, after) in enumerate(BEFORE_AFTER_UM, start=1)
    )
    columns = tuple(Column(label) for label in ("Spot", "Before", "After", "Removed"))
    return ReadingsTable(
        "Readings of section C, in µm", (*columns, Column("Against 3 µm", words=True)), rows
    )


def _spot_cells(before_um: float, after_um: float) -> tuple[Cell, ...]:
    removed_um = before_um - after_um
    within = removed_um <= LIMIT_UM
    return (
        Cell(f"{before_um:.1f}"),
        Cell(f"{after_um:.1f}"),
        Cell(f"{removed_um:.1f}", ramp_step(removed_um, 4.0)),
        Cell("within" if within else "over the limit", sign="within" if within else "exceeded"),
    )


def panel_sections() -> tuple[PanelSection, ...]:
    """Return six sections of a bonnet; the last one is kept back."""
    return tuple(
        PanelSection(
            f"Section {letter}",
            length_text(thickness_um, 0),
            "may be cut again" if thickness_um >= 100 else "not to be cut again",
            ramp_step(thickness_um - 80, 45),
            f"#section-{letter}" if thickness_um >= 100 else "",
        )
        for letter, thickness_um in zip("ABCDEF", SECTIONS_UM, strict=True)
    )


def board_table() -> BoardTable:
    """Return three people and five kinds of work, every level among them."""
    alone = BoardCell("level-3", "Alone", "#evidence", ("until 14 March 2027",))
    on_site = BoardCell("level-2", "Supervisor on site", "#evidence", ("until 2 February 2027",))
    beside = BoardCell(
        "level-1", "Supervisor beside", "#evidence", ("one assessed practical missing",)
    )
    not_yet = BoardCell("level-0", "Not yet", "#evidence", ("module Edges and lines not passed",))
    held = BoardCell(
        "held",
        "Supervisor beside",
        "#evidence",
        ("held back: wrist injury", "review on 9 December 2026"),
    )
    kinds = (
        "Measuring",
        "Single-step polishing",
        "Compounding",
        "Sanding marks",
        "Edges and lines",
    )
    rows = (
        BoardRow("Ida Marlow", "#ida", (alone, on_site, beside, not_yet, not_yet)),
        BoardRow("Ben Okoro", "#ben", (alone, alone, on_site, beside, held)),
        BoardRow("Lena Fischer-Hollenbeck", "#lena", (beside, not_yet, not_yet, not_yet, not_yet)),
    )
    return BoardTable("Who may do what today", "Person", kinds, rows)
