"""The fields of a scheme's front matter."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from academy.content.schema import Id, Matter, Text
from academy.domain.curriculum.kinds import Harm, Supervision
from academy.domain.people.roles import Role

InARow = Annotated[int, Field(ge=1, le=50)]


class LevelMatter(Matter):
    modules: list[Id] = Field(default_factory=list)
    practicals: dict[Id, InARow] = Field(default_factory=dict)
    examination: bool = False


class ExaminationMatter(Matter):
    minutes: Annotated[int, Field(ge=5, le=240)]
    others_per_module: Annotated[int, Field(ge=0, le=20)]
    retake_days: Annotated[int, Field(ge=0, le=365)]


class DecisionMatter(Matter):
    by: Annotated[list[Role], Field(min_length=1)]
    from_level: Annotated[Supervision, Field(alias="from")]
    supervisors: Annotated[int, Field(ge=1, le=2)] = 1
    trainer_may_decide: bool = True


class RecertificationMatter(Matter):
    practicals: Annotated[dict[Id, InARow], Field(min_length=1)]
    window_months: Annotated[int, Field(ge=1, le=24)]
    examination: bool = False


class SchemeMatter(Matter):
    title: Text
    kind_of_work: Id
    version: Annotated[int, Field(ge=1)]
    term_months: Annotated[int, Field(ge=1, le=120)]
    levels: Annotated[dict[Supervision, LevelMatter], Field(min_length=1)]
    retake_days: Annotated[int, Field(ge=0, le=365)] = 0
    examination: ExaminationMatter | None = None
    decision: DecisionMatter
    recertification: RecertificationMatter
    return_check_months: Annotated[int, Field(ge=0, le=36)]
    suspended_by: list[Harm]
