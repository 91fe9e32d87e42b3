"""What is wrong with the course's source, sentence by sentence."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from academy.domain.curriculum.findings import Severity


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A line of a file below ``content/``."""

    path: str
    line: int

    def __str__(self) -> str:
        return f"{self.path}:{self.line}"


@dataclass(frozen=True, slots=True)
class Problem:
    """One fault of the source, for its author; ``line`` counts from 1.

    ``template`` and ``values`` give ``message`` again in another language.
    """

    path: str
    line: int
    message: str
    severity: Severity = Severity.ERROR
    template: str = ""
    values: Mapping[str, object] = field(default_factory=lambda: MappingProxyType({}))

    def __str__(self) -> str:
        return f"{self.path}:{self.line}: {self.message}"


class Problems:
    """Collects problems; nothing here is raised one by one."""

    def __init__(self) -> None:
        self._found: dict[tuple[str, int, str], Problem] = {}

    def error(self, place: Place, template: str, /, **values: object) -> None:
        """Note something that keeps the course from being served."""
        self.note(place, Severity.ERROR, template, values)

    def warning(self, place: Place, template: str, /, **values: object) -> None:
        """Note something the author should look at."""
        self.note(place, Severity.WARNING, template, values)

    def note(
        self, place: Place, severity: Severity, template: str, values: Mapping[str, object]
    ) -> None:
        """Note one problem; the same sentence at the same line counts once."""
        message = template % values
        problem = Problem(place.path, place.line, message, severity, template, values)
        self._found.setdefault((place.path, place.line, message), problem)

    def in_order(self) -> tuple[Problem, ...]:
        """Return the problems by file and line, errors before warnings."""
        return tuple(
            sorted(self._found.values(), key=lambda p: (p.path, p.line, p.severity, p.message))
        )
