"""Every calculation by name, with the module that holds it and one line about it.

Kept apart from the calculations themselves so that the list of names costs no
import: ``academy calc`` prints this table, ``academy calc convert`` imports
one module of it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

MODULES: Mapping[str, Mapping[str, str]] = {
    "units": {
        "convert": "a value in another unit: thickness, temperature, force, speed, volume",
    },
    "statistics": {
        "statistics": "mean, standard deviation and autocorrelation of readings",
        "one-way-anova": "whether groups of readings differ by more than their scatter",
        "paired-difference": "mean difference of values that belong together, with its interval",
    },
    "removal": {
        "removal": "paint removed at marked spots, with its uncertainty",
        "may-cut-again": "whether a section has budget left for another step",
        "readings-needed": "how many readings show a change of a given size",
    },
    "limits": {
        "conformity": "the probability that a value keeps to its limits",
        "guard-band": "how far inside a limit to accept",
        "tolerance-bound": "a bound that a stated share of all values keeps to",
    },
    "gauge": {
        "gauge-verification": "a gauge against a certified standard",
        "gauge-study": "how much of the variation is the gauge, the operators, the parts",
    },
    "evidence": {
        "cut-score": "a form's pass mark from the judges' ratings",
        "proportion": "intervals for a share passed out of few tries",
        "sequential": "competent, not yet or undecided, panel by panel",
        "operating-characteristic": "how a sequential rule treats a trainee of a given failure rate",
        "panels-for-proof": "how many straight passes prove a pass rate",
    },
    "assessment_items": {
        "item-statistics": "how many get each question right, whether the able ones do, reliability",
        "distractors": "who takes which option, and keys that may be wrong",
        "one-parameter": "difficulty of each question, one slope for all, from sparse responses",
        "two-parameter": "difficulty and slope of each question",
        "ability": "what one person's responses say about ability",
    },
    "assessment_decisions": {
        "decision-consistency": "whether another form would decide alike, wrong passes and wrong fails",
        "agreement": "how far raters agree: alpha, kappas, intraclass correlations",
    },
    "machine_speed": {
        "machine-speed": "speed of the working face: rotary rim and mean, orbit, orbit with spin",
    },
    "polishing": {
        "dwell": "time under the pad, working time, sliding distance and evenness of parallel rows",
        "contact-pressure": "pressure under a flat pad, over an edge or on a crown",
        "removal-ratio": "how many times one way of working takes off what another does",
    },
    "heat": {
        "panel-heat": "heat under a pad held still and how far the panel warms",
        "late-reading": "how much of the warming of a plastic panel a late reading still shows",
    },
    "conditions": {
        "dew-point": "dew point of the air and whether a panel is warm enough above it",
        "dilution": "strength of a 1:r mixture, or stock and water for a strength",
    },
    "exposure": {
        "vibration": "a day's hand-arm vibration against the action and limit values",
        "noise": "a day's noise as a dose or level by one of three rules",
    },
}


@dataclass(frozen=True, slots=True)
class Entry:
    """Where a calculation lives (below ``academy.calculations``) and what it says."""

    name: str
    module: str
    says: str


def _entries() -> dict[str, Entry]:
    return {
        name: Entry(name, module, says)
        for module, calculations in MODULES.items()
        for name, says in calculations.items()
    }


CATALOGUE: Mapping[str, Entry] = MappingProxyType(_entries())
