"""A table that spreadsheets open: comma-separated, with every cell safe.

RFC 4180: CRLF, quotes doubled.  UTF-8 with a byte order mark, by which
spreadsheets know the encoding.  A text that begins like a formula gets an
apostrophe in front, so that opening the file runs nothing (OWASP, CSV
Injection; from memory).  Numbers stay numbers, negative ones too.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "\N{FULLWIDTH EQUALS SIGN}", "\N{FULLWIDTH PLUS SIGN}",
           "\N{FULLWIDTH HYPHEN-MINUS}", "\N{FULLWIDTH COMMERCIAL AT}")  # fmt: skip
BYTE_ORDER_MARK = "\N{ZERO WIDTH NO-BREAK SPACE}"
Value = str | int | float | None


def spreadsheet(columns: Sequence[str], rows: Iterable[Sequence[Value]]) -> bytes:
    """Return the table as bytes; None is an empty cell."""
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow([_safe(name) for name in columns])
    writer.writerows([[_safe(value) for value in row] for row in rows])
    return (BYTE_ORDER_MARK + text.getvalue()).encode()


def _safe(value: Value) -> str:
    if value is None:
        return ""
    if not isinstance(value, str):
        return f"{value:.10g}" if isinstance(value, float) else str(value)
    text = value.replace("\0", "")
    return f"'{text}" if text.lstrip(" ").startswith(FORMULA) else text
