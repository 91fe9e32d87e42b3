"""Reading one question file."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from html import escape
from types import MappingProxyType

from markdown_it.token import Token

from academy.content.decisions import read_decisions
from academy.content.keys import KeyFault, hotspot_keys, key_faults, partner_faults
from academy.content.markdown import Section, read_markdown, sections
from academy.content.matter import Page
from academy.content.options import Asked, Listed, check_listed, read_asked
from academy.content.problems import Problems
from academy.content.quantities import written_numbers
from academy.content.references import References
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
from academy.content.typeset import SetText, Typesetter
from academy.content.validated import validated
from academy.domain.curriculum.kinds import Interaction
from academy.domain.curriculum.model import HeadingLink, Option, PanelState, Question, Region
from academy.domain.curriculum.wording import OptionWording, Wording
from academy.domain.curriculum.wording.texts import number_of

WHY, PARTNERS = "Why", "Partners"


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
    reader = _Reader(page, module_id, matter, references, problems)
    return reader.scenario() if isinstance(matter, ScenarioMatter) else reader.plain()


class _Reader:
    """Reads the body of one question whose front matter holds."""

    def __init__(
        self,
        page: Page,
        module_id: str,
        matter: QuestionMatter,
        references: References,
        problems: Problems,
    ) -> None:
        self._page = page
        self._module_id = module_id
        self._matter = matter
        self._problems = problems
        self._setter = Typesetter(page.file.path, references, problems)
        self._tokens = read_markdown(page.body, page.body_line)
        self._lines = {"": 1, "stem": page.body_line}
        self._lines |= {key[0]: line for key, line in page.matter.lines.items() if len(key) == 1}

    def plain(self) -> ReadQuestion:
        """Read any question but a scenario."""
        opening, headed = sections(self._tokens, 2)
        asked = read_asked(opening)
        why, partners = self._headed(headed)
        self._check(asked, why)
        self._note_lines(asked)
        figure, stem_tokens = self._figure(asked.stem)
        stem = self._setter.set(stem_tokens)
        texts = [self._setter.set(option.first) for option in asked.options]
        question = replace(
            self._common(stem.html, self._explained(why)),
            options=self._options(asked, texts),
            partners=self._partners(partners),
            figure_html=figure.html,
        )
        question = _with_key(question, self._matter)
        wording = self._wording(stem.text, _markup(stem_tokens), asked, texts, question)
        return ReadQuestion(question, (wording,), self._lines)

    def scenario(self) -> ReadQuestion:
        """Read a scenario: the situation, then a heading for each decision."""
        matter = self._matter
        assert isinstance(matter, ScenarioMatter)
        opening, headed = sections(self._tokens, 2)
        if not opening:
            self._error(self._page.body_line, "the scenario does not open with its situation")
        why = next((section for section in headed if section.title == WHY), None)
        body = [section for section in headed if section.title != WHY]
        read = read_decisions(self._page, matter, body, self._setter, self._problems)
        self._lines |= read.lines
        stem = self._setter.set(opening)
        question = replace(
            self._common(stem.html, self._explained(why)),
            panel=PanelState(**matter.panel.model_dump()),
            decisions=read.decisions,
            shuffle=matter.shuffle,
        )
        wordings = tuple(
            self._decision_wording(wording, matter, question) for wording in read.wordings
        )
        return ReadQuestion(question, wordings, self._lines)

    def _common(self, stem_html: str, explanation: SetText) -> Question:
        matter = self._matter
        path, _, anchor = matter.teaches.partition("#")
        module_id, _, lesson_id = path.partition("/")
        return Question(
            id=self._page.file.name,
            module_id=self._module_id,
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
            digest=self._page.file.digest,
            apart_from=tuple(matter.apart_from),
            explanation_html=explanation.html,
        )

    def _headed(self, headed: Sequence[Section]) -> tuple[Section | None, Section | None]:
        known = {WHY, PARTNERS} if isinstance(self._matter, MatchMatter) else {WHY}
        found: dict[str, Section] = {}
        for section in headed:
            if section.title in known and section.title not in found:
                found[section.title] = section
            else:
                self._error(section.line, f"the heading '{section.title}' has no meaning here")
        return found.get(WHY), found.get(PARTNERS)

    def _check(self, asked: Asked, why: Section | None) -> None:
        path = self._page.file.path
        check_listed(asked, path, not isinstance(self._matter, HotspotMatter), self._problems)
        if not asked.stem:
            self._error(self._page.body_line, "the question has no stem")
        needs_list = not isinstance(self._matter, NumericMatter)
        if needs_list and not asked.options:
            self._error(self._page.body_line, "the question has no numbered list of options")
        if isinstance(self._matter, NumericMatter):
            self._check_numeric(self._matter, asked, why)
        numbers: Iterable[int] = [option.number for option in asked.options]
        if isinstance(self._matter, HotspotMatter):
            self._check_regions(self._matter, list(numbers))
            numbers = self._matter.regions
        if asked.options:
            self._key_faults(key_faults(self._matter, list(numbers)))

    def _check_numeric(self, matter: NumericMatter, asked: Asked, why: Section | None) -> None:
        if why is None:
            self._error(self._page.body_line, "L17: a numeric entry ends with `## Why`")
        for option in asked.options:
            value = number_of(" ".join(t.content for t in option.first if t.type == "inline"))
            if value is not None and abs(value - matter.key) <= matter.tolerance:
                self._error(option.line, f"{value:g} is listed as wrong and within the tolerance")

    def _check_regions(self, matter: HotspotMatter, listed: Sequence[int]) -> None:
        for number, region in matter.regions.items():
            place = self._page.matter.place(["regions", number])
            if region.left + region.width > 100 or region.top + region.height > 100:
                self._problems.error(
                    place, "region %(number)s reaches beyond the figure", number=number
                )
            if number not in listed:
                self._problems.error(
                    place, "L17: region %(number)s has no reason in the list", number=number
                )

    def _figure(self, stem: Sequence[Token]) -> tuple[SetText, Sequence[Token]]:
        if not isinstance(self._matter, HotspotMatter):
            return SetText("", ""), stem
        figures = [token for token in stem if token.type == "fence"]
        if len(figures) != 1:
            self._error(self._page.body_line, "a hotspot has exactly one figure block")
        return self._setter.set(figures), [token for token in stem if token.type != "fence"]

    def _explained(self, why: Section | None) -> SetText:
        if why is None:
            return SetText("", "")
        explained = self._setter.set(why.tokens)
        if isinstance(self._matter, NumericMatter):
            key = self._matter.key
            if not any(number.agrees_with(key) for number in written_numbers(explained.text)):
                self._problems.warning(
                    self._page.file.at(why.line),
                    "the working under Why does not come to the key, %(key)g",
                    key=key,
                )
        return explained

    def _options(self, asked: Asked, texts: Sequence[SetText]) -> tuple[Option, ...]:
        if isinstance(self._matter, HotspotMatter):
            labels = {number: r.label for number, r in self._matter.regions.items()}
            return tuple(
                Option(
                    option.number,
                    escape(labels.get(option.number, ""), quote=False),
                    self._setter.set(option.rest or option.everything).html,
                )
                for option in asked.options
            )
        return tuple(
            Option(option.number, inline_html(text), self._setter.set(option.rest).html)
            for option, text in zip(asked.options, texts, strict=True)
        )

    def _partners(self, section: Section | None) -> tuple[Option, ...]:
        if not isinstance(self._matter, MatchMatter):
            return ()
        if section is None:
            self._error(
                self._page.body_line, "a match needs the heading `## Partners` and its list"
            )
            return ()
        asked = read_asked(section.tokens)
        check_listed(asked, self._page.file.path, False, self._problems)
        if len(asked.options) < len(self._matter.key):
            self._error(section.line, "there are fewer partners than options")
        self._key_faults(partner_faults(self._matter, [o.number for o in asked.options]))
        return tuple(
            Option(option.number, inline_html(self._setter.set(option.everything)), "")
            for option in asked.options
        )

    def _wording(
        self,
        stem: str,
        markup: str,
        asked: Asked,
        texts: Sequence[SetText],
        question: Question,
    ) -> Wording:
        options = () if question.interaction is Interaction.NUMERIC_ENTRY else asked.options
        return Wording(
            question_id=question.id,
            module_id=question.module_id,
            interaction=question.interaction,
            stem=stem,
            stem_markup=markup,
            options=tuple(
                OptionWording(option.number, text.text)
                for option, text in zip(options, texts, strict=False)
            ),
            keys=frozenset(question.key),
            shuffle=question.shuffle,
            apart_from=frozenset(question.apart_from),
            accepted=MappingProxyType(self._matter.accepted),
        )

    def _decision_wording(
        self, wording: Wording, matter: ScenarioMatter, question: Question
    ) -> Wording:
        return replace(
            wording,
            module_id=self._module_id,
            shuffle=matter.shuffle,
            apart_from=frozenset(question.apart_from),
            accepted=MappingProxyType(matter.accepted),
        )

    def _note_lines(self, asked: Asked) -> None:
        self._lines["stem"] = _first_line(asked.stem, self._page.body_line)
        self._lines |= {f"option {option.number}": option.line for option in asked.options}

    def _key_faults(self, faults: Iterable[KeyFault]) -> None:
        for fault in faults:
            self._problems.error(
                self._page.matter.place([fault.field]), "%(fault)s", fault=fault.sentence
            )

    def _error(self, line: int, sentence: str) -> None:
        self._problems.error(self._page.file.at(line), "%(fault)s", fault=sentence)


def inline_html(text: SetText) -> str:
    """Return a single paragraph without its tags, for a label or a table cell."""
    html = text.html.strip()
    if html.count("<p>") == 1 and html.startswith("<p>") and html.endswith("</p>"):
        return html[3:-4]
    return html


def _with_key(question: Question, matter: QuestionMatter) -> Question:
    if isinstance(matter, ChoiceMatter):
        return replace(
            question,
            key=(matter.key,),
            shuffle=matter.shuffle,
            marks=MappingProxyType(matter.marks),
        )
    if isinstance(matter, MultipleMatter):
        marks = MappingProxyType(matter.marks)
        return replace(question, key=tuple(matter.key), shuffle=matter.shuffle, marks=marks)
    if isinstance(matter, OrderMatter):
        return replace(question, key=tuple(matter.key))
    if isinstance(matter, MatchMatter):
        return replace(question, key_pairs=MappingProxyType(matter.key), shuffle=matter.shuffle)
    if isinstance(matter, NumericMatter):
        return replace(question, key_value=matter.key, unit=matter.unit, tolerance=matter.tolerance)
    return _with_regions(question, matter)


def _with_regions(question: Question, matter: QuestionMatter) -> Question:
    assert isinstance(matter, HotspotMatter)
    regions = tuple(
        Region(number, region.label, region.left, region.top, region.width, region.height)
        for number, region in matter.regions.items()
    )
    return replace(
        question,
        key=tuple(hotspot_keys(matter)),
        regions=regions,
        marks=MappingProxyType(matter.marks),
        shuffle=False,
    )


def _markup(tokens: Sequence[Token]) -> str:
    return "\n".join(token.content for token in tokens if token.type == "inline")


def _first_line(tokens: Sequence[Token], otherwise: int) -> int:
    return next((token.map[0] for token in tokens if token.map), otherwise)


__all__ = ["Listed", "ReadQuestion", "inline_html", "read_question"]
