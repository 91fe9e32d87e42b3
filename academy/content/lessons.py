"""Reading a lesson."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from markdown_it.token import Token

from academy.content.glossary_links import with_meanings
from academy.content.markdown import anchor_is_sound, anchor_of, read_markdown, title_of
from academy.content.matter import Page
from academy.content.problems import Problems
from academy.content.references import LessonSign, References
from academy.content.schema import LessonMatter
from academy.content.typeset import SetText, Typesetter
from academy.content.validated import validated
from academy.domain.curriculum.lessons import Heading, Lesson
from academy.domain.curriculum.reading import readability

FEWEST_WORDS, MOST_WORDS = 600, 1300
LEAST_EASE = 50
WANTED_HEADINGS = ("What good looks like", "What goes wrong and why")
_HAZARD = re.compile(r"\b(hazards?|dangers?|cautions?|protect yourself|stay safe)\b", re.I)


@dataclass(frozen=True, slots=True)
class LessonDraft:
    """A lesson whose front matter and headings are known; its text is not set yet."""

    page: Page
    matter: LessonMatter
    module_id: str
    tokens: tuple[Token, ...]
    headings: tuple[Heading, ...]

    @property
    def path(self) -> str:
        """Return ``module/lesson``."""
        return f"{self.module_id}/{self.page.file.name}"

    @property
    def sign(self) -> LessonSign:
        """Return what links to this lesson need to know."""
        return LessonSign(self.matter.title, {h.anchor: h.text for h in self.headings})


def read_lesson(page: Page, module_id: str, problems: Problems) -> LessonDraft | None:
    """Read the front matter and the headings; None (noted) when the former does not hold."""
    matter = validated(LessonMatter, page.matter, problems)
    if matter is None:
        return None
    tokens = read_markdown(page.body, page.body_line)
    headings = headings_of(tokens)
    _check_headings(page, headings, problems)
    return LessonDraft(page, matter, module_id, tuple(tokens), headings)


def set_lesson(draft: LessonDraft, references: References, problems: Problems) -> Lesson:
    """Set the text and note what makes a lesson hard to read or incomplete."""
    page, matter = draft.page, draft.matter
    anchors = frozenset(heading.anchor for heading in draft.headings)
    text = Typesetter(page.file.path, references, problems).set(draft.tokens, anchors)
    reading = readability(text.text)
    _check_text(draft, text, reading.words, reading.ease, problems)
    return Lesson(
        id=page.file.name,
        module_id=draft.module_id,
        title=matter.title,
        objectives=tuple(matter.objectives),
        minutes=matter.minutes,
        cautions=tuple(matter.cautions),
        headings=draft.headings,
        body_html=with_meanings(text.html, references.glossary, references.addresses),
        words=len(text.text.split()),
        figures=text.figures,
        digest=page.file.digest,
        restudy=matter.restudy,
        text=text.text,
        facts=tuple(dict.fromkeys(text.facts)),
    )


def headings_of(tokens: Sequence[Token]) -> tuple[Heading, ...]:
    """Return the headings of a text in order."""
    return tuple(
        Heading(anchor_of(inline), title_of(inline), int(token.tag[1:]), (token.map or [1])[0])
        for token, inline in pairwise(tokens)
        if token.type == "heading_open"
    )


def _check_headings(page: Page, headings: Sequence[Heading], problems: Problems) -> None:
    seen: set[str] = set()
    for heading in headings:
        place = page.file.at(heading.line)
        if heading.depth == 1:
            problems.error(place, "headings start at ##; the title is in the front matter")
        if not anchor_is_sound(heading.anchor):
            problems.error(
                place,
                "the anchor '%(anchor)s' is not small letters, digits and hyphens",
                anchor=heading.anchor,
            )
        if heading.anchor in seen:
            problems.error(place, "the anchor #%(anchor)s stands twice", anchor=heading.anchor)
        seen.add(heading.anchor)


def _check_text(
    draft: LessonDraft, text: SetText, words: int, ease: float | None, problems: Problems
) -> None:
    place = draft.page.file.at(draft.page.body_line)
    if not FEWEST_WORDS <= words <= MOST_WORDS:
        problems.warning(
            place,
            "the lesson has %(words)s words; %(fewest)s to %(most)s suit one sitting",
            words=words,
            fewest=FEWEST_WORDS,
            most=MOST_WORDS,
        )
    if ease is not None and ease < LEAST_EASE:
        problems.warning(
            place,
            "the reading ease is %(ease).0f; below %(least)s sentences or words are too long",
            ease=ease,
            least=LEAST_EASE,
        )
    titles = [heading.text.lower() for heading in draft.headings]
    for wanted in WANTED_HEADINGS:
        if wanted.lower() not in titles:
            problems.warning(place, "the lesson has no heading '%(wanted)s'", wanted=wanted)
    for heading in draft.headings[1:]:
        if _HAZARD.search(heading.text):
            problems.warning(
                draft.page.file.at(heading.line),
                "'%(title)s' comes late; what can hurt somebody comes first",
                title=heading.text,
            )
