"""An author sees what a trainee sees, on their own computer, before it is good."""

from __future__ import annotations

import re
import time
from pathlib import Path

import pytest
from flask import Flask
from flask.testing import FlaskClient

from academy.settings import read_settings
from academy.web.app import create_app
from academy.web.preview.app import create_preview, is_loopback
from tests.content.course_tree import CHOICE, LESSON, MODULE, SCENARIO, CourseTree

QUESTIONS = ("cord-behind", "two-checks", "order-of-start", "match-marks", "share-of-mix")


@pytest.fixture
def tree(tmp_path: Path) -> CourseTree:
    return CourseTree(tmp_path / "content")


@pytest.fixture
def app(tree: CourseTree, tmp_path: Path) -> Flask:
    made = create_preview(tree.root, tmp_path / "scratch")
    made.config["WTF_CSRF_ENABLED"] = False
    return made


@pytest.fixture
def author(app: Flask) -> FlaskClient:
    return app.test_client()


def test_the_shops_application_has_no_preview(tmp_path: Path) -> None:
    shop = create_app(read_settings({"ACADEMY_INSTANCE": str(tmp_path)}))
    assert "preview" not in shop.blueprints
    assert shop.test_client().get("/preview").status_code == 404
    assert shop.test_client().get("/course").status_code == 303


def test_a_lesson_is_shown_with_the_page_a_trainee_gets(author: FlaskClient) -> None:
    page = author.get("/course/safety/before-you-start").text
    assert "I have studied this" in page
    assert 'popovertarget="meaning_haze"' in page
    assert "js/preview.js" in page
    assert "Sign in" not in page


def test_everything_listed_can_be_opened(author: FlaskClient) -> None:
    page = author.get("/preview").text.partition("<main")[2]
    addresses = set(re.findall(r'href="(/[^"#]+)"', page))
    assert len(addresses) > 12
    assert {author.get(address).status_code for address in addresses} == {200}


def test_a_task_is_shown_as_its_trainee_sees_it_just_opened(author: FlaskClient) -> None:
    page = author.get("/preview/tasks/polish-one-section").text
    assert "Polish one section." in page
    assert "3 µm at any spot" in page
    assert "Stand at the left." not in page
    assert "Record it" not in page


@pytest.mark.parametrize("name", QUESTIONS)
def test_a_question_is_asked_without_its_key_and_explained_afterwards(
    author: FlaskClient, name: str
) -> None:
    asked = author.get(f"/preview/questions/{name}").text
    assert "Save the answer" in asked
    assert "This was right" not in asked
    assert author.get(f"/preview/questions/{name}/result").status_code == 200


def test_an_answer_leads_to_its_reasons(author: FlaskClient) -> None:
    page = author.post(
        "/preview/questions/cord-behind", data={"answer": "1"}, follow_redirects=True
    ).text
    assert "You chose this; it is not right" in page
    assert "You step on it." in page
    empty = author.post("/preview/questions/cord-behind", data={})
    assert empty.status_code == 422


def test_a_situation_unfolds_to_its_end(author: FlaskClient) -> None:
    address = "/preview/questions/warm-bonnet"
    first = author.post(address, data={"decision": "first-pass", "answer": "1"})
    second = author.get(first.headers["Location"])
    assert "The panel is warm." in second.text
    last = author.post(
        first.headers["Location"],
        data={"decision": "warm-panel", "answer": "2"},
        follow_redirects=True,
    )
    assert "/result" in last.request.path
    assert last.status_code == 200


@pytest.mark.parametrize(
    "given", ["", "{", "[1]", "3", '{"chosen": "x"}', '{"choices": {"a": {}}}']
)
def test_nonsense_in_the_address_is_no_failure(author: FlaskClient, given: str) -> None:
    for name in ("cord-behind", "warm-bonnet", "order-of-start"):
        for address in (f"/preview/questions/{name}", f"/preview/questions/{name}/result"):
            assert author.get(address, query_string={"given": given}).status_code == 200


def test_a_broken_source_is_shown_as_far_as_it_goes_with_its_problems_on_top(
    author: FlaskClient, tree: CourseTree
) -> None:
    tree.change(CHOICE, "key: 2", "key: 9")
    page = author.get("/course/safety/before-you-start").text
    assert "One error" in page
    assert f"{CHOICE}:{tree.line(CHOICE, 'key: 9')}" in page
    assert "Where the cord runs" in page


@pytest.mark.parametrize("path", [LESSON, MODULE, SCENARIO, "course.md"])
def test_whatever_is_broken_the_contents_page_stands(
    author: FlaskClient, tree: CourseTree, path: str
) -> None:
    tree.write(path, "---\nnothing: here\n---\n[x](fact:none)\n")
    page = author.get("/preview")
    assert page.status_code == 200
    assert "errors" in page.text or "One error" in page.text
    assert author.get("/course").status_code == 200


def test_the_version_changes_when_the_author_saves(author: FlaskClient, tree: CourseTree) -> None:
    before = author.get("/preview/version").text
    page = author.get("/course/safety/before-you-start").text
    assert f'data-source-version="{before}"' in page
    tree.change(LESSON, "Run it over your shoulder", "Hang it over your shoulder")
    time.sleep(1.1)  # the folder is looked at once a second
    assert author.get("/preview/version").text != before
    assert "Hang it over" in author.get("/course/safety/before-you-start").text


@pytest.mark.parametrize(
    ("address", "base", "status"),
    [
        ("127.0.0.1", "http://127.0.0.1:8100", 200),
        ("127.0.0.1", "http://localhost:8100", 200),
        ("::1", "http://[::1]:8100", 200),
        ("192.0.2.7", "http://127.0.0.1:8100", 403),
        ("127.0.0.1", "http://evil.example", 403),
        ("127.0.0.1", "http://192.0.2.7:8100", 403),
    ],
)
def test_only_this_computer_is_answered(
    author: FlaskClient, address: str, base: str, status: int
) -> None:
    answer = author.get("/preview", base_url=base, environ_base={"REMOTE_ADDR": address})
    assert answer.status_code == status
    assert ("The pad" in answer.text or "Safety" in answer.text) is (status == 200)


@pytest.mark.parametrize(
    ("host", "loopback"),
    [
        ("localhost", True),
        ("127.3.2.1", True),
        ("::1", True),
        ("localhost.evil.example", False),
        ("0.0.0.0", False),
        ("", False),
        (None, False),
    ],
)
def test_loopback_is_told_by_the_address(host: str | None, loopback: bool) -> None:
    assert is_loopback(host) is loopback


@pytest.mark.parametrize(
    "address", ["/board/", "/people", "/practicals/", "/sign-in", "/workshop/"]
)
def test_nothing_of_the_shop_is_behind_the_preview(author: FlaskClient, address: str) -> None:
    assert author.get(address).status_code == 404


def test_nothing_is_recorded(author: FlaskClient, tmp_path: Path) -> None:
    answer = author.post("/course/safety/before-you-start", data={})
    assert answer.status_code == 404
    assert "nothing is recorded" in answer.text
    assert not (tmp_path / "scratch" / "none.sqlite3").exists()
