"""The fields of every front matter."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, StringConstraints

from academy.domain.curriculum.kinds import (
    Interaction,
    Level,
    ObjectiveKind,
    Substrate,
)

Text = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1)]
Id = Annotated[str, StringConstraints(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$")]
LintRule = Annotated[str, StringConstraints(pattern=r"^L\d\d$")]
Percent = Annotated[int, Field(ge=0, le=100)]
Marks = Annotated[int, Field(ge=-100, le=100)]
Minutes = Annotated[int, Field(ge=1, le=480)]


def _hyphens(name: str) -> str:
    return name.replace("_", "-")


class Matter(BaseModel):
    """Front matter: every field is known, and of the type it should be."""

    model_config = ConfigDict(
        extra="forbid", strict=True, frozen=True, alias_generator=_hyphens, allow_inf_nan=False
    )


class Values(BaseModel):
    """Numbers with a unit in their names, which keep their underscores."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True, allow_inf_nan=False)


class CourseMatter(Matter):
    title: Text
    modules: Annotated[list[Id], Field(min_length=1)]
    kinds_of_work: dict[Id, Text]


class ObjectiveMatter(Matter):
    id: Id
    text: Text
    kind: ObjectiveKind
    must_know: bool


class CellsMatter(Matter):
    recall: Annotated[int, Field(ge=0, le=50)] = 0
    apply: Annotated[int, Field(ge=0, le=50)] = 0
    judge: Annotated[int, Field(ge=0, le=50)] = 0


class ModuleMatter(Matter):
    title: Text
    cautions: list[Id]
    objectives: Annotated[list[ObjectiveMatter], Field(min_length=1)]
    blueprint: dict[Id, CellsMatter]


class TrainerMatter(Matter):
    title: Text


class LessonMatter(Matter):
    title: Text
    objectives: Annotated[list[Id], Field(min_length=1)]
    minutes: Minutes
    cautions: list[Id]
    restudy: bool = False


class PanelMatter(Values):
    thickness_um: Annotated[float, Field(gt=0, le=5000)] | None = None
    temperature_c: Annotated[float, Field(ge=-40, le=200)] | None = None
    finish: Text | None = None
    minutes: Annotated[float, Field(ge=0)] | None = None


class EffectMatter(Values):
    marks: Marks
    removed_um: Annotated[float, Field(ge=0, le=500)] = 0.0
    warms_k: Annotated[float, Field(ge=-100, le=200)] = 0.0
    takes_minutes: Annotated[float, Field(ge=0, le=600)] = 0.0
    finish: Text | None = None
    follows: Id | None = None


class DecisionMatter(Matter):
    key: Annotated[int, Field(ge=1)]
    effects: dict[int, EffectMatter]


class RegionMatter(Matter):
    label: Text
    left: Annotated[float, Field(ge=0, le=100)]
    top: Annotated[float, Field(ge=0, le=100)]
    width: Annotated[float, Field(gt=0, le=100)]
    height: Annotated[float, Field(gt=0, le=100)]


class QuestionMatter(Matter):
    """What every kind of question gives."""

    kind: Interaction
    objective: Id
    level: Level
    teaches: Annotated[str, StringConstraints(pattern=r"^[a-z0-9-]+/[a-z0-9-]+#[a-z0-9-]+$")]
    rating: Percent
    rating_reason: Text
    source: Text
    apart_from: list[Id] = Field(default_factory=list)
    accepted: dict[LintRule, Text] = Field(default_factory=dict)


class ChoiceMatter(QuestionMatter):
    key: Annotated[int, Field(ge=1)]
    shuffle: bool = True
    marks: dict[int, Marks] = Field(default_factory=dict)


class MultipleMatter(QuestionMatter):
    key: Annotated[list[int], Field(min_length=1)]
    shuffle: bool = True
    marks: dict[int, Marks] = Field(default_factory=dict)


class OrderMatter(QuestionMatter):
    key: Annotated[list[int], Field(min_length=3)]
    shuffle: Literal[True] = True


class MatchMatter(QuestionMatter):
    key: dict[int, int]
    shuffle: bool = True


class NumericMatter(QuestionMatter):
    key: float
    unit: str
    tolerance: Annotated[float, Field(ge=0)]


class HotspotMatter(QuestionMatter):
    key: int | list[int]
    regions: dict[int, RegionMatter]
    marks: dict[int, Marks] = Field(default_factory=dict)


class ScenarioMatter(QuestionMatter):
    panel: PanelMatter
    decisions: Annotated[dict[Id, DecisionMatter], Field(min_length=1)]
    shuffle: bool = True


QUESTIONS: dict[str, type[QuestionMatter]] = {
    Interaction.CHOICE: ChoiceMatter,
    Interaction.MULTIPLE_RESPONSE: MultipleMatter,
    Interaction.ORDER: OrderMatter,
    Interaction.MATCH: MatchMatter,
    Interaction.NUMERIC_ENTRY: NumericMatter,
    Interaction.HOTSPOT: HotspotMatter,
    Interaction.SCENARIO: ScenarioMatter,
}


class CriterionMatter(Matter):
    id: Id
    text: Text
    critical: bool
    measured: bool = False


class TaskMatter(Matter):
    title: Text
    kind_of_work: Id
    objectives: Annotated[list[Id], Field(min_length=1)]
    cautions: list[Id]
    spots: Annotated[int, Field(ge=0, le=100)]
    readings_per_spot: Annotated[int, Field(ge=1, le=20)]
    limit_um: Annotated[float, Field(gt=0, le=200)] | None = None
    minutes: Minutes
    substrates: Annotated[list[Substrate], Field(min_length=1)]
    set_up_checks: Annotated[list[Text], Field(min_length=1)]
    criteria: Annotated[list[CriterionMatter], Field(min_length=1)]


class DrillMatter(Matter):
    title: Text
    objectives: Annotated[list[Id], Field(min_length=1)]
    cautions: list[Id]
    minutes: Annotated[int, Field(ge=5, le=30)]


class SpokenMatter(Matter):
    objective: Id


class FactMatter(Matter):
    says: Text
    low: float
    high: float | None = None
    unit: str
    source: Text
    confidence: Literal["high", "medium", "low"]
