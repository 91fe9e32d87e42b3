"""Schemes: what is asked before somebody may do a kind of work, and its examination."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from academy.domain.curriculum.kinds import Supervision


@dataclass(frozen=True, slots=True)
class Requirement:
    """What a scheme asks for one level of supervision.

    ``modules`` must have been passed; ``practicals`` maps a task to how many
    assessed practicals in a row must have been judged competent;
    ``examination`` asks for the scheme's examination.
    """

    level: Supervision
    modules: tuple[str, ...]
    practicals: Mapping[str, int]
    examination: bool = False


@dataclass(frozen=True, slots=True)
class ExaminationRule:
    """A scheme's examination: over all its modules, timed, opened by a supervisor.

    Every must-know objective of every module is on every form;
    ``others_per_module`` more questions come from each module.
    """

    minutes: int
    others_per_module: int
    retake_days: int


@dataclass(frozen=True, slots=True)
class SpokenQuestion:
    """A prepared question a supervisor asks when a result lies near the cut, with its model answer."""

    id: str
    objective_id: str
    text_html: str
    model_answer_html: str
    digest: str


@dataclass(frozen=True, slots=True)
class Scheme:
    """What is asked before somebody may do a kind of work, and for how long it holds."""

    id: str
    version: int
    kind_of_work: str
    title: str
    requirements: tuple[Requirement, ...]
    term_months: int
    body_html: str
    digest: str
    retake_days: int = 0
    examination: ExaminationRule | None = None

    @property
    def modules(self) -> tuple[str, ...]:
        """Return every module some level asks for, in the levels' order."""
        asked = (module for requirement in self.requirements for module in requirement.modules)
        return tuple(dict.fromkeys(asked))
