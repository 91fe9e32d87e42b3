"""What a task's sections do not show yet, as sentences; each names its task first."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from academy.domain.sentences import Sentence


@dataclass(frozen=True, slots=True)
class PracticalsMissing(Sentence):
    """Too few competent practicals in a row."""

    template: ClassVar[str] = "%(needed)d competent in a row at '%(task_id)s'; %(have)d so far"
    task_id: str
    needed: int
    have: int


@dataclass(frozen=True, slots=True)
class CleanSectionsMissing(Sentence):
    """So many clean sections decide it for certain, if none is spoiled."""

    template: ClassVar[str] = "%(more)d more clean sections decide it at '%(task_id)s'"
    task_id: str
    more: int


@dataclass(frozen=True, slots=True)
class OneCleanSectionMissing(Sentence):
    """The next section decides it, if it is not spoiled."""

    template: ClassVar[str] = "one more clean section decides it at '%(task_id)s'"
    task_id: str


@dataclass(frozen=True, slots=True)
class LikeSectionsMissing(Sentence):
    """So many sections decide it, if they read as those so far."""

    template: ClassVar[str] = (
        "%(more)d more clean sections that read like the last ones decide it at '%(task_id)s'"
    )
    task_id: str
    more: int


@dataclass(frozen=True, slots=True)
class CurvatureMissing(Sentence):
    """The clean sections lie on panels too much alike in shape."""

    template: ClassVar[str] = (
        "clean sections on panels of %(needed)d different curvatures at '%(task_id)s'; %(have)d so far"
    )
    task_id: str
    needed: int
    have: int


@dataclass(frozen=True, slots=True)
class HardnessMissing(Sentence):
    """The clean sections lie on clear coats too much alike."""

    template: ClassVar[str] = (
        "clean sections on hard and on soft clear coat at '%(task_id)s'; %(have)d of %(needed)d so far"
    )
    task_id: str
    needed: int
    have: int


@dataclass(frozen=True, slots=True)
class SeverityMissing(Sentence):
    """The prepared defects were all about equally bad."""

    template: ClassVar[str] = (
        "clean sections with defects of %(needed)d different severities at '%(task_id)s'; "
        "%(have)d so far"
    )
    task_id: str
    needed: int
    have: int


TaskMissing = (
    PracticalsMissing
    | CleanSectionsMissing
    | OneCleanSectionMissing
    | LikeSectionsMissing
    | CurvatureMissing
    | HardnessMissing
    | SeverityMissing
)


def clean_sections_missing(task_id: str, more: int) -> TaskMissing:
    """Return the sentence for so many clean sections."""
    return OneCleanSectionMissing(task_id) if more == 1 else CleanSectionsMissing(task_id, more)
