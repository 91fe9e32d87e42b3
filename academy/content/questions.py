"""Reading one question file."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

from academy.content.body import (
    Body,
    QuestionFile,
    explanation,
    first_line,
    markup,
    read_body,
)
from academy.content.decisions import read_decisions
from academy.content.keys import hotspot_keys, key_faults, partner_faults
from academy.content.matter import Page
from academy.content.options import Asked, check_listed, read_asked
from academy.content.problems import Problems
from academy.content.quantities import written_numbers
from academy.content.references import References
from academy.content.regions import check_regions, read_regions, region_options
from academy.content.schema import (
    QUESTIONS,
    ChoiceMatter,
    HotspotMatter,
    MatchMatter,
    MultipleMatter,
    NumericMatter,
    OrderMatter,
    QuestionMatter,
    ScenarioMatter,
)
from academy.content.typeset import SetText, Typesetter, inline_html
from academy.content.validated import validated
from academy.domain.curriculum.lessons import HeadingLink
from academy.domain.curriculum.questions import Option, PanelState, Question
from academy.domain.curriculum.wording import OptionWording, Wording
from academy.domain.curriculum.wording.texts import number_of


@dataclass(frozen=True, slots=True)
class ReadQuestion:
    """A question, its words for the lint rules, and the lines of its parts."""

    question: Question
    wordings: tuple[Wording, ...]
    lines: Mapping[str, int]


def read_question(
    page: Page, module_id: str, references: References, problems: Problems
) -> ReadQuestion | None:
    """Read a question; None (noted) when its front matter does not hold."""
    kind = str(page.matter.value.get("kind"))
    matter = validated(QUESTIONS.get(kind, QuestionMatter), page.matter, problems)
    if matter is None or kind not in QUESTIONS:
        return None
    setter = Typesetter(page.file.path, references, problems)
    file = QuestionFile(page, module_id, matter, setter, problems)
    body = read_body(file)
    if isinstance(matter, ScenarioMatter):
        return _scenario(file, matter, body)
    return _plain(file, body)


def _plain(file: QuestionFile, body: Body) -> ReadQuestion:
    """Read any question but a scenario."""
    asked, matter = body.asked, file.matter
    _check(file, body)
    lines = file.front_lines()
    lines["stem"] = first_line(asked.stem, file.page.body_line)
    lines |= {f"option {option.number}": option.line for option in asked.options}
    figures = [token for token in asked.stem if token.type == "fence"]
    hotspot = isinstance(matter, HotspotMatter)
    stem_tokens = [token for token in asked.stem if not hotspot or token.type != "fence"]
    stem = file.setter.set(stem_tokens)
    texts = [file.setter.set(option.first) for option in asked.options]
    question = _common(file, body, stem.html)
    if isinstance(matter, HotspotMatter):
        figure = file.setter.set(figures).html
        options = region_options(file, matter, asked)
        question = replace(question, figure_html=figure, options=options)
    else:
        question = replace(question, options=_options(file, asked, texts))
    question = replace(question, partners=_partners(file, body))
    question = _with_key(question, matter)
    wording = _wording(question, stem.text, markup(stem_tokens), texts, matter)
    return ReadQuestion(question, (wording,), lines)


def _scenario(file: QuestionFile, matter: ScenarioMatter, body: Body) -> ReadQuestion:
    """Read a scenario: the situation, then a heading for each decision."""
    if not body.opening:
        file.error(file.page.body_line, "the scenario does not open with its situation")
    read = read_decisions(file, matter, body)
    question = replace(
        _common(file, body, file.setter.set(body.opening).html),
        panel=PanelState(**matter.panel.model_dump()),
        decisions=read.decisions,
        shuffle=matter.shuffle,
    )
    return ReadQuestion(question, read.wordings, file.front_lines() | dict(read.lines))


def _common(file: QuestionFile, body: Body, stem_html: str) -> Question:
    matter = file.matter
    path, _, anchor = matter.teaches.partition("#")
    module_id, _, lesson_id = path.partition("/")
    return Question(
        id=file.page.file.name,
        module_id=file.module_id,
        interaction=matter.kind,
        level=matter.level,
        objective_id=matter.objective,
        teaches=HeadingLink(module_id, lesson_id, anchor),
        stem_html=stem_html,
        options=(),
        key=(),
        rating_percent=matter.rating,
        rating_reason=matter.rating_reason,
        source=matter.source,
        digest=file.page.file.digest,
        apart_from=tuple(matter.apart_from),
        explanation_html=_explanation(file, body),
    )


def _check(file: QuestionFile, body: Body) -> None:
    asked, matter = body.asked, file.matter
    check_listed(asked, file.page.file.path, not isinstance(matter, HotspotMatter), file.problems)
    for section in body.headed:
        file.error(section.line, "the heading '%(title)s' has no meaning here", title=section.title)
    if not asked.stem:
        file.error(file.page.body_line, "the question has no stem")
    numbers = [option.number for option in asked.options]
    if isinstance(matter, NumericMatter):
        _check_numeric(file, matter, body)
    elif not asked.options:
        file.error(file.page.body_line, "the question has no numbered list of options")
    if isinstance(matter, HotspotMatter):
        if sum(token.type == "fence" for token in asked.stem) != 1:
            file.error(file.page.body_line, "a hotspot has exactly one figure block")
        check_regions(file, matter, numbers)
        numbers = list(matter.regions)
    if asked.options:
        file.key_faults(key_faults(matter, numbers))


def _check_numeric(file: QuestionFile, matter: NumericMatter, body: Body) -> None:
    if body.why is None:
        file.error(file.page.body_line, "L17: a numeric entry ends with `## Why`")
    for option in body.asked.options:
        value = number_of(markup(option.first))
        if value is not None and abs(value - matter.key) <= matter.tolerance:
            file.error(
                option.line, "%(value)g is listed as wrong and within the tolerance", value=value
            )


def _explanation(file: QuestionFile, body: Body) -> str:
    text = explanation(file, body)
    if body.why is not None and isinstance(file.matter, NumericMatter):
        key = file.matter.key
        if not any(number.agrees_with(key) for number in written_numbers(text.text)):
            file.problems.warning(
                file.page.file.at(body.why.line),
                "the working under Why does not come to the key, %(key)g",
                key=key,
            )
    return text.html


def _options(file: QuestionFile, asked: Asked, texts: Sequence[SetText]) -> tuple[Option, ...]:
    return tuple(
        Option(option.number, inline_html(text), file.setter.set(option.rest).html)
        for option, text in zip(asked.options, texts, strict=True)
    )


def _partners(file: QuestionFile, body: Body) -> tuple[Option, ...]:
    if not isinstance(file.matter, MatchMatter):
        return ()
    if body.partners is None:
        file.error(file.page.body_line, "a match needs the heading `## Partners` and its list")
        return ()
    asked = read_asked(body.partners.tokens)
    check_listed(asked, file.page.file.path, False, file.problems)
    file.key_faults(partner_faults(file.matter, [option.number for option in asked.options]))
    return tuple(
        Option(option.number, inline_html(file.setter.set(option.everything)), "")
        for option in asked.options
    )


def _wording(
    question: Question,
    stem: str,
    stem_markup: str,
    texts: Sequence[SetText],
    matter: QuestionMatter,
) -> Wording:
    numeric = isinstance(matter, NumericMatter)
    return Wording(
        question_id=question.id,
        module_id=question.module_id,
        interaction=question.interaction,
        stem=stem,
        stem_markup=stem_markup,
        options=tuple(
            OptionWording(option.number, text.text)
            for option, text in zip(question.options, texts, strict=True)
            if not numeric
        ),
        keys=frozenset(question.key),
        shuffle=question.shuffle,
        apart_from=frozenset(question.apart_from),
        accepted=MappingProxyType(matter.accepted),
    )


def _with_key(question: Question, matter: QuestionMatter) -> Question:
    if isinstance(matter, (ChoiceMatter, MultipleMatter)):
        keys = [matter.key] if isinstance(matter.key, int) else matter.key
        marks = MappingProxyType(matter.marks)
        return replace(question, key=tuple(keys), shuffle=matter.shuffle, marks=marks)
    if isinstance(matter, OrderMatter):
        return replace(question, key=tuple(matter.key))
    if isinstance(matter, MatchMatter):
        return replace(question, key_pairs=MappingProxyType(matter.key), shuffle=matter.shuffle)
    if isinstance(matter, NumericMatter):
        value, unit, tolerance = matter.key, matter.unit, matter.tolerance
        return replace(question, key_value=value, unit=unit, tolerance=tolerance)
    if isinstance(matter, HotspotMatter):
        return replace(
            question,
            key=tuple(hotspot_keys(matter)),
            regions=read_regions(matter),
            marks=MappingProxyType(matter.marks),
            shuffle=False,
        )
    return question
