"""The glossary, the search and the sheets, as those who may open them see them."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from flask import Flask
from flask.testing import FlaskClient

from academy.content.library import CourseLibrary
from academy.settings import read_settings
from academy.store.database import Database
from academy.web.app import create_app
from tests.content.course_tree import GLOSSARY, TASK, CourseTree
from tests.support.cast import PASSWORD, settle

TRAINER = "modules/safety/trainer.md"
SHEETS = ("/course/safety/trainer-sheet", "/tasks/polish-one-section/trainer-sheet")


@pytest.fixture
def tree(tmp_path: Path) -> CourseTree:
    tree = CourseTree(tmp_path / "content")
    tree.write(TRAINER, "---\ntitle: Trainer\n---\n## Bring\n\nTwo lamps.\n")
    tree.write(
        GLOSSARY,
        tree.text(GLOSSARY) + "\n## Cord (of a machine) {#cord-term}\n\nWhat feeds the tool.\n",
    )
    return tree


@pytest.fixture
def app(tree: CourseTree, tmp_path: Path, sqlite: Database) -> Flask:
    settings = read_settings({"ACADEMY_INSTANCE": str(tmp_path / "instance")})
    made = create_app(settings, database=sqlite, library=CourseLibrary(tree.root))
    made.config["WTF_CSRF_ENABLED"] = False
    with sqlite.writing() as session:
        settle(session)
    return made


@pytest.fixture
def signed_in(app: Flask) -> Callable[[str], FlaskClient]:
    def sign_in(first_name: str) -> FlaskClient:
        client = app.test_client()
        answer = client.post("/sign-in", data={"sign_in_name": first_name, "password": PASSWORD})
        assert answer.status_code == 303
        return client

    return sign_in


SignIn = Callable[[str], FlaskClient]
TRAINEE, SUPERVISOR, OWNER = "mira", "jonas", "ruth"


def test_the_glossary_holds_every_term_where_the_lessons_links_point(signed_in: SignIn) -> None:
    client = signed_in(TRAINEE)
    lesson = client.get("/course/safety/before-you-start").text
    anchors = set(re.findall(r'href="/glossary#([a-z-]+)"', lesson))
    page = client.get("/glossary").text
    assert anchors == {"haze", "cord-term"}
    for anchor in anchors:
        assert page.count(f'id="{anchor}"') == 1
    assert "Cord (of a machine)" in page
    assert page.index('id="letter_C"') < page.index('id="letter_H"')


@pytest.mark.parametrize(
    "address",
    ["/course/safety/before-you-start", "/course/safety/summary", "/glossary", "/course", *SHEETS],
)
def test_every_id_of_a_page_stands_once(signed_in: SignIn, tree: CourseTree, address: str) -> None:
    """Also where an author's headings are called as ours are."""
    for path in (TRAINER, TASK):
        tree.write(path, tree.text(path) + "\n### Objectives\n\nX.\n\n### Task\n\nX.\n")
    page = signed_in(SUPERVISOR).get(address).text
    ids = re.findall(r'\bid="([^"]+)"', page)
    assert len(ids) == len(set(ids))
    assert set(re.findall(r'popovertarget="([^"]+)"', page)) <= set(ids)


def test_what_is_found_leads_to_its_heading(signed_in: SignIn) -> None:
    client = signed_in(TRAINEE)
    page = client.get("/search", query_string={"q": "where the crod runs"}).text
    target = "/course/safety/before-you-start#cord"
    assert re.findall(r'<li><a href="([^"]+)"', page.partition('class="found"')[2])[0] == target
    assert 'id="cord"' in client.get(target).text
    assert "Safety, Before you start" in page
    assert "<mark>" in page


@pytest.mark.parametrize(
    "typed",
    [
        "",
        "x",
        "<script>alert(1)</script>",
        '" OR 1 --',
        "zzzzqqq",
        "q" * 10_240,
        "\x00",
        "%s %(x)s",
    ],
)
def test_any_search_is_answered_with_what_was_typed_and_nothing_of_it_runs(
    signed_in: SignIn, typed: str
) -> None:
    answer = signed_in(TRAINEE).get("/search", query_string={"q": typed})
    assert answer.status_code == 200
    assert "<script>alert" not in answer.text
    assert len(answer.text) < 20_000


def test_the_search_file_lies_in_the_instance(signed_in: SignIn, tmp_path: Path) -> None:
    signed_in(TRAINEE).get("/search?q=cord")
    assert len(list((tmp_path / "instance" / "search").iterdir())) == 1


def test_a_module_on_a_sheet_says_what_good_looks_like(signed_in: SignIn) -> None:
    page = signed_in(TRAINEE).get("/course/safety/summary").text
    for words in ("What good looks like", "The pad runs flat", "The cord catches", "must know"):
        assert words in page
    assert "A rotating pad catches" in page
    assert 'href="/course/safety/before-you-start#cord"' in page
    assert "popovertarget" not in page
    # each number with its source
    assert "dial setting for cutting" in page
    assert "common practice, no source" in page


@pytest.mark.parametrize("address", SHEETS)
@pytest.mark.parametrize(("who", "status"), [(TRAINEE, 403), (SUPERVISOR, 200), (OWNER, 200)])
def test_a_trainers_sheet_is_for_supervisors_and_owners(
    signed_in: SignIn, address: str, who: str, status: int
) -> None:
    assert signed_in(who).get(address).status_code == status


def test_a_trainers_sheet_holds_what_the_author_wrote_and_how_it_is_judged(
    signed_in: SignIn,
) -> None:
    client = signed_in(SUPERVISOR)
    assert "Two lamps." in client.get(SHEETS[0]).text
    page = client.get(SHEETS[1]).text
    for words in (
        "Stand at the left.",
        "Eye protection is on",
        "Removal at every spot is within the limit",
        "3 µm at any spot",
        "critical",
    ):
        assert words in page


def test_links_to_the_sheets_are_shown_to_those_who_may_open_them(signed_in: SignIn) -> None:
    for who, shown in ((TRAINEE, False), (SUPERVISOR, True)):
        client = signed_in(who)
        assert (SHEETS[0] in client.get("/course/safety").text) is shown
        assert (SHEETS[1] in client.get("/course").text) is shown
        assert "/course/safety/summary" in client.get("/course/safety").text


def test_a_module_without_a_trainers_sheet_has_no_link_and_no_page(
    signed_in: SignIn, tree: CourseTree
) -> None:
    tree.remove(TRAINER)
    client = signed_in(SUPERVISOR)
    assert SHEETS[0] not in client.get("/course/safety").text
    assert client.get(SHEETS[0]).status_code == 404


def test_a_task_without_a_trainers_part_still_prints_its_checks(
    signed_in: SignIn, tree: CourseTree
) -> None:
    tree.write(TASK, tree.text(TASK).partition("## Trainer's sheet")[0])
    page = signed_in(SUPERVISOR).get(SHEETS[1])
    assert page.status_code == 200
    assert "Eye protection is on" in page.text
    assert "Stand at the left." not in page.text


@pytest.mark.parametrize(
    "address",
    ["/course/nowhere/summary", "/course/nowhere/trainer-sheet", "/tasks/x/trainer-sheet"],
)
def test_a_sheet_of_nothing_is_not_found(signed_in: SignIn, address: str) -> None:
    assert signed_in(SUPERVISOR).get(address).status_code == 404


def test_a_reader_chooses_the_units_of_the_lessons_on_this_device(
    signed_in: SignIn, tree: CourseTree
) -> None:
    lesson = "modules/safety/lessons/01-before-you-start.md"
    tree.write(lesson, tree.text(lesson) + "\n\nStand [2 m](example) away.\n")
    client, address = signed_in(TRAINEE), "/course/safety/before-you-start"
    metric = client.get(address).text
    assert "6.6\N{NO-BREAK SPACE}ft" not in metric
    assert "Show US units first" in metric
    chosen = client.post("/units", data={"units": "us", "next": address})
    assert chosen.headers["Location"] == address
    assert "Show metric units alone" in client.get(address).text
    assert client.post("/units", data={"units": "x", "next": "//evil"}).headers["Location"] == "/"
    assert client.get(address).text.count("Show US units first") == 1
