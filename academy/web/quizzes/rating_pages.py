"""Pages of rounds in which supervisors rate questions again."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar
from uuid import UUID

from academy.web.pages import Page
from academy.web.parts import Choosable, Fact, Filled, Link, Listed, ReadingsTable


@dataclass(frozen=True, slots=True)
class RatingRoundsPage(Page):
    """An owner's rounds, and the way to a new one."""

    template: ClassVar[str] = "quizzes/rating_rounds.html"
    rounds: tuple[Listed, ...]
    modules: tuple[Listed, ...]


@dataclass(frozen=True, slots=True)
class NewRoundPage(Page):
    """What is chosen before supervisors are asked."""

    template: ClassVar[str] = "quizzes/new_rating_round.html"
    form: Filled
    module_title: str
    round_id: UUID
    questions: tuple[Choosable, ...]
    raters: tuple[Choosable, ...]


@dataclass(frozen=True, slots=True)
class RatingRoundPage(Page):
    """One round as its owner sees it: who has rated, and the spread once it may be seen."""

    template: ClassVar[str] = "quizzes/rating_round.html"
    title_text: str
    stage: str
    says: str
    facts: tuple[Fact, ...]
    agreement: str
    coefficient: str
    spread: ReadingsTable | None
    show_url: str
    take_over_url: str


@dataclass(frozen=True, slots=True)
class OwnRatingsPage(Page):
    """The rounds a supervisor was asked in."""

    template: ClassVar[str] = "quizzes/own_ratings.html"
    rounds: tuple[Listed, ...]


@dataclass(frozen=True, slots=True)
class Answerable:
    """What can be answered, under the words of a decision where the question has several."""

    asks: str
    options: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ToRate:
    """One question to rate; ``others`` is empty while each rates alone, ``key`` for who is in training."""

    name: str
    heading: str
    label: str
    stem_html: str
    figure_html: str
    answers: tuple[Answerable, ...]
    key: tuple[str, ...]
    others: str


@dataclass(frozen=True, slots=True)
class RatePage(Page):
    """Rating the questions of a round."""

    template: ClassVar[str] = "quizzes/rate.html"
    form: Filled
    title_text: str
    back: Link
    says: str
    questions: tuple[ToRate, ...]
    agreement: str
    open: bool
