"""Files of headings: cautions and glossary terms."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from academy.content.markdown import Section, anchor_is_sound, read_markdown, sections
from academy.content.problems import Problems
from academy.content.source import SourceFile


@dataclass(frozen=True, slots=True)
class Headed:
    """One heading with its text, and the file it stands in."""

    file: SourceFile
    section: Section


def read_headed(file: SourceFile, problems: Problems) -> Iterator[Headed]:
    """Yield the headings of a file; text before the first one is noted."""
    opening, found = sections(read_markdown(file.text, 1), 2)
    if opening:
        line = (opening[0].map or [1])[0]
        problems.error(file.at(line), "this text stands before the first heading `## ...`")
    for section in found:
        place = file.at(section.line)
        if not anchor_is_sound(section.anchor):
            problems.error(
                place,
                "the anchor '%(anchor)s' is not small letters, digits and hyphens",
                anchor=section.anchor,
            )
        if not section.tokens:
            problems.error(place, "'%(title)s' has no text", title=section.title)
        yield Headed(file, section)


def unique(headed: list[Headed], problems: Problems) -> dict[str, Headed]:
    """Return the headings by anchor; one that stands twice is noted and kept once."""
    found: dict[str, Headed] = {}
    for entry in headed:
        anchor = entry.section.anchor
        if anchor in found:
            problems.error(
                entry.file.at(entry.section.line),
                "#%(anchor)s stands already in %(path)s",
                anchor=anchor,
                path=found[anchor].file.path,
            )
        found.setdefault(anchor, entry)
    return found
