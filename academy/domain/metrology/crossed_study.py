"""The measurements of a gauge study: every operator measures every part several times."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from academy.domain.metrology.errors import NotBalanced, StudyTooSmall
from academy.domain.metrology.exact import Written, exact


@dataclass(frozen=True, slots=True)
class Measurement:
    """One reading of a part by an operator."""

    operator: str
    part: str
    value: Written


@dataclass(frozen=True, slots=True)
class CrossedStudy:
    """The readings by operator and part, each cell with the same number of trials."""

    operators: tuple[str, ...]
    parts: tuple[str, ...]
    trials: int
    cells: dict[tuple[str, str], list[Fraction]]

    def of_operator(self, operator: str) -> list[Fraction]:
        """Return every reading of one operator."""
        return [value for part in self.parts for value in self.cells[operator, part]]

    def of_part(self, part: str) -> list[Fraction]:
        """Return every reading of one part."""
        return [value for operator in self.operators for value in self.cells[operator, part]]

    def all(self) -> list[Fraction]:
        """Return every reading."""
        return [value for operator in self.operators for value in self.of_operator(operator)]


def crossed_study(measurements: Iterable[Measurement]) -> CrossedStudy:
    """Arrange measurements by operator and part.

    Raises
    ------
    StudyTooSmall
        fewer than two operators, parts or trials
    NotBalanced
        an operator measured some part more or less often than the others
    """
    cells: dict[tuple[str, str], list[Fraction]] = defaultdict(list)
    for measurement in measurements:
        cells[measurement.operator, measurement.part].append(exact(measurement.value))
    operators = tuple(dict.fromkeys(operator for operator, _ in cells))
    parts = tuple(dict.fromkeys(part for _, part in cells))
    trials = max((len(values) for values in cells.values()), default=0)
    if min(len(operators), len(parts), trials) < 2:
        raise StudyTooSmall(len(operators), len(parts), trials)
    for operator in operators:
        for part in parts:
            taken = len(cells.get((operator, part), ()))
            if taken != trials:
                raise NotBalanced(operator, part, taken, trials)
    return CrossedStudy(operators, parts, trials, dict(cells))
