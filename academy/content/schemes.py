"""Reading schemes: what each level asks, who decides, for how long it holds."""

from __future__ import annotations

from types import MappingProxyType

from academy.content.markdown import read_markdown
from academy.content.matter import Page
from academy.content.problems import Problems
from academy.content.references import References
from academy.content.scheme_matter import (
    DecisionMatter,
    ExaminationMatter,
    LevelMatter,
    RecertificationMatter,
    SchemeMatter,
)
from academy.content.typeset import Typesetter
from academy.content.validated import validated
from academy.domain.curriculum.kinds import Supervision
from academy.domain.curriculum.schemes import (
    DecisionRule,
    ExaminationRule,
    RecertificationRule,
    Requirement,
    Scheme,
)
from academy.domain.people.roles import Role


def read_scheme(page: Page, references: References, problems: Problems) -> Scheme | None:
    """Read a scheme; its levels are kept lowest first."""
    matter = validated(SchemeMatter, page.matter, problems)
    if matter is None:
        return None
    _check_levels(page, matter, problems)
    _check_decision(page, matter, problems)
    return Scheme(
        id=page.file.name,
        version=matter.version,
        kind_of_work=matter.kind_of_work,
        title=matter.title,
        requirements=tuple(
            _requirement(level, asked)
            for level, asked in sorted(matter.levels.items(), key=lambda item: item[0].rank)
        ),
        term_months=matter.term_months,
        body_html=_body_html(page, references, problems),
        digest=page.file.digest,
        retake_days=matter.retake_days,
        examination=_examination(matter.examination),
        decision=_decision(matter.decision),
        recertification=_recertification(matter.recertification),
        return_check_months=matter.return_check_months,
        suspended_by=tuple(matter.suspended_by),
    )


def _body_html(page: Page, references: References, problems: Problems) -> str:
    tokens = read_markdown(page.body, page.body_line)
    if not tokens:
        problems.error(page.file.at(page.body_line), "there is no text under the front matter")
    return Typesetter(page.file.path, references, problems).set(tokens).html


def _requirement(level: Supervision, asked: LevelMatter) -> Requirement:
    return Requirement(
        level, tuple(asked.modules), MappingProxyType(asked.practicals), asked.examination
    )


def _examination(matter: ExaminationMatter | None) -> ExaminationRule | None:
    if matter is None:
        return None
    return ExaminationRule(matter.minutes, matter.others_per_module, matter.retake_days)


def _decision(matter: DecisionMatter) -> DecisionRule:
    return DecisionRule(
        matter.from_level, tuple(matter.by), matter.supervisors, matter.trainer_may_decide
    )


def _recertification(matter: RecertificationMatter) -> RecertificationRule:
    return RecertificationRule(
        MappingProxyType(matter.practicals), matter.window_months, matter.examination
    )


def _check_levels(page: Page, matter: SchemeMatter, problems: Problems) -> None:
    if Supervision.NOT_YET in matter.levels:
        problems.error(
            page.matter.place(["levels", Supervision.NOT_YET]), "nothing is asked for 'not yet'"
        )
    for level, asked in matter.levels.items():
        if not asked.modules and not asked.practicals and not asked.examination:
            problems.error(
                page.matter.place(["levels", level]),
                "the level '%(level)s' asks nothing, so everybody would hold it",
                level=level.value,
            )


def _check_decision(page: Page, matter: SchemeMatter, problems: Problems) -> None:
    if Role.TRAINEE in matter.decision.by:
        problems.error(page.matter.place(["decision", "by"]), "a trainee decides on nobody")
    if matter.decision.from_level not in matter.levels:
        problems.error(
            page.matter.place(["decision", "from"]),
            "a decision is asked from '%(level)s', which is no level of this scheme",
            level=matter.decision.from_level.value,
        )
    asked = {task for level in matter.levels.values() for task in level.practicals}
    for task in matter.recertification.practicals:
        if task not in asked:
            problems.error(
                page.matter.place(["recertification", "practicals", task]),
                "recertification asks for %(name)s, which no level asks for",
                name=task,
            )
    if matter.recertification.window_months >= matter.term_months:
        problems.error(
            page.matter.place(["recertification", "window-months"]),
            "the window of recertification is as long as the whole term",
        )
