"""Promises about every view, page and template at once."""

from __future__ import annotations

import importlib
import inspect
import pkgutil
from collections.abc import Iterator
from dataclasses import fields
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from jinja2 import meta, nodes

import academy.web
from academy.content.library import CourseLibrary
from academy.domain.people import Permission
from academy.settings import PROJECT, read_settings
from academy.store.schema import upgrade
from academy.web.app import create_app
from academy.web.context import EXTENSION
from academy.web.identity import PERMISSION, PUBLIC
from academy.web.pages import Page

# Everything here is open to anybody on purpose; nothing else is.
PUBLIC_VIEWS = {
    "people.sign_in",
    "people.begin_session",
    "people.sign_out",
    "people.invitation",
    "people.accept_invitation",
    "elements.show",
}
# What Flask and its extensions put into every template.
GIVEN = {
    "_",
    "config",
    "csrf_token",
    "g",
    "get_flashed_messages",
    "gettext",
    "loop",
    "ngettext",
    "request",
    "self",
    "session",
    "shell",
    "url_for",
}


@pytest.fixture(scope="module")
def app(tmp_path_factory: pytest.TempPathFactory) -> Flask:
    instance = tmp_path_factory.mktemp("instance")
    settings = read_settings({"ACADEMY_INSTANCE": str(instance)})
    made = create_app(settings, library=CourseLibrary(PROJECT / "content"))
    upgrade(made.extensions[EXTENSION].database)
    return made


def test_every_view_has_a_permission_or_is_public_on_purpose(app: Flask) -> None:
    """A view without a permission that is not on the list fails here."""
    unguarded = {
        endpoint
        for endpoint, view in app.view_functions.items()
        if not isinstance(getattr(view, PERMISSION, None), Permission) and endpoint != "static"
    }
    assert unguarded == PUBLIC_VIEWS


def test_only_the_listed_views_are_marked_public(app: Flask) -> None:
    """The mark that opens a view to anybody stands on the listed ones alone."""
    marked = {e for e, view in app.view_functions.items() if getattr(view, PUBLIC, False)}
    assert marked == PUBLIC_VIEWS


def test_an_anonymous_reader_is_sent_to_the_sign_in_page(app: Flask) -> None:
    """Every guarded address asks who is there before it says anything."""
    client = app.test_client()
    for rule in app.url_map.iter_rules():
        if "GET" not in (rule.methods or ()) or rule.endpoint in PUBLIC_VIEWS | {"static"}:
            continue
        values: dict[str, Any] = {name: _example(name) for name in rule.arguments}
        with app.test_request_context():
            address = app.url_for(rule.endpoint, **values)
        answer = client.get(address)
        assert answer.status_code == 303, rule.endpoint
        assert answer.headers["Location"].startswith("/sign-in"), rule.endpoint


def test_a_form_from_elsewhere_changes_nothing(app: Flask) -> None:
    """Every address that takes a form refuses one without our token, in a sentence."""
    client = app.test_client()
    for rule in app.url_map.iter_rules():
        if "POST" not in (rule.methods or ()):
            continue
        values: dict[str, Any] = {name: _example(name) for name in rule.arguments}
        with app.test_request_context():
            address = app.url_for(rule.endpoint, **values)
        answer = client.post(address)
        assert answer.status_code in {303, 422}, rule.endpoint
        if answer.status_code == 422:
            assert "nothing was changed" in answer.text


@pytest.mark.parametrize("address", ["/sign-in", "/nowhere", "/course"])
def test_every_reply_carries_the_security_headers(app: Flask, address: str) -> None:
    headers = app.test_client().get(address).headers
    assert "default-src 'self'" in headers["Content-Security-Policy"]
    assert "object-src 'none'" in headers["Content-Security-Policy"]
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Referrer-Policy"] == "same-origin"


def test_pages_are_never_kept_by_the_browser(app: Flask) -> None:
    """Tablets are shared: what a person saw is not in the cache for the next one."""
    assert app.test_client().get("/sign-in").headers["Cache-Control"] == "no-store"


def test_the_cookie_is_of_the_kind_the_address_allows(tmp_path: Path) -> None:
    """Over https the cookie is __Host- and Secure; over plain http it could not be kept."""
    plain = read_settings({"ACADEMY_INSTANCE": str(tmp_path)})
    secure = read_settings(
        {"ACADEMY_INSTANCE": str(tmp_path), "ACADEMY_BASE_URL": "https://academy.example"}
    )
    assert create_app(plain).config["SESSION_COOKIE_NAME"] == "academy"
    over_tls = create_app(secure)
    assert over_tls.config["SESSION_COOKIE_NAME"] == "__Host-academy"
    assert over_tls.config["SESSION_COOKIE_SECURE"] is True
    reply = over_tls.test_client().get("/sign-in", base_url="https://academy.example")
    assert "max-age=31536000" in reply.headers["Strict-Transport-Security"]


@pytest.mark.parametrize(
    "target", ["https://evil.example", "//evil.example", "/\\evil.example", "evil", "javascript:x"]
)
def test_signing_in_never_leads_off_the_site(app: Flask, target: str) -> None:
    page = app.test_client().get("/sign-in", query_string={"next": target}).text
    assert 'name="next" value="/"' in page


def _pages() -> Iterator[type[Page]]:
    for module in pkgutil.walk_packages(academy.web.__path__, "academy.web."):
        for _name, member in inspect.getmembers(importlib.import_module(module.name)):
            if inspect.isclass(member) and issubclass(member, Page) and member is not Page:
                yield member


def _name(page: type[Page]) -> str:
    return page.__name__


ALL_PAGES: list[type[Page]] = sorted(set(_pages()), key=_name)


@pytest.mark.parametrize("page", ALL_PAGES, ids=_name)
def test_a_page_holds_exactly_what_its_template_shows(app: Flask, page: type[Page]) -> None:
    """A field that nothing shows, or a name that nothing fills, fails here."""
    source = app.jinja_env.loader
    assert source is not None
    tree = app.jinja_env.parse(source.get_source(app.jinja_env, page.template)[0])
    imported = {
        name if isinstance(name, str) else name[1]
        for node in tree.find_all(nodes.FromImport)
        for name in node.names
    }
    known = GIVEN | imported | set(app.jinja_env.globals)
    shown = meta.find_undeclared_variables(tree) - known
    assert shown == {field.name for field in fields(page)}


def test_every_template_has_a_page_or_is_a_part(app: Flask) -> None:
    """No template is left over, and none is rendered without its page."""
    rendered = {page.template for page in _pages()} | {"base.html"}
    names = {
        name
        for name in app.jinja_env.list_templates()
        if not any(part.startswith("_") for part in name.split("/"))
    }
    assert names == rendered


def test_every_page_extends_the_frame_and_titles_itself(app: Flask) -> None:
    """The heading of a page is its title, in one place."""
    loader = app.jinja_env.loader
    assert loader is not None
    for page in set(_pages()):
        tree = app.jinja_env.parse(loader.get_source(app.jinja_env, page.template)[0])
        assert [e.template.value for e in tree.find_all(nodes.Extends)] == ["base.html"]  # type: ignore[attr-defined]
        assert "title" in {block.name for block in tree.find_all(nodes.Block)}


def _example(name: str) -> str:
    return "00000000-0000-4000-8000-000000000000" if name.endswith("_id") else "1"
