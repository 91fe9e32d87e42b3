"""A table that spreadsheets open and that runs nothing."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from academy.documents.spreadsheet import spreadsheet


def read(made: bytes) -> list[list[str]]:
    """Read a table back as a spreadsheet does."""
    text = made.decode("utf-8-sig")
    return list(csv.reader(io.StringIO(text, newline="")))


def test_it_is_told_by_its_mark_and_its_line_ends() -> None:
    """RFC 4180: CRLF; quotes and commas are quoted, quotes doubled."""
    made = spreadsheet(("a", "b"), [("x, y", 'say "so"')])
    assert made == b'\xef\xbb\xbfa,b\r\n"x, y","say ""so"""\r\n'


@pytest.mark.parametrize("begin", ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "  =1", "＝1"])
def test_a_text_like_a_formula_is_made_plain(begin: str) -> None:
    assert read(spreadsheet(("a",), [(begin,)]))[1] == ["'" + begin]


def test_numbers_stay_numbers_and_nothing_stays_empty() -> None:
    made = read(spreadsheet(("a", "b", "c"), [(-0.25, 3, None)]))
    assert made[1] == ["-0.25", "3", ""]


@given(st.lists(st.text(), min_size=2, max_size=2))
def test_every_text_comes_back_as_it_was_but_for_an_apostrophe(texts: list[str]) -> None:
    (_, row) = read(spreadsheet(("a", "b"), [texts]))
    for text, cell in zip(texts, row, strict=True):
        assert cell.removeprefix("'") == text.replace("\0", "").removeprefix("'")
