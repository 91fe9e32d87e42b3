"""A calculator's page as a reader meets it: form, faults, result."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from html import unescape
from typing import Any
from urllib.parse import parse_qsl, urlencode, urlsplit

from flask.testing import FlaskClient


class Reader:
    """Somebody who opens calculators."""

    def __init__(self, client: FlaskClient) -> None:
        self._client = client

    def open(self, name: str, query: Mapping[str, str] | None = None) -> Shown:
        """Open a calculator with these inputs in its address."""
        return self.follow(f"/calculators/{name}?{urlencode(query or {})}")

    def follow(self, address: str) -> Shown:
        """Open an address."""
        answer = self._client.get(address)
        return Shown(answer.status_code, answer.text)


class Shown:
    """One page."""

    def __init__(self, status: int, html: str) -> None:
        self.status = status
        self.html = html
        self.text = _text(html)

    @property
    def results(self) -> dict[str, str]:
        """The results by their plain names."""
        pairs = re.findall(r"<dt>(.*?)</dt><dd>(.*?)</dd>", self.html)
        return {_text(name): _text(value) for name, value in pairs}

    @property
    def faults(self) -> dict[str, str]:
        """The sentences by the control they stand at."""
        found = re.findall(r'id="([^"]*)-fault">(.*?)</p>', self.html, re.S)
        return {name: _text(sentence) for name, sentence in found}

    @property
    def whole_form_faults(self) -> list[str]:
        """The sentences about the form as a whole."""
        return [_text(one) for one in re.findall(r"<li>([^<]*)</li>", self.html)]

    @property
    def typed(self) -> dict[str, str]:
        """What stands in the controls."""
        inputs = re.findall(r'<input id="([^"]*)" name="[^"]*"[^>]*? value="([^"]*)"', self.html)
        areas = re.findall(r'<textarea id="([^"]*)"[^>]*>\n(.*?)</textarea>', self.html, re.S)
        selects = re.findall(r'<select id="([^"]*)".*?</select>', self.html, re.S)
        bodies = re.findall(r"<select id=.*?</select>", self.html, re.S)
        chosen = {
            name: found[1]
            for name, body in zip(selects, bodies, strict=True)
            if (found := re.search(r'value="([^"]*)" selected', body))
        }
        return {name: unescape(value) for name, value in [*inputs, *areas]} | chosen

    @property
    def unrounded(self) -> dict[str, Any]:
        """The answer as JSON."""
        found = re.search(r'<code id="unrounded">(.*?)</code>', self.html, re.S)
        assert found is not None
        answer: dict[str, Any] = json.loads(unescape(found[1]))
        return answer

    @property
    def command(self) -> str:
        """The command that gives the same."""
        found = re.search(r"<code>(academy calc .*?)</code>", self.html, re.S)
        assert found is not None
        return unescape(found[1])

    def link(self, words: str) -> str:
        """Return where a link leads."""
        found = re.search(rf'<a [^>]*href="([^"]*)">{re.escape(words)}</a>', self.html)
        assert found is not None, words
        return unescape(found[1])


def query_of(address: str) -> dict[str, str]:
    """Return the inputs in an address."""
    return dict(parse_qsl(urlsplit(address).query))


def _text(html: str) -> str:
    return re.sub(r"\s+", " ", unescape(re.sub("<[^>]+>", " ", html))).strip()
