"""What a rule of the curriculum finds wrong, and in which part of the course."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum


class Severity(StrEnum):
    """An error keeps the course from being served; a warning does not."""

    ERROR = "error"
    WARNING = "warning"


@dataclass(frozen=True, slots=True)
class Subject:
    """The part of the course a finding is about.

    ``kind`` is the word an author uses (module, objective, question, ...);
    ``part`` narrows it down: ``option 2``, ``stem``, ``blueprint``.
    """

    kind: str
    id: str
    part: str = ""


@dataclass(frozen=True, slots=True)
class Finding:
    """One sentence about one part of the course; ``values`` fill ``template``."""

    subject: Subject
    severity: Severity
    template: str
    values: Mapping[str, object]

    def __str__(self) -> str:
        return self.template % self.values


def error(subject: Subject, template: str, /, **values: object) -> Finding:
    """Return a finding that keeps the course from being served."""
    return Finding(subject, Severity.ERROR, template, values)


def warning(subject: Subject, template: str, /, **values: object) -> Finding:
    """Return a finding an author should look at."""
    return Finding(subject, Severity.WARNING, template, values)
