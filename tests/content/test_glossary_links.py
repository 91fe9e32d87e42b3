"""Words of the glossary carry their meaning where a lesson first uses them."""

from __future__ import annotations

import re

import pytest

from academy.content.glossary_links import with_meanings, without_meanings
from academy.content.references import Addresses
from academy.domain.curriculum.lessons import GlossaryTerm
from tests.content.course_tree import GLOSSARY, LESSON, CourseTree

ADDRESSES = Addresses()


def term(title: str, meaning: str = "<p>Meaning.</p>") -> GlossaryTerm:
    return GlossaryTerm(title.partition(" (")[0].lower().replace(" ", "-"), title, meaning)


def linked(html: str, *terms: str) -> list[str]:
    """Return what is linked, as ``id: words``."""
    shown = with_meanings(html, [term(title) for title in terms], ADDRESSES)
    found = re.findall(r'<a class="term" href="/glossary#([^"]+)">([^<]+)</a><button', shown)
    return [f"{name}: {words}" for name, words in found]


def test_only_the_first_use_in_a_lesson_is_linked() -> None:
    assert linked("<p>Haze is haze.</p><p>More haze.</p>", "Haze") == ["haze: Haze"]


def test_the_longest_term_is_found_first() -> None:
    html = "<p>A hard clear coat lies on a clear coat.</p>"
    assert linked(html, "Clear coat", "Hard clear coat") == [
        "hard-clear-coat: hard clear coat",
        "clear-coat: clear coat",
    ]


@pytest.mark.parametrize(
    ("title", "used"),
    [("Pad", "pads"), ("Crutch", "crutches"), ("Cavity", "cavities"), ("Holograms", "hologram")],
)
def test_simple_plurals_are_the_same_word(title: str, used: str) -> None:
    assert [line.partition(": ")[2] for line in linked(f"<p>See {used}.</p>", title)] == [used]


@pytest.mark.parametrize("text", ["padding", "back-pad", "pad-less", "launchpad", "pads2", "p ad"])
def test_a_part_of_another_word_is_left_alone(text: str) -> None:
    assert linked(f"<p>Some {text} here</p>", "Pad") == []


def test_a_term_of_two_words_may_stand_over_the_end_of_a_line() -> None:
    assert linked("<p>The clear\ncoat is thin.</p>", "Clear coat") == ["clear-coat: clear\ncoat"]


@pytest.mark.parametrize(
    "html",
    [
        '<h2 id="haze">Haze</h2>',
        '<p><a class="lesson" href="/x">haze</a></p>',
        "<p><code>haze</code></p>",
        '<figure><svg aria-label="haze > x"><text>haze</text></svg><figcaption>haze</figcaption></figure>',
        '<p><span class="quantity">3 haze <span>haze</span> haze</span></p>',
        "<details><summary>haze?</summary></details>",
        '<form class="calculator-box"><label>haze</label></form>',
    ],
)
def test_headings_links_code_figures_and_numbers_are_left_alone(html: str) -> None:
    glossary = [term("Haze")]
    assert with_meanings(html, glossary, ADDRESSES) == html
    after = with_meanings(f"{html}<p>haze</p>", glossary, ADDRESSES)
    assert after.startswith(html)
    assert after.count("popovertarget") == 1


def test_the_authors_own_link_goes_first_and_carries_the_meaning() -> None:
    own = '<a class="term" href="/glossary#haze">a veil</a>'
    html = f"<p>Haze, or {own}, and once more {own}.</p>"
    assert linked(html, "Haze") == ["haze: a veil"]
    assert with_meanings(html, [term("Haze")], ADDRESSES).startswith("<p>Haze, or <span")


def test_a_word_with_an_everyday_sense_needs_a_word_before_it_that_announces_a_noun() -> None:
    html = "<p>You run the machine. A line that runs on. Wipe the run.</p>"
    assert linked(html, "Run (in a film)") == ["run: run"]
    after = with_meanings(html, [term("Run (in a film)")], ADDRESSES)
    assert after.startswith("<p>You run the machine. A line that runs on. Wipe the <span")


def test_a_meaning_is_words_alone_and_its_figure_stays_in_the_glossary() -> None:
    meaning = (
        '<p>A veil of <a class="term" href="/glossary#x">scratches</a>, '
        '<span class="quantity">3 µm</span>.</p><figure><svg><text>9</text></svg></figure>'
    )
    html = with_meanings("<p>haze</p>", [term("Haze", meaning)], ADDRESSES)
    assert '<bdi>A veil of scratches, <span class="quantity">3 µm</span>.</bdi>' in html


def test_what_was_linked_can_be_taken_off_again() -> None:
    html = '<p>Haze on a pad, <span class="quantity">3 µm</span>.</p><h2 id="x">Pad</h2>'
    glossary = [term("Haze", '<p>See <span class="quantity">3</span></p>'), term("Pad")]
    assert without_meanings(with_meanings(html, glossary, ADDRESSES)) == html


def test_without_a_glossary_a_text_stays_as_it_is() -> None:
    assert with_meanings("<p>Haze</p>", [], ADDRESSES) == "<p>Haze</p>"


def test_a_lesson_shows_the_meanings_and_setting_it_twice_gives_the_same(tree: CourseTree) -> None:
    tree.change(LESSON, "Run it over", "Watch for the cord. Run it over")
    tree.write(GLOSSARY, tree.text(GLOSSARY) + "\n## Cord {#cord-word}\n\nWhat feeds the tool.\n")
    first, second = (tree.compiled().draft.lesson("safety", "before-you-start") for _ in "12")
    assert first is not None
    assert first == second
    assert 'popovertarget="meaning_cord-word"' in first.body_html
    assert "What feeds the tool." in first.body_html
    assert "What feeds the tool." not in first.text
    assert first.body_html.count('popovertarget="meaning_haze"') == 1


def test_a_changed_meaning_changes_the_digest_of_the_course(tree: CourseTree) -> None:
    before = tree.compiled().draft.digest
    tree.change(GLOSSARY, "A milky look", "A grey look")
    assert tree.compiled().draft.digest != before


def test_the_word_of_a_bracketed_term_fills_an_empty_link(tree: CourseTree) -> None:
    tree.change(GLOSSARY, "## Haze {", "## Haze (on paint) {")
    tree.change(LESSON, "[haze](term:haze)", "[](term:haze)")
    lesson = tree.compiled().draft.lesson("safety", "before-you-start")
    assert lesson is not None
    assert '<a class="term" href="/glossary#haze">Haze</a>' in lesson.body_html
