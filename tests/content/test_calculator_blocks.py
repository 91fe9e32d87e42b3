"""A calculator in a lesson: filled in, computed, and a form that works without a script."""

from __future__ import annotations

from html.parser import HTMLParser

import pytest

from academy.calculations.examples import EXAMPLES
from academy.calculations.offered import OFFERED
from academy.calculations.query import flat_texts
from academy.content.calculator_blocks import calculator_html
from academy.content.markdown import read_markdown
from academy.content.problems import Place, Problems
from academy.content.references import References
from academy.content.typeset import Typesetter

ADDRESS = "/calculators/{name}"
ANCHORS = frozenset({"speed"})
MACHINE = """```calculator machine-speed
kind: dual-action
pad_mm: 150
throw_mm: 15
orbits_per_min: 4200
```
"""


class Sent(HTMLParser):
    """What a browser would send if the button were tapped at once."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.action = ""
        self.fields: dict[str, str] = {}
        self._select = self._area = ""
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        if tag == "form":
            self.action = given["action"]
        elif tag == "input":
            self.fields[given["name"]] = given["value"]
        elif tag == "textarea":
            self._area = given["name"]
        elif tag == "select":
            self._select = given["name"]
        elif tag == "option" and "selected" in given:
            self.fields[self._select] = given["value"]

    def handle_data(self, data: str) -> None:
        if self._area:
            self.fields[self._area] = data

    def handle_endtag(self, tag: str) -> None:
        if tag == "textarea":
            self._area = ""


def html_of(markdown: str) -> str:
    problems = Problems()
    text = Typesetter("x.md", References(), problems).set(read_markdown(markdown, 1), ANCHORS)
    assert [str(problem) for problem in problems.in_order()] == []
    return text.html


def problems_of(markdown: str, anchors: frozenset[str] | None = ANCHORS) -> list[str]:
    problems = Problems()
    Typesetter("x.md", References(), problems).set(read_markdown(markdown, 1), anchors)
    return [f"{problem.line}: {problem.message}" for problem in problems.in_order()]


def test_the_box_shows_the_inputs_and_the_result() -> None:
    html = html_of(f"Before.\n\n{MACHINE}\nAfter.")
    assert html.startswith("<p>Before.</p>")
    assert html.rstrip().endswith("<p>After.</p>")
    assert "<dt>Speed along the orbit</dt>" in html
    assert "3.3\N{NO-BREAK SPACE}m/s" in html  # pi x 0.015 m x 70 a second
    assert "supports and does not replace" in html


def test_a_tap_sends_the_inputs_to_the_calculators_page() -> None:
    sent = Sent(html_of(MACHINE))
    assert sent.action == "/calculators/machine-speed#result"
    assert sent.fields == {
        "kind": "dual-action",
        "pad_mm": "150",
        "throw_mm": "15",
        "orbits_per_min": "4200",
    }


@pytest.mark.parametrize("name", OFFERED)
def test_every_calculator_can_stand_in_a_lesson_with_its_example(name: str) -> None:
    problems = Problems()
    block = "\n".join(f"{key}: {value!r}" for key, value in EXAMPLES[name].items())
    html = calculator_html(name, block, Place("x.md", 1), ADDRESS, problems)
    assert [str(problem) for problem in problems.in_order()] == []
    assert html is not None
    assert Sent(html).fields == flat_texts(EXAMPLES[name])


def test_a_length_of_paint_has_mils_beside_it() -> None:
    spots = "[{before_um: [118.2, 118.4], after_um: [116.3, 116.5]}]"
    html = html_of(f"```calculator removal\nspots: {spots}\n```\n")
    assert ">118.2 118.4</textarea>" in html
    assert "1.9\N{NO-BREAK SPACE}µm" in html
    assert "mil)" in html


def test_what_an_author_writes_cannot_break_out_of_the_box() -> None:
    said = problems_of("```calculator machine-speed\nkind: '\"><b>x</b>'\npad_mm: 150\n```\n")
    assert said[0].startswith("2: calculator machine-speed: kind:")


@pytest.mark.parametrize(
    ("block", "said"),
    [
        ("machine-spee\nkind: rotary", "1: there is no calculator 'machine-spee'; the page has"),
        ("cut-score\nratings: [[50]]", "1: there is no calculator 'cut-score'"),
        ("dwell\n- 1", "2: lines of `name: value` are expected here"),
        (
            "late-reading\nheated_s: 20\nwaited_s: long",
            '3: calculator late-reading: waited_s: "long" is not a number',
        ),
        ("late-reading\nheated_s: 20", "2: calculator late-reading: waited_s: missing, and needed"),
        (
            "late-reading\nheated_s: 20\nwaited_s: 5\nextra: 1",
            "4: calculator late-reading: extra: not an input here; 1 was given",
        ),
        (
            "vibration\nexposures:\n  - m_s2: 5\n    hours: 1\n  - m_s2: 5\n    hours: -1",
            "6: calculator vibration: exposures[1].hours: -1 is not at least 0",
        ),
        (
            "removal\nspots: [{before_um: 100, after_um: 99}]",
            "1: calculator removal: one spot with single readings has no uncertainty",
        ),
        ("statistics\nvalues: [.nan]", "2: calculator statistics: values[0]: "),
    ],
)
def test_a_box_that_cannot_be_computed_is_a_problem_at_its_line(block: str, said: str) -> None:
    problems = problems_of(f"```calculator {block}\n```\n")
    assert any(problem.startswith(said) for problem in problems), problems


def test_a_calculator_stands_in_a_lesson_and_not_in_a_question() -> None:
    assert problems_of(MACHINE, None) == ["1: a calculator stands in a lesson's own text only"]
