"""Schemes: what is asked before somebody may do a kind of work, and its examination."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from academy.domain.curriculum.evidence_rules import EvidenceRule, in_a_row
from academy.domain.curriculum.kinds import Harm, Supervision
from academy.domain.people.roles import Role


@dataclass(frozen=True, slots=True)
class Requirement:
    """What a scheme asks for one level of supervision.

    ``modules`` must have been passed; ``practicals`` maps a task to how many
    assessed practicals in a row must have been judged competent, ``rules`` to
    another rule that weighs them; no task stands in both.  ``examination``
    asks for the scheme's examination.
    """

    level: Supervision
    modules: tuple[str, ...]
    practicals: Mapping[str, int]
    examination: bool = False
    rules: Mapping[str, EvidenceRule] = field(default_factory=lambda: MappingProxyType({}))

    @property
    def evidence(self) -> Mapping[str, EvidenceRule]:
        """Return the rule of every task the level asks for."""
        rows = {task: in_a_row(sections) for task, sections in self.practicals.items()}
        return MappingProxyType(rows | dict(self.rules))


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
class DecisionRule:
    """Who decides on a certificate, and from which level one is needed.

    Below ``from_level`` the evidence alone says what somebody may do, always
    under a supervisor's eyes.  ``by`` names the roles that may decide,
    ``supervisors`` how many different ones must have assessed the practicals
    the decision rests on; ``trainer_may_decide`` lets one person train and
    decide, which certificate and board then say.
    """

    from_level: Supervision
    by: tuple[Role, ...] = (Role.OWNER,)
    supervisors: int = 1
    trainer_may_decide: bool = True

    def asked_at(self, level: Supervision) -> bool:
        """Return whether a level is held by decision and not by evidence alone."""
        return level.rank >= self.from_level.rank


@dataclass(frozen=True, slots=True)
class RecertificationRule:
    """What is assessed again before a certificate is decided on again.

    ``practicals`` maps a task to how many assessed practicals in a row must be
    competent within ``window_months`` before the last day, or after it.
    """

    practicals: Mapping[str, int]
    window_months: int
    examination: bool = False


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
    """What is asked before somebody may do a kind of work, and for how long it holds.

    After ``return_check_months`` without logged work somebody works beside a
    supervisor until a return check; 0 asks for none.  ``suspended_by`` names
    the harm that suspends the certificate.  Without a ``decision`` every level
    rests on the evidence alone; content always names one.
    """

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
    decision: DecisionRule | None = None
    recertification: RecertificationRule | None = None
    return_check_months: int = 0
    suspended_by: tuple[Harm, ...] = ()

    @property
    def modules(self) -> tuple[str, ...]:
        """Return every module some level asks for, in the levels' order."""
        asked = (module for requirement in self.requirements for module in requirement.modules)
        return tuple(dict.fromkeys(asked))
