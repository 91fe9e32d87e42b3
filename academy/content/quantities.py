"""Numbers in running text: read as written, compared with the table, printed with mils."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from html import escape
from itertools import zip_longest

from academy.content.units import MIL_PER_UM, unit_agrees, unit_code, unit_written, with_unit
from academy.domain.curriculum.lessons import Fact

_WRITTEN = re.compile(r"(?<![\w.])[-−+]?\d+(?:[ \u00a0\u202f,]\d{3})*(?:\.\d+)?")
_JOINER = re.compile(r"\s*(?:to|and|or|by|down to|up to|,|±|×|x|/|-|–|\u2002)\s*(?:±\s*)?")
_MICROMETRES = re.compile(r"[\s\u00a0]*[µμ]m")
_RANGE_HYPHEN = re.compile(r"(?<=\d)\s*[-–]\s*(?=\d)")


@dataclass(frozen=True, slots=True)
class WrittenNumber:
    """A number as the author wrote it; its digits say how finely it was rounded."""

    value: Decimal
    decimals: int
    start: int
    end: int

    def agrees_with(self, exact: float) -> bool:
        """Return whether the exact value rounds to what is written."""
        half = Decimal(1).scaleb(-self.decimals) / 2
        slack = Decimal("1e-9") * max(Decimal(1), abs(self.value))
        return abs(Decimal(repr(exact)) - self.value) <= half + slack


@dataclass(frozen=True, slots=True)
class Quantity:
    """The words of a linked number, and what a page prints for them."""

    text: str
    html: str


def written_numbers(text: str) -> tuple[WrittenNumber, ...]:
    """Return the numbers in a text, in order; a hyphen between digits is a range."""
    text = _RANGE_HYPHEN.sub(lambda match: "\u2002".ljust(len(match[0])), text)
    found = []
    for match in _WRITTEN.finditer(text):
        digits = re.sub(r"[ \u00a0\u202f,]", "", match[0]).replace("−", "-")
        decimals = len(digits.partition(".")[2])
        found.append(WrittenNumber(Decimal(digits), decimals, match.start(), match.end()))
    return tuple(found)


def fact_text(fact: Fact) -> str:
    """Return the whole of a fact: its value or range with the unit."""
    number = f"{fact.low:.10g}"
    if fact.high is not None:
        number = f"{number} to {fact.high:.10g}"
    return with_unit(number, fact.unit)


def fact_disagrees(text: str, fact: Fact) -> bool:
    """Return whether a text says other numbers than the fact.

    A range may be quoted whole or by one of its ends; a fact is not rounded.
    """
    said = [number.value for number in written_numbers(text)]
    ends = [fact.low] if fact.high is None else [fact.low, fact.high]
    known = [Decimal(repr(end)) for end in ends]
    return said[0] not in known if len(said) == 1 else said != known


def rounded(value: float) -> str:
    """Return a computed value with three significant digits, for a link left empty."""
    if value == 0:
        return "0"
    digits = Decimal(f"{value:.3g}")
    return f"{digits:f}"


def foreign_unit(text: str, code: str) -> str | None:
    """Return a unit written in the text that is not the one of this code, else None."""
    for number in written_numbers(text):
        match = unit_written(text, number.end)
        if match is not None and not unit_agrees(match[1], code):
            return match[1]
    return None


def quantity(text: str, attributes: Sequence[tuple[str, str]]) -> Quantity:
    """Return the linked number as a page prints it; micrometres get mils beside them.

    The values and their unit stand in ``data-values`` and ``data-unit`` as
    well, so that a page can show them in another system of units.
    """
    numbers = written_numbers(text)
    last = unit_written(text, numbers[-1].end) if numbers else None
    described = [*attributes]
    if last is not None:
        values = " ".join(str(number.value) for number in numbers)
        described += [("unit", unit_code(last[1])), ("values", values)]
    data = "".join(f' data-{name}="{escape(value)}"' for name, value in described)
    return Quantity(text, f'<span class="quantity"{data}>{_with_mils(text, numbers)}</span>')


def _with_mils(text: str, numbers: Sequence[WrittenNumber]) -> str:
    """Put mils behind each micrometre unit, for all the numbers it belongs to."""
    pieces: list[str] = []
    printed = 0
    chain: list[WrittenNumber] = []
    for number, following in zip_longest(numbers, numbers[1:]):
        unit = unit_written(text, number.end)
        micrometres = unit is not None and unit_agrees(unit[1], "um")
        end = unit.end() if unit is not None and micrometres else number.end
        chain.append(number)
        if following is not None and _JOINER.fullmatch(text[end : following.start]):
            continue
        if micrometres:
            mils = f'<span class="mil">({_in_mil(text, chain)})</span>'
            pieces.append(f"{escape(text[printed:end], quote=False)} {mils}")
            printed = end
        chain = []
    return "".join(pieces) + escape(text[printed:], quote=False)


def _in_mil(text: str, numbers: Sequence[WrittenNumber]) -> str:
    # A mil is 25.4 µm: two decimals are a quarter of a micrometre, as fine as a gauge shows.
    decimals = 2 + min(1, max(number.decimals for number in numbers))
    values = [float(number.value) * MIL_PER_UM for number in numbers]
    if min(abs(value) for value in values) >= 10:
        decimals -= 1
    said = f"{values[0]:.{decimals}f}"
    for before, number, value in zip(numbers, numbers[1:], values[1:], strict=False):
        joiner = _MICROMETRES.sub("", text[before.end : number.start])
        said += f"{escape(joiner, quote=False)}{value:.{decimals}f}"
    return f"{said}\u00a0mil"
