"""The parts that pages are put together from: what the macros in ``templates/_macros`` take.

Each is a frozen value with finished text in it; nothing is computed in a
template.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from markupsafe import Markup


@dataclass(frozen=True, slots=True)
class Link:
    """A place to go; ``current`` marks the one the reader is at."""

    label: str
    url: str
    current: bool = False


@dataclass(frozen=True, slots=True)
class Shell:
    """What stands round every page: whose shop, who is signed in, where they can go.

    ``sign_out_url`` is empty when nobody is signed in; ``account`` then holds
    the link to sign in.  ``missing_without_tls`` says what plain HTTP beyond
    this machine takes away, or nothing.
    """

    shop_name: str
    language: str = "en"
    person_name: str = ""
    roles: tuple[str, ...] = ()
    navigation: tuple[Link, ...] = ()
    account: tuple[Link, ...] = ()
    sign_out_url: str = ""
    demo: bool = False
    missing_without_tls: str = ""


@dataclass(frozen=True, slots=True)
class Filled:
    """A form as it came back: what was typed and what is wrong, by control name.

    The empty name in ``faults`` is for what is wrong with the form as a whole.
    """

    typed: Mapping[str, str | Sequence[str]] = field(default_factory=dict)
    faults: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Choosable:
    """One entry of a select or one option card."""

    value: str
    label: str
    hint: str = ""


@dataclass(frozen=True, slots=True)
class Entry:
    """One box for one reading."""

    name: str
    label: str


@dataclass(frozen=True, slots=True)
class SpotEntries:
    """The boxes for one marked spot."""

    label: str
    entries: tuple[Entry, ...]


@dataclass(frozen=True, slots=True)
class Listed:
    """One line of a list of places, with what is to be said about it and its mark."""

    label: str
    url: str
    says: str = ""
    sign: str = ""


@dataclass(frozen=True, slots=True)
class Fact:
    """One ruled box of a job card."""

    name: str
    value: str


@dataclass(frozen=True, slots=True)
class Step:
    """The one thing to do next; ``minutes`` is None where nobody can say."""

    title: str
    url: str
    label: str
    reason: str = ""
    minutes: int | None = None


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a readings table; ``words`` sets it as text, not as numbers."""

    label: str
    words: bool = False


@dataclass(frozen=True, slots=True)
class Cell:
    """One value of a readings table, with its shade (0 is none) and its mark."""

    text: str
    step: int = 0
    sign: str = ""


@dataclass(frozen=True, slots=True)
class Row:
    """One spot, or one line of totals."""

    label: str
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class ReadingsTable:
    """Readings in rows; the first column names the row."""

    caption: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    totals: tuple[Row, ...] = ()


@dataclass(frozen=True, slots=True)
class PanelSection:
    """One section of a panel on its map; ``url`` is empty where it cannot be opened.

    ``thickness`` is what the ``micrometres`` filter writes.
    """

    label: str
    thickness: Markup
    says: str
    step: int = 0
    url: str = ""


@dataclass(frozen=True, slots=True)
class BoardCell:
    """What one person may do of one kind of work, and the sentences behind it."""

    sign: str
    word: str
    url: str
    says: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class BoardRow:
    """One person on the board."""

    name: str
    url: str
    cells: tuple[BoardCell, ...]


@dataclass(frozen=True, slots=True)
class BoardTable:
    """People down, kinds of work across."""

    caption: str
    people: str
    kinds: tuple[str, ...]
    rows: tuple[BoardRow, ...]


@dataclass(frozen=True, slots=True)
class ReviewedAnswer:
    """One option of an answered question with the reason for it."""

    text_html: str
    reason_html: str
    chosen: bool
    right: bool
