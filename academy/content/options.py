"""The numbered list of a question: each option, and the reason under it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from markdown_it.token import Token

from academy.content.markdown import blocks
from academy.content.problems import Place, Problems


@dataclass(frozen=True, slots=True)
class Listed:
    """One item of the list, split into its first block and what stands under it."""

    number: int
    line: int
    first: tuple[Token, ...]
    rest: tuple[Token, ...]

    @property
    def everything(self) -> tuple[Token, ...]:
        """Return the whole item."""
        return (*self.first, *self.rest)


@dataclass(frozen=True, slots=True)
class Asked:
    """What stands before the list, the list, and the first line of anything after it."""

    stem: tuple[Token, ...]
    options: tuple[Listed, ...]
    stray_line: int | None


def read_asked(tokens: Sequence[Token]) -> Asked:
    """Split the tokens of one question or decision at its numbered list."""
    stem: list[Token] = []
    listed: tuple[Listed, ...] = ()
    stray: int | None = None
    for block in blocks(tokens):
        if block[0].type == "ordered_list_open" and not listed:
            listed = _items(block)
        elif not listed:
            stem += block
        elif stray is None:
            stray = (block[0].map or [1])[0]
    return Asked(tuple(stem), listed, stray)


def check_listed(asked: Asked, path: str, needs_reasons: bool, problems: Problems) -> None:
    """Note options that are misnumbered or lack their reason (L17), and text astray."""
    for place, option in enumerate(asked.options, 1):
        if option.number != place:
            problems.error(
                Place(path, option.line),
                "this option is numbered %(number)s and stands at place %(place)s",
                number=option.number,
                place=place,
            )
        if not option.first:
            problems.error(
                Place(path, option.line), "option %(number)s is empty", number=option.number
            )
        elif needs_reasons and not option.rest:
            problems.error(
                Place(path, option.line),
                "L17: option %(number)s has no reason under it; "
                "leave a line free and indent the reason",
                number=option.number,
            )
    if asked.stray_line is not None:
        problems.error(
            Place(path, asked.stray_line),
            "this text stands after the options and is not read; "
            "indent a reason under its option, or open a heading `## Why`",
        )


def _items(block: Sequence[Token]) -> tuple[Listed, ...]:
    found = []
    inner = list(block[1:-1])
    for item in blocks(inner):
        parts = list(blocks(item[1:-1]))
        first = tuple(parts[0]) if parts else ()
        rest = tuple(token for part in parts[1:] for token in part)
        number = int(item[0].info) if item[0].info.isdigit() else 0
        found.append(Listed(number, (item[0].map or [1])[0], first, rest))
    return tuple(found)
