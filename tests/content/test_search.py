"""The course is searched as people type: in a hurry, with gloves, with one slip."""

from __future__ import annotations

import os
import sqlite3
import stat
import threading
from dataclasses import replace
from pathlib import Path

import pytest

from academy.content import compile_course
from academy.content.search import find_in_course
from academy.content.search_entries import Entry, EntryKind, entries_of
from academy.content.search_file import search_file
from academy.content.search_words import likeness, one_slip, words_in
from academy.domain.curriculum.course import Course
from academy.settings import PROJECT
from tests.content.course_tree import CourseTree

# What is typed, each with one slip, and the heading, term or objective it is meant to find.
SLIPS = [
    # letters swapped
    ("three ways to dirve a pad", "machines/know-your-machine#three-drives"),
    ("waht speed does", "machines/know-your-machine#speed"),
    ("raed the plate mark", "machines/when-the-pad-stops#plate-mark"),
    ("what a satll takes away", "machines/when-the-pad-stops#what-stalls"),
    ("plate belnogs to the machine", "machines/throw-plate-and-pad#counterweight"),
    ("how far it raeches", "machines/throw-plate-and-pad#reach"),
    ("small pad big presusre", "machines/hand-work-and-care#spot-tools"),
    ("size froce and depth", "pads/size-thickness-and-vents#size"),
    ("where the haet goes", "pads/size-thickness-and-vents#heat"),
    ("holes slots and chanenls", "pads/size-thickness-and-vents#vents"),
    ("batetries", "working-safely/wipes-rags-and-batteries#batteries"),
    ("vibratoin adds up", "working-safely/hands-ears-and-back#vibration"),
    ("air lnies", "working-safely/what-you-breathe#air"),
    # a letter missing
    ("wich machine for which job", "machines/know-your-machine#which-one"),
    ("four cuses", "machines/when-the-pad-stops#causes"),
    ("without a stal to warn", "machines/when-the-pad-stops#no-stall"),
    ("plate cre", "machines/hand-work-and-care#plate-care"),
    ("cord batery casing", "machines/hand-work-and-care#cord-care"),
    ("prime once then litle", "pads/prime-and-clean#prime"),
    ("clean after every secton", "pads/prime-and-clean#clean"),
    ("pad has had enouh", "pads/rotate-and-retire#tired"),
    ("changing a pd", "working-safely/before-the-pad-turns#pad-change"),
    ("dust or vapor", "working-safely/what-you-breathe#mask"),
    ("rof and sill", "working-safely/hands-ears-and-back#reach"),
    ("compare before you trst", "measuring-the-paint/reading-the-paint#compare"),
    ("isocynate", "#isocyanate"),
    # a letter doubled
    ("beffore it turns", "machines/know-your-machine#before-it-turns"),
    ("hand is the bettter machine", "machines/hand-work-and-care#by-hand"),
    ("inside the foamms", "pads/choose-and-keep-a-pad#foams"),
    ("inside the fibree pads", "pads/choose-and-keep-a-pad#fibres"),
    ("plan the padss before the car", "pads/rotate-and-retire#plan"),
    ("take turnss", "pads/rotate-and-retire#rotation"),
    ("where raggs go", "working-safely/wipes-rags-and-batteries#rags"),
    ("somebody is hurrt", "working-safely/stop-and-say-so#hurt"),
    ("all layerss at once", "measuring-the-paint/reading-the-paint#total"),
    ("mark the spotts", "measuring-the-paint/verify-and-read#marks"),
    ("three reeadings make one spot", "measuring-the-paint/verify-and-read#spots"),
    ("eddy currrent", "#eddy-current"),
    # a wrong letter
    ("from the smallest thriw to the largest", "machines/throw-plate-and-pad#throw-and-plate"),
    ("cord goes behund you", "working-safely/before-the-pad-turns#cord"),
    ("some paint must not become dist", "working-safely/what-you-breathe#dust"),
    ("noise does not hurt while it hatms", "working-safely/hands-ears-and-back#noise"),
    ("metal decides the methid", "measuring-the-paint/reading-the-paint#method"),
    ("what bends a readong", "measuring-the-paint/reading-the-paint#bends"),
    ("verify on bare metal and fiil", "measuring-the-paint/verify-and-read#verify"),
    ("same spot same giuge", "measuring-the-paint/before-and-after#pairs"),
    ("how small a remival you can see", "measuring-the-paint/before-and-after#small-removal"),
    ("budgit of a panel", "measuring-the-paint/the-budget#budget"),
    ("dew poimt", "#dew-point"),
    ("spread at the lowest sleed", "technique/one-section#spread"),
]


@pytest.fixture(scope="module")
def course() -> Course:
    return compile_course(PROJECT / "content").draft


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("search")


@pytest.fixture
def own(tmp_path: Path) -> Path:
    return tmp_path / "search"


def test_fifty_queries_are_listed_once_each() -> None:
    assert len({typed for typed, _place in SLIPS}) == len(SLIPS) == 50


@pytest.mark.parametrize(("typed", "place"), SLIPS)
def test_a_slip_in_a_word_still_finds_the_heading(
    folder: Path, course: Course, typed: str, place: str
) -> None:
    """The right heading is among the first three."""
    assert place in places(folder, course, typed)[:3]


@pytest.mark.parametrize(("typed", "place"), SLIPS)
def test_each_query_has_a_slip_in_one_word(course: Course, typed: str, place: str) -> None:
    """One word of each is not a word of its heading and is one slip from one that is."""
    title = next(e.title for e in entries_of(course) if _place(e) == place)
    meant = set(words_in(title))
    odd = [word for word in words_in(typed) if word not in meant]
    assert [word for word in odd if any(one_slip(word, right) for right in meant)]


def test_what_is_typed_rightly_is_first(folder: Path, course: Course) -> None:
    assert places(folder, course, "read the plate mark")[0] == (
        "machines/when-the-pad-stops#plate-mark"
    )
    assert places(folder, course, "haze")[0] == "#haze"


def test_an_objective_is_found_at_its_module(folder: Path, course: Course) -> None:
    module = course.modules[0]
    found = find_in_course(folder, course, module.objectives[0].text)
    assert found[0].entry.kind is EntryKind.OBJECTIVE
    assert found[0].entry.module_id == module.id


def test_a_result_says_where_it_stands_and_shows_the_words(folder: Path, course: Course) -> None:
    found = find_in_course(folder, course, "vibratoin adds up")[0]
    assert found.entry.lesson_title == "Hands, ears and back"
    assert found.entry.module_title
    assert {piece.text.lower() for piece in found.snippet if piece.hit} >= {"vibration"}
    assert "".join(piece.text for piece in found.snippet).replace("… ", "")[:20] in found.entry.text


@pytest.mark.parametrize(
    "typed",
    [
        "",
        " ",
        "a",
        "?",
        '"',
        "'",
        '"pad',
        "pad AND NOT (plate",
        "NEAR(pad plate, 2)",
        "word: pad",
        "pad* ^plate -x",
        "'; DROP TABLE entry; --",
        "%_",
        "\x00pad\x00",
        "☃ 漢字 çédille",
        "pad " * 2500,
        "q" * 10_240,
        "\ud800",
    ],
)
def test_nothing_that_is_typed_is_an_error(folder: Path, course: Course, typed: str) -> None:
    found = find_in_course(folder, course, typed)
    assert len(found) <= 20
    if len("".join(words_in(typed))) < 2:
        assert found == ()


def test_an_empty_course_finds_nothing(tmp_path: Path, course: Course) -> None:
    bare = replace(course, modules=(), glossary=(), digest="0" * 64)
    assert find_in_course(tmp_path, bare, "pad") == ()


def test_a_changed_course_gets_a_file_of_its_own_and_the_old_one_goes(
    own: Path, tree: CourseTree
) -> None:
    before = tree.compiled().draft
    assert places(own, before, "cord runs")[0] == "safety/before-you-start#cord"
    tree.change("modules/safety/lessons/01-before-you-start.md", "Where the cord runs", "Hoses")
    after = tree.compiled().draft
    assert places(own, after, "hosse")[0] == "safety/before-you-start#cord"
    assert len(list(own.iterdir())) == 1


def test_searching_leaves_the_file_as_it_is(own: Path, tree: CourseTree) -> None:
    course = tree.compiled().draft
    path = search_file(own, course)
    before = (path.stat().st_mtime_ns, path.read_bytes())
    find_in_course(own, course, "haze")
    assert (path.stat().st_mtime_ns, path.read_bytes()) == before
    assert list(own.iterdir()) == [path]


def test_a_damaged_file_is_written_anew(own: Path, tree: CourseTree) -> None:
    course = tree.compiled().draft
    search_file(own, course).write_bytes(b"not a database" * 1000)
    assert find_in_course(own, course, "haze")[0].entry.anchor == "haze"


def test_where_the_folder_cannot_be_written_a_temporary_one_serves(
    tmp_path: Path, tree: CourseTree
) -> None:
    blocked = tmp_path / "a-file"
    blocked.write_text("in the way")
    assert find_in_course(blocked, tree.compiled().draft, "haze")[0].entry.anchor == "haze"


def test_many_readers_at_the_moment_of_a_change_all_get_an_answer(
    own: Path, tree: CourseTree
) -> None:
    course = tree.compiled().draft
    answers: list[int] = []
    threads = [
        threading.Thread(target=lambda: answers.append(len(find_in_course(own, course, "haze"))))
        for _reader in range(8)
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(set(answers)) == 1
    assert len(answers) == 8


def test_the_file_is_an_ordinary_database_of_the_headings(own: Path, tree: CourseTree) -> None:
    path = search_file(own, tree.compiled().draft)
    assert stat.S_ISREG(os.stat(path).st_mode)
    connection = sqlite3.connect(path)
    kinds = dict(connection.execute("SELECT kind, count(*) FROM entry GROUP BY kind"))
    connection.close()
    assert kinds == {"heading": 3, "lesson": 1, "objective": 2, "term": 1}


@pytest.mark.parametrize(
    ("typed", "word", "slip"),
    [
        ("pda", "pad", True),
        ("pd", "pad", True),
        ("padd", "pad", True),
        ("pod", "pad", True),
        ("dpa", "pad", False),
        ("pad", "plate", False),
        ("", "a", True),
        ("ab", "ba", True),
    ],
)
def test_one_slip_is_a_wrong_missing_doubled_or_swapped_letter(
    typed: str, word: str, slip: bool
) -> None:
    assert one_slip(typed, word) is slip
    assert one_slip(word, typed) is slip


def test_likeness_falls_from_the_word_itself_to_a_stranger() -> None:
    same, swapped, opening, wrong, strange = (
        likeness(typed, "abrasive")
        for typed in ("abrasive", "abrsaive", "abras", "abrazive", "kettle")
    )
    assert same > swapped > opening > wrong > strange == 0


def places(folder: Path, course: Course, typed: str) -> list[str]:
    return [_place(found.entry) for found in find_in_course(folder, course, typed)]


def _place(entry: Entry) -> str:
    if entry.kind is EntryKind.OBJECTIVE:
        return f"{entry.module_id}#"
    if entry.kind is EntryKind.TERM:
        return f"#{entry.anchor}"
    return f"{entry.module_id}/{entry.lesson_id}#{entry.anchor}"
