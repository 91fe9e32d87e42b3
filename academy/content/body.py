"""The body of a question: stem, options, and the headings that may follow."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from markdown_it.token import Token

from academy.content.keys import KeyFault
from academy.content.markdown import Section, read_markdown, sections
from academy.content.matter import Page
from academy.content.options import Asked, read_asked
from academy.content.problems import Problems
from academy.content.schema import MatchMatter, QuestionMatter
from academy.content.typeset import SetText, Typesetter

WHY, PARTNERS = "Why", "Partners"


@dataclass(frozen=True, slots=True)
class QuestionFile:
    """One question's page, its sound front matter, and what sets and notes its texts."""

    page: Page
    module_id: str
    matter: QuestionMatter
    setter: Typesetter
    problems: Problems

    def error(self, line: int, template: str, /, **values: object) -> None:
        """Note an error at a line of the body."""
        self.problems.error(self.page.file.at(line), template, **values)

    def error_at(self, field: str, template: str, /, **values: object) -> None:
        """Note an error at a field of the front matter."""
        self.problems.error(self.page.matter.place([field]), template, **values)

    def key_faults(self, faults: Iterable[KeyFault]) -> None:
        """Note what is wrong with the key or the marks."""
        for fault in faults:
            self.error_at(fault.field, fault.template, **fault.values)

    def front_lines(self) -> dict[str, int]:
        """Return the line of each field, of the file and of the body."""
        lines = {key[0]: line for key, line in self.page.matter.lines.items() if len(key) == 1}
        return {"": 1, "stem": self.page.body_line} | lines


@dataclass(frozen=True, slots=True)
class Body:
    """What stands in a question's body; ``headed`` leaves out Why and Partners."""

    asked: Asked
    opening: tuple[Token, ...]
    headed: tuple[Section, ...]
    why: Section | None
    partners: Section | None


def read_body(file: QuestionFile) -> Body:
    """Split the body at its headings."""
    opening, headed = sections(read_markdown(file.page.body, file.page.body_line), 2)
    partners = _first(headed, PARTNERS) if isinstance(file.matter, MatchMatter) else None
    why = _first(headed, WHY)
    rest = tuple(section for section in headed if section not in (why, partners))
    return Body(read_asked(opening), tuple(opening), rest, why, partners)


def explanation(file: QuestionFile, body: Body) -> SetText:
    """Set the text under ``## Why``."""
    return file.setter.set(body.why.tokens) if body.why else SetText("", "")


def markup(tokens: Sequence[Token]) -> str:
    """Return the author's Markdown of some tokens, for the rules about emphasis."""
    return "\n".join(token.content for token in tokens if token.type == "inline")


def first_line(tokens: Sequence[Token], otherwise: int) -> int:
    """Return the line a text starts at."""
    return next((token.map[0] for token in tokens if token.map), otherwise)


def _first(headed: Sequence[Section], title: str) -> Section | None:
    return next((section for section in headed if section.title == title), None)
