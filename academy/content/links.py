"""Links of a text: facts, calculations, examples, lessons and terms."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from html import escape
from urllib.parse import parse_qsl, unquote

from academy.calculations import Answer, BadInput, NotComputable, UnknownCalculation, run
from academy.content.problems import Place, Problems
from academy.content.quantities import (
    Quantity,
    fact_disagrees,
    fact_text,
    foreign_unit,
    quantity,
    rounded,
    written_numbers,
)
from academy.content.references import References
from academy.content.units import printed_unit, with_unit


@dataclass(slots=True)
class Links:
    """Resolves the links of one text; ``facts`` gathers the facts it leans on."""

    references: References
    problems: Problems
    anchors: frozenset[str] | None = None
    facts: list[str] = field(default_factory=list)

    def resolved(self, href: str, text: str, place: Place) -> Quantity | None:
        """Return what stands for a link, or None (noted) when it points nowhere."""
        scheme, _, rest = unquote(href).partition(":")
        if href == "example":
            return self._example(text, place)
        if href.startswith("#"):
            return self._heading(unquote(href[1:]), text, place)
        if scheme == "fact":
            return self._fact(rest, text, place)
        if scheme == "calc":
            return self._calculation(href.partition(":")[2], text, place)
        if scheme == "lesson":
            return self._lesson(rest, text, place)
        if scheme == "term":
            return self._term(rest, text, place)
        self.problems.error(
            place,
            "the link %(href)s leads nowhere here; links are fact:, calc:, lesson:, term:, "
            "#heading and example",
            href=href,
        )
        return None

    def _example(self, text: str, place: Place) -> Quantity | None:
        if not written_numbers(text):
            self.problems.error(place, "an example link holds no number: '%(text)s'", text=text)
            return None
        return quantity(text, [("example", "")])

    def _fact(self, name: str, text: str, place: Place) -> Quantity | None:
        fact = self.references.facts.get(name)
        if fact is None:
            self.problems.error(place, "there is no fact %(name)s", name=name)
            return None
        self.references.fact_places[name].append(place)
        self.facts.append(name)
        whole = fact_text(fact)
        if text and fact_disagrees(text, fact):
            self.problems.error(
                place,
                "the text says '%(text)s', the fact %(name)s says %(whole)s",
                text=text,
                name=name,
                whole=whole,
            )
        self._unit(text, fact.unit, place)
        return quantity(text or whole, [("fact", name)])

    def _unit(self, text: str, code: str, place: Place) -> None:
        foreign = foreign_unit(text, code)
        if foreign is not None:
            self.problems.error(
                place,
                "the text says '%(text)s', the value is in %(unit)s",
                text=text,
                unit=printed_unit(code) or "plain numbers",
            )

    def _calculation(self, link: str, text: str, place: Place) -> Quantity | None:
        path, _, key = link.partition("#")
        name, _, query = path.partition("?")
        try:
            answer = _answer(name, query)
            value = _number(answer.result, unquote(key))
        except (BadInput, NotComputable, UnknownCalculation, _NoSuchResult) as fault:
            self.problems.error(place, "calc:%(name)s: %(fault)s", name=name, fault=fault)
            return None
        unit = _unit_of(answer, key)
        whole = with_unit(rounded(value), unit)
        numbers = written_numbers(text)
        if text and (len(numbers) != 1 or not numbers[0].agrees_with(value)):
            self.problems.error(
                place,
                "the text says '%(text)s', the calculation %(name)s gives %(value)s",
                text=text,
                name=name,
                value=with_unit(f"{value:.6g}", unit),
            )
        self._unit(text, unit, place)
        return quantity(text or whole, [("calculation", name), ("inputs", unquote(query))])

    def _lesson(self, target: str, text: str, place: Place) -> Quantity | None:
        path, _, anchor = target.partition("#")
        sign = self.references.lessons.get(path)
        if sign is None:
            self.problems.error(place, "there is no lesson %(path)s", path=path)
            return None
        if anchor and anchor not in sign.anchors:
            self.problems.error(
                place, "the lesson %(path)s has no heading #%(anchor)s", path=path, anchor=anchor
            )
        module, _, lesson = path.partition("/")
        address = self.references.addresses.lesson.format(
            module=module, lesson=lesson, anchor=anchor
        )
        return _anchor("lesson", address.rstrip("#"), text or sign.anchors.get(anchor, sign.title))

    def _term(self, name: str, text: str, place: Place) -> Quantity | None:
        word = self.references.terms.get(name)
        if word is None:
            self.problems.error(place, "the glossary has no term %(name)s", name=name)
            return None
        return _anchor("term", self.references.addresses.term.format(term=name), text or word)

    def _heading(self, anchor: str, text: str, place: Place) -> Quantity | None:
        if self.anchors is None or anchor not in self.anchors:
            self.problems.error(place, "there is no heading #%(anchor)s here", anchor=anchor)
            return None
        return _anchor("heading", f"#{anchor}", text or anchor)


class _NoSuchResult(Exception):
    """A result key the calculation does not have."""


def _anchor(kind: str, address: str, text: str) -> Quantity:
    html = f'<a class="{kind}" href="{escape(address)}">{escape(text, quote=False)}</a>'
    return Quantity(text, html)


@lru_cache(maxsize=4096)
def _answer(name: str, query: str) -> Answer:
    # Pure: the same inputs give the same answer as long as the program runs.
    return run(name, {key: _value(text) for key, text in parse_qsl(query, True)})


def _value(text: str) -> object:
    try:
        return json.loads(text)
    except ValueError:
        return text


def _unit_of(answer: Answer, key: str) -> str:
    # A conversion's unit is the one asked for: its table says "as `to`".
    unit = answer.units.get(key.partition(".")[0], "")
    return str(answer.inputs[unit[4:-1]]) if unit.startswith("as `") else unit


def _number(result: Mapping[str, object], key: str) -> float:
    found: object = result
    for part in key.split("."):
        if isinstance(found, Mapping) and part in found:
            found = found[part]
        elif isinstance(found, (list, tuple)) and part.isdigit() and int(part) < len(found):
            found = found[int(part)]
        else:
            known = ", ".join(result)
            raise _NoSuchResult(f"there is no result #{key}; the results are {known}")
    if isinstance(found, bool) or not isinstance(found, (int, float)):
        raise _NoSuchResult(f"the result #{key} is not a number")
    return float(found)
