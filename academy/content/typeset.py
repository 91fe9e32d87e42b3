"""Setting a text: tokens in, checked HTML and plain words out."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from markdown_it.token import Token

from academy.content.calculator_blocks import calculator_html
from academy.content.check_blocks import read_check
from academy.content.figure_blocks import figure_html
from academy.content.links import Links
from academy.content.markdown import (
    READER,
    anchor_of,
    drop_anchor,
    read_markdown,
    sanitised,
)
from academy.content.problems import Place, Problems
from academy.content.references import References
from academy.content.units import bare_quantities

# Part of every digest: raised when the same source is set differently.
RENDERER_VERSION = 2

_HTML = re.compile(r"</?[A-Za-z][^<>]*>|<!--")


@dataclass(frozen=True, slots=True)
class SetText:
    """A text as a page shows it, and its words without markup and figures."""

    html: str
    text: str
    figures: tuple[str, ...] = ()
    facts: tuple[str, ...] = ()


def inline_html(text: SetText) -> str:
    """Return a single paragraph without its tags, for a label or a table cell."""
    html = text.html.strip()
    if html.count("<p>") == 1 and html.startswith("<p>") and html.endswith("</p>"):
        return html[3:-4]
    return html


@dataclass(slots=True)
class Typesetter:
    """Sets texts of one file; everything wrong with them is noted."""

    path: str
    references: References
    problems: Problems

    def set(self, tokens: Sequence[Token], anchors: frozenset[str] | None = None) -> SetText:
        """Set the tokens of one text; ``anchors`` are the headings it may link to."""
        links = Links(self.references, self.problems, anchors)
        work = _Setting(self, links)
        html = "".join(work.pieces(tokens))
        return SetText(html, work.words(), tuple(work.figure_names), tuple(links.facts))

    def words(self, text: str, line: int) -> str:
        """Return a short text from front matter as plain words, its links resolved."""
        return self.set(read_markdown(text, line)).text


class _Setting:
    """One text being set: figures wait aside until the rest is sanitised."""

    def __init__(self, typesetter: Typesetter, links: Links) -> None:
        self._typesetter = typesetter
        self._problems = typesetter.problems
        self._links = links
        self._figures: list[str] = []
        self._words: list[str] = []
        self.figure_names: list[str] = []

    def pieces(self, tokens: Sequence[Token]) -> Iterator[str]:
        """Yield the HTML of the text, figures in their places."""
        ready = [self._block(token, before) for token, before in _with_heading(tokens)]
        html = sanitised(READER.renderer.render(ready, READER.options, {}))
        for number, figure in enumerate(self._figures):
            before, _, html = html.partition(_stand_in(number))
            yield before
            yield figure
        yield html

    def words(self) -> str:
        """Return the plain words, a line for each block."""
        return "\n".join(words for words in self._words if words)

    def _place(self, token: Token) -> Place:
        return Place(self._typesetter.path, (token.map or [1])[0])

    def _block(self, token: Token, heading: Token | None) -> Token:
        if token.type == "heading_open" and heading is not None:
            token.attrSet("id", anchor_of(heading))
        elif token.type == "inline":
            if heading is not None:
                drop_anchor(token)
            self._inline(token)
        elif token.type == "fence":
            return self._fence(token)
        elif token.type == "code_block":
            self._problems.error(
                self._place(token), "this line is indented too far to be read as text"
            )
        elif token.type in ("th_open", "td_open"):
            _column_class(token)
        return token

    def _inline(self, token: Token) -> None:
        line = (token.map or [1])[0]
        children: list[Token] = []
        words: list[str] = []
        for part in _parts(token.children or []):
            place = Place(self._typesetter.path, line)
            if part[0].type == "link_open":
                children.append(self._link(part, place, words))
            else:
                self._running(part[0], place)
                words.append(_words_of(part[0]))
                children.append(part[0])
            line += sum(child.type in ("softbreak", "hardbreak") for child in part)
        token.children = children
        self._words.append("".join(words).strip())

    def _link(self, part: Sequence[Token], place: Place, words: list[str]) -> Token:
        inner = "".join(map(_words_of, part[1:-1])).strip()
        href = str(part[0].attrs.get("href", ""))
        found = self._links.resolved(href, inner, place)
        if href.startswith(("lesson:", "term:", "#")):
            self._bare(inner, place)
        words.append(inner if found is None else found.text)
        token = Token("html_inline", "", 0)
        token.content = "" if found is None else found.html
        return token

    def _running(self, token: Token, place: Place) -> None:
        if token.type == "image":
            self._problems.error(place, "pictures are not shown; draw a figure block")
        if token.type not in ("text", "code_inline"):
            return
        self._bare(token.content, place)
        html = _HTML.search(token.content)
        if html and token.type == "text":
            self._problems.error(place, "HTML is not read: '%(html)s'", html=html[0])

    def _bare(self, text: str, place: Place) -> None:
        for bare in bare_quantities(text):
            self._problems.error(
                place,
                "'%(bare)s' stands bare; link it to a fact, a calculation or (example)",
                bare=bare,
            )

    def _fence(self, token: Token) -> Token:
        kind, _, name = token.info.strip().partition(" ")
        block = Token("html_block", "", 0)
        if kind == "figure":
            block.content = self._figure(name.strip(), token)
        elif kind == "calculator":
            block.content = self._calculator(name.strip(), token)
        elif kind == "check":
            block.content = self._check(token)
        else:
            self._problems.error(
                self._place(token),
                "a block opens with `figure` or `calculator` and a name, or with `check`",
            )
        return block

    def _figure(self, name: str, token: Token) -> str:
        drawn = figure_html(name, token.content, self._place(token), self._problems)
        if drawn is None:
            return ""
        self._typesetter.references.figure_kinds.add(name)
        self._typesetter.references.figures_drawn += 1
        self.figure_names.append(name)
        return self._aside(drawn)

    def _calculator(self, name: str, token: Token) -> str:
        place = self._place(token)
        # Only a lesson has headings to link to; a question is a form itself, and forms do not nest.
        if self._links.anchors is None:
            self._problems.error(place, "a calculator stands in a lesson's own text only")
            return ""
        address = self._typesetter.references.addresses.calculator
        box = calculator_html(name, token.content, place, address, self._problems)
        return "" if box is None else self._aside(box)

    def _aside(self, html: str) -> str:
        """Keep our own HTML away from the sanitiser, which would strip it."""
        self._figures.append(html)
        return _stand_in(len(self._figures) - 1)

    def _check(self, token: Token) -> str:
        found = read_check(token.content, self._place(token), self._problems)
        if found is None:
            return ""
        ask, answer = (
            self._typesetter.set(read_markdown(part.text, part.line))
            for part in (found.ask, found.answer)
        )
        self._words += [ask.text, answer.text]
        self._links.facts += [*ask.facts, *answer.facts]
        summary = inline_html(ask)
        return (
            f'<details class="inline-check"><summary>{summary}</summary>{answer.html}</details>\n'
        )


def _stand_in(number: int) -> str:
    # Authors cannot write HTML, so this cannot be forged.
    return f'<div data-figure="{number}"></div>'


def _with_heading(tokens: Sequence[Token]) -> Iterator[tuple[Token, Token | None]]:
    for index, token in enumerate(tokens):
        if token.type == "heading_open":
            yield token, tokens[index + 1]
        elif token.type == "inline" and index and tokens[index - 1].type == "heading_open":
            yield token, token
        else:
            yield token, None


def _parts(children: Sequence[Token]) -> Iterator[list[Token]]:
    """Yield each child on its own, and each link with all it holds."""
    part: list[Token] = []
    for child in children:
        part.append(child)
        if part[0].type != "link_open" or child.type == "link_close":
            yield part
            part = []


def _words_of(token: Token) -> str:
    return " " if token.type in ("softbreak", "hardbreak") else token.content


def _column_class(token: Token) -> None:
    # The reader writes style="text-align:right", which the site's policy forbids.
    style = str(token.attrs.pop("style", ""))
    if style.endswith("right"):
        token.attrSet("class", "number")
    elif style.endswith("center"):
        token.attrSet("class", "middle")
