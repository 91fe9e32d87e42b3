"""Reading Markdown into tokens, and what of its HTML may reach a page."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import nh3
from markdown_it import MarkdownIt
from markdown_it.token import Token

_ANCHOR = re.compile(r"\s*\{#([^}\s]*)\}\s*$")
_ANCHOR_FORM = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")

# Raw HTML is off in the reader; the sanitiser is the second lock on the same door.
READER = MarkdownIt("commonmark", {"html": False}).enable("table")
_KEPT_TAGS = {
    "a", "blockquote", "br", "code", "details", "div", "em", "h2", "h3", "h4", "h5", "h6", "hr", "li",
    "ol", "p", "span", "strong", "summary", "table", "tbody", "td", "th", "thead", "tr", "ul",
}  # fmt: skip
_SANITISER = nh3.Cleaner(
    tags=_KEPT_TAGS,
    attributes={
        "a": {"href", "class"},
        "details": {"class"},
        "div": {"class", "data-figure"},
        "ol": {"start"},
        "span": {"class"},
        "td": {"class"},
        "th": {"class"},
        **{f"h{depth}": {"id"} for depth in range(2, 7)},
    },
    generic_attribute_prefixes={"data-"},
    url_schemes=set(),
    link_rel=None,
)


@dataclass(frozen=True, slots=True)
class Section:
    """A heading and the tokens up to the next heading of the same depth or above."""

    anchor: str
    title: str
    line: int
    tokens: tuple[Token, ...]


def read_markdown(text: str, first_line: int) -> list[Token]:
    """Return the tokens; ``map`` is shifted so that ``map[0]`` is a line of the file."""
    tokens = READER.parse(text)
    for token in tokens:
        if token.map is not None:
            token.map = [token.map[0] + first_line, token.map[1] + first_line]
    return tokens


def sanitised(html: str) -> str:
    """Return HTML with only the tags and attributes the course's pages use."""
    return _SANITISER.clean(html)


def title_of(inline: Token) -> str:
    """Return a heading's words without its anchor."""
    return _ANCHOR.sub("", plain_text(inline))


def anchor_of(inline: Token) -> str:
    """Return a heading's anchor: the one in braces, else its words joined by hyphens."""
    match = _ANCHOR.search(plain_text(inline))
    if match is not None:
        return match[1]
    return re.sub(r"[^a-z0-9]+", "-", plain_text(inline).lower()).strip("-")


def anchor_is_sound(anchor: str) -> bool:
    """Return whether an anchor is small letters, digits and hyphens."""
    return _ANCHOR_FORM.fullmatch(anchor) is not None


def drop_anchor(inline: Token) -> None:
    """Take the anchor in braces off a heading before it is printed."""
    for child in reversed(inline.children or []):
        if child.type == "text":
            child.content = _ANCHOR.sub("", child.content)
            return


def plain_text(inline: Token) -> str:
    """Return the words of an inline token without markup."""
    return "".join(
        " " if child.type in ("softbreak", "hardbreak") else child.content
        for child in inline.children or []
    )


def sections(tokens: Sequence[Token], depth: int) -> tuple[list[Token], list[Section]]:
    """Split tokens at the headings of one depth; the first part stands before any."""
    starts = [
        index
        for index, token in enumerate(tokens)
        if token.type == "heading_open" and token.tag == f"h{depth}" and token.level == 0
    ]
    opening = list(tokens[: starts[0]] if starts else tokens)
    found = []
    for start, end in pairwise([*starts, len(tokens)]):
        inline = tokens[start + 1]
        found.append(
            Section(
                anchor_of(inline),
                title_of(inline),
                (tokens[start].map or [1])[0],
                tuple(tokens[start + 3 : end]),
            )
        )
    return opening, found


def blocks(tokens: Sequence[Token]) -> Iterator[list[Token]]:
    """Yield the tokens of one block after the other, at the outer level of the slice."""
    block: list[Token] = []
    depth = 0
    for token in tokens:
        block.append(token)
        depth += token.nesting
        if depth == 0:
            yield block
            block = []
