"""Reading the decisions of a scenario."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from academy.content.markdown import Section
from academy.content.matter import Page
from academy.content.options import Asked, check_listed, read_asked
from academy.content.problems import Problems
from academy.content.schema import DecisionMatter, ScenarioMatter
from academy.content.typeset import Typesetter, inline_html
from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.model import Decision, Effect, Option
from academy.domain.curriculum.wording import OptionWording, Wording


@dataclass(frozen=True, slots=True)
class ReadDecisions:
    """The decisions, their words for the lint rules, and the lines of their parts."""

    decisions: tuple[Decision, ...]
    wordings: tuple[Wording, ...]
    lines: Mapping[str, int]


def read_decisions(
    page: Page,
    matter: ScenarioMatter,
    headed: Sequence[Section],
    setter: Typesetter,
    problems: Problems,
) -> ReadDecisions:
    """Read the headings of a scenario against the decisions in its front matter."""
    by_title = {section.title: section for section in headed}
    _check_headings(page, matter, headed, problems)
    lines: dict[str, int] = {}
    decisions = []
    wordings = []
    for decision_id, decision in matter.decisions.items():
        section = by_title.get(decision_id)
        lines[f"decision {decision_id}"] = page.matter.place(["decisions", decision_id]).line
        for number in decision.effects:
            place = page.matter.place(["decisions", decision_id, "effects", number])
            lines[f"effect {decision_id} {number}"] = place.line
        if section is None:
            continue
        asked = read_asked(section.tokens)
        lines[f"decision {decision_id}"] = section.line
        _check_decision(page, decision_id, decision, asked, problems)
        stem = setter.set(asked.stem)
        texts = [setter.set(option.first) for option in asked.options]
        decisions.append(
            Decision(
                id=decision_id,
                stem_html=stem.html,
                options=tuple(
                    Option(option.number, inline_html(text), setter.set(option.rest).html)
                    for option, text in zip(asked.options, texts, strict=True)
                ),
                key=decision.key,
                effects=_effects(decision),
            )
        )
        wordings.append(
            Wording(
                question_id=page.file.name,
                module_id="",
                interaction=Interaction.SCENARIO,
                stem=stem.text,
                stem_markup="\n".join(t.content for t in asked.stem if t.type == "inline"),
                options=tuple(
                    OptionWording(option.number, text.text)
                    for option, text in zip(asked.options, texts, strict=True)
                ),
                keys=frozenset([decision.key]),
                decision_id=decision_id,
            )
        )
    return ReadDecisions(tuple(decisions), tuple(wordings), lines)


def _check_headings(
    page: Page, matter: ScenarioMatter, headed: Sequence[Section], problems: Problems
) -> None:
    titles = [section.title for section in headed]
    for section in headed:
        if section.title not in matter.decisions:
            problems.error(
                page.file.at(section.line),
                "the decision %(title)s is not in the front matter",
                title=section.title,
            )
        elif titles.count(section.title) > 1:
            problems.error(
                page.file.at(section.line),
                "the decision %(title)s stands twice",
                title=section.title,
            )
    for decision_id in matter.decisions:
        if decision_id not in titles:
            problems.error(
                page.matter.place(["decisions", decision_id]),
                "the decision %(id)s has no heading `## %(id)s`",
                id=decision_id,
            )


def _check_decision(
    page: Page, decision_id: str, decision: DecisionMatter, asked: Asked, problems: Problems
) -> None:
    check_listed(asked, page.file.path, True, problems)
    place = page.matter.place(["decisions", decision_id])
    numbers = [option.number for option in asked.options]
    if not asked.stem:
        problems.error(place, "the decision %(id)s asks nothing", id=decision_id)
    if decision.key not in numbers:
        problems.error(
            page.matter.place(["decisions", decision_id, "key"]),
            "L08: the key of %(id)s names option %(key)s, which is not there",
            id=decision_id,
            key=decision.key,
        )
    if sorted(decision.effects) != sorted(numbers):
        problems.error(
            page.matter.place(["decisions", decision_id, "effects"]),
            "%(id)s has the options %(options)s and effects for %(effects)s",
            id=decision_id,
            options=_listing(numbers),
            effects=_listing(sorted(decision.effects)),
        )


def _listing(numbers: Sequence[int]) -> str:
    return ", ".join(map(str, numbers)) or "none"


def _effects(decision: DecisionMatter) -> Mapping[int, Effect]:
    return MappingProxyType(
        {number: Effect(**effect.model_dump()) for number, effect in decision.effects.items()}
    )
