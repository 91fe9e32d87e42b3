"""The course while it is being read: what is known so far and where it stands."""

from __future__ import annotations

from dataclasses import dataclass, field

from academy.content.matter import Page
from academy.content.problems import Place, Problems
from academy.content.references import References
from academy.content.source import Source
from academy.domain.curriculum.findings import Finding, Subject
from academy.domain.curriculum.wording import Wording


@dataclass(slots=True)
class Draft:
    """The source, the names texts may use, and every part's page and lines.

    ``unread`` holds the modules in which a file could not be read: what they
    teach and ask is then not known, and not judged.
    """

    source: Source
    problems: Problems
    references: References
    pages: dict[tuple[str, str], Page] = field(default_factory=dict)
    places: dict[Subject, Place] = field(default_factory=dict)
    wordings: list[Wording] = field(default_factory=list)
    unread: set[str] = field(default_factory=set)

    def place(self, kind: str, name: str, *keys: object) -> Place:
        """Return where a part of some page's front matter stands."""
        page = self.pages.get((kind, name))
        return page.matter.place(keys) if page else Place("course.md", 1)

    def place_of(self, subject: Subject) -> Place:
        """Return where a subject stands: its part, else the whole."""
        whole = Subject(subject.kind, subject.id)
        return self.places.get(subject) or self.places.get(whole) or Place("course.md", 1)

    def note(self, finding: Finding) -> None:
        """Note what a rule of the curriculum found."""
        self.problems.note(
            self.place_of(finding.subject), finding.severity, finding.template, finding.values
        )
