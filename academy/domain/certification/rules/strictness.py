"""The figures behind 'quick', 'careful' and 'strict'.

Policy of this platform: chosen so that the three rules of one strictness cost
about as many panels, and checked by simulation (the benchmark
competence-rules).  All weigh a trainee who spoils one section in fifty, whom
a shop wants, against one who spoils three in ten, whom it cannot let near a
customer's car.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from academy.domain.curriculum.evidence_rules import Strictness

WANTED = 0.02
UNWANTED = 0.30


@dataclass(frozen=True, slots=True)
class Figures:
    """One strictness in numbers.

    ``straight`` is the run asked for; ``refused_wanted`` and
    ``passed_unwanted`` are the two risks the outcome lines are drawn for;
    the readings have to show with ``confidence`` that the share ``coverage``
    of all sections keeps to the limit.
    """

    straight: int
    refused_wanted: float
    passed_unwanted: float
    coverage: float
    confidence: float


FIGURES: Mapping[Strictness, Figures] = MappingProxyType(
    {
        Strictness.QUICK: Figures(5, 0.05, 0.07, coverage=0.80, confidence=0.80),
        Strictness.CAREFUL: Figures(8, 0.05, 0.04, coverage=0.90, confidence=0.85),
        Strictness.STRICT: Figures(12, 0.05, 0.01, coverage=0.95, confidence=0.90),
    }
)
