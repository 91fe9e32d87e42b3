"""What a text becomes on a page."""

from __future__ import annotations

import pytest

from academy.content.markdown import read_markdown
from academy.content.problems import Problems
from academy.content.references import References
from academy.content.typeset import SetText, Typesetter
from academy.domain.curriculum.lessons import Fact
from tests.content.course_tree import LESSON, CourseTree

FACTS = {
    "cap": Fact("cap", "most taken off", 8, None, "um", "x", "low"),
    "clear": Fact("clear", "clear coat", 35, 50, "um", "x", "low"),
    "share": Fact("share", "share", 10, 20, "percent", "x", "low"),
    "spin": Fact("spin", "spin", 1500, None, "rpm", "x", "low"),
    "dial": Fact("dial", "dial", 3, 4.5, "", "x", "low"),
}


def text_of(markdown: str) -> SetText:
    problems = Problems()
    setter = Typesetter("x.md", References(facts=dict(FACTS)), problems)
    text = setter.set(read_markdown(markdown, 1))
    assert [str(problem) for problem in problems.in_order()] == []
    return text


@pytest.mark.parametrize(
    ("markdown", "shown"),
    [
        ("[100 µm](example)", "100 µm <span class=\"mil\">(3.94&nbsp;mil)</span>"),
        ("[8 µm](fact:cap)", "8 µm <span class=\"mil\">(0.31&nbsp;mil)</span>"),
        ("[](fact:cap)", "8&nbsp;µm <span class=\"mil\">(0.31&nbsp;mil)</span>"),
        ("[35 to 50 µm](fact:clear)", "35 to 50 µm <span class=\"mil\">(1.38 to 1.97&nbsp;mil)</span>"),
        ("[0.5 µm](example)", "0.5 µm <span class=\"mil\">(0.020&nbsp;mil)</span>"),
        ("[1000 µm](example)", "1000 µm <span class=\"mil\">(39.4&nbsp;mil)</span>"),
        ("[8](fact:cap)", "8"),
        ("[](fact:share)", "10 to 20%"),
        ("[](fact:spin)", "1500&nbsp;rpm"),
        ("[](fact:dial)", "3 to 4.5"),
        ("[4.5](fact:dial)", "4.5"),
        ("[1 500 rpm](fact:spin)", "1 500 rpm"),
        ("[8 µm thick](fact:cap)", "8 µm <span class=\"mil\">(0.31&nbsp;mil)</span> thick"),
        ("[118 ± 2 µm](example)", "118 ± 2 µm <span class=\"mil\">(4.65 ± 0.08&nbsp;mil)</span>"),
        ("[3 µm to 8 µm](example)", "3 µm to 8 µm <span class=\"mil\">(0.12 to 0.31&nbsp;mil)</span>"),
        ("[114, 113 and 96 µm](example)", "114, 113 and 96 µm <span class=\"mil\">(4.49, 4.45 and 3.78&nbsp;mil)</span>"),
        ("[3 passes of 2 µm](example)", "3 passes of 2 µm <span class=\"mil\">(0.08&nbsp;mil)</span>"),
        ("[35–50 µm](fact:clear)", "35–50 µm <span class=\"mil\">(1.38–1.97&nbsp;mil)</span>"),
        ("[112 µm, then after it 109 µm](example)", "112 µm <span class=\"mil\">(4.41&nbsp;mil)</span>, then after it 109 µm <span class=\"mil\">(4.29&nbsp;mil)</span>"),
    ],
)  # fmt: skip
def test_a_linked_number_is_printed_with_mils_where_it_is_micrometres(
    markdown: str, shown: str
) -> None:
    html = text_of(markdown).html
    _, _, inner = html.partition(">")[2].partition(">")
    assert inner.removesuffix("</span></p>\n") == shown


def test_a_quantity_says_where_it_comes_from() -> None:
    html = text_of("[8 µm](fact:cap), [5 mm](example)").html
    assert '<span class="quantity" data-fact="cap" data-unit="um" data-values="8">' in html
    assert (
        '<span class="quantity" data-example="" data-unit="mm" data-values="5">5 mm</span>' in html
    )


def test_a_calculation_fills_an_empty_link_and_keeps_its_inputs() -> None:
    link = (
        "calc:machine-speed?kind=dual-action&pad_mm=150&throw_mm=21&orbits_per_min=4200#orbit_m_s"
    )
    html = text_of(f"[]({link})").html
    # pi x 21 mm x 4200 / 60 s = 4.618 m/s
    assert "4.62&nbsp;m/s</span>" in html
    assert 'data-calculation="machine-speed"' in html
    assert (
        'data-inputs="kind=dual-action&amp;pad_mm=150&amp;throw_mm=21&amp;orbits_per_min=4200"'
        in html
    )


@pytest.mark.parametrize("written", ["4.62 m/s", "4.6 m/s", "5 m/s", "4.618 m/s", "4.62"])
def test_the_digits_written_decide_the_rounding(written: str) -> None:
    link = (
        "calc:machine-speed?kind=dual-action&pad_mm=150&throw_mm=21&orbits_per_min=4200#orbit_m_s"
    )
    assert written in text_of(f"[{written}]({link})").html


def test_the_plain_words_carry_no_markup_and_no_mils() -> None:
    text = text_of("Take **at most** [8 µm](fact:cap) off.\n\n- one\n- two").text
    assert text == "Take at most 8 µm off.\none\ntwo"


def test_what_looks_like_html_never_reaches_a_page() -> None:
    problems = Problems()
    setter = Typesetter("x.md", References(), problems)
    source = '<img src=x onerror=alert(1)> [a](javascript:alert(1)) <div data-figure="0"></div>'
    html = setter.set(read_markdown(source, 1)).html
    assert "<img" not in html
    assert "<div" not in html
    assert 'href="javascript' not in html
    assert problems.in_order()


def test_a_figure_carries_its_words_and_its_numbers(tree: CourseTree) -> None:
    lesson = tree.compiled().draft.lesson("safety", "before-you-start")
    assert lesson is not None
    body = lesson.body_html
    assert '<figure class="drawn" data-figure="orbit-trace"><svg aria-label="' in body
    assert "<figcaption>One orbit.</figcaption>" in body
    assert '<details class="figure-data"><summary>' in body
    assert "<table>" in body
    assert "style=" not in body


def test_a_check_opens_when_the_reader_asks(tree: CourseTree) -> None:
    lesson = tree.compiled().draft.lesson("safety", "before-you-start")
    assert lesson is not None
    assert (
        '<details class="inline-check"><summary>Which way: left or right?</summary>'
        "<p>Over your shoulder.</p>\n</details>" in lesson.body_html
    )


def test_links_lead_to_the_pages_of_the_site(tree: CourseTree) -> None:
    lesson = tree.compiled().draft.lesson("safety", "before-you-start")
    assert lesson is not None
    assert '<a class="term" href="/glossary#haze">haze</a>' in lesson.body_html
    assert (
        '<a class="lesson" href="/course/safety/before-you-start#cord">it again</a>'
        in lesson.body_html
    )


def test_an_empty_link_to_a_term_takes_its_word(tree: CourseTree) -> None:
    tree.change(LESSON, "[haze](term:haze)", "[](term:haze)")
    lesson = tree.compiled().draft.lesson("safety", "before-you-start")
    assert lesson is not None
    assert '<a class="term" href="/glossary#haze">Haze</a>' in lesson.body_html


def test_columns_of_numbers_are_marked_without_style() -> None:
    html = text_of("| spot | reading |\n|---|--:|\n| one | 112 |\n").html
    assert '<th class="number">reading</th>' in html
    assert '<td class="number">112</td>' in html
    assert "style" not in html
