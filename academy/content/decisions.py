"""Reading the decisions of a scenario."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from academy.content.body import Body, QuestionFile, markup
from academy.content.markdown import Section
from academy.content.matter import Page
from academy.content.options import Asked, check_listed, read_asked
from academy.content.problems import Problems
from academy.content.schema import DecisionMatter, ScenarioMatter
from academy.content.typeset import SetText, inline_html
from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.questions import Decision, Effect, Option
from academy.domain.curriculum.wording import OptionWording, Wording


@dataclass(frozen=True, slots=True)
class ReadDecisions:
    """The decisions, their words for the lint rules, and the lines of their parts."""

    decisions: tuple[Decision, ...]
    wordings: tuple[Wording, ...]
    lines: Mapping[str, int]


def read_decisions(file: QuestionFile, matter: ScenarioMatter, body: Body) -> ReadDecisions:
    """Read the headings of a scenario against the decisions in its front matter."""
    by_title = {section.title: section for section in body.headed}
    _check_headings(file.page, matter, body.headed, file.problems)
    lines = _lines(file.page, matter)
    decisions = []
    wordings = []
    for decision_id, decision in matter.decisions.items():
        section = by_title.get(decision_id)
        if section is None:
            continue
        asked = read_asked(section.tokens)
        lines[f"decision {decision_id}"] = section.line
        _check_decision(file.page, decision_id, decision, asked, file.problems)
        stem = file.setter.set(asked.stem)
        texts = [file.setter.set(option.first) for option in asked.options]
        options = tuple(
            Option(option.number, inline_html(text), file.setter.set(option.rest).html)
            for option, text in zip(asked.options, texts, strict=True)
        )
        effects = _effects(decision)
        decisions.append(Decision(decision_id, stem.html, options, decision.key, effects))
        wordings.append(_wording(file, matter, decision_id, asked, (stem, *texts)))
    return ReadDecisions(tuple(decisions), tuple(wordings), lines)


def _lines(page: Page, matter: ScenarioMatter) -> dict[str, int]:
    lines = {}
    for decision_id, decision in matter.decisions.items():
        keys = ["decisions", decision_id]
        lines[f"decision {decision_id}"] = page.matter.place(keys).line
        for number in decision.effects:
            effect = page.matter.place([*keys, "effects", number])
            lines[f"effect {decision_id} {number}"] = effect.line
    return lines


def _wording(
    file: QuestionFile,
    matter: ScenarioMatter,
    decision_id: str,
    asked: Asked,
    texts: Sequence[SetText],
) -> Wording:
    stem, *options = texts
    return Wording(
        question_id=file.page.file.name,
        module_id=file.module_id,
        interaction=Interaction.SCENARIO,
        stem=stem.text,
        stem_markup=markup(asked.stem),
        options=tuple(
            OptionWording(option.number, text.text)
            for option, text in zip(asked.options, options, strict=True)
        ),
        keys=frozenset([matter.decisions[decision_id].key]),
        decision_id=decision_id,
        shuffle=matter.shuffle,
        apart_from=frozenset(matter.apart_from),
        accepted=MappingProxyType(matter.accepted),
    )


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
