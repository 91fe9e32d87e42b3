"""Inputs from texts: the query of a link in a lesson, the fields of a form."""

from __future__ import annotations

import json
from collections.abc import Mapping


def inputs_from_texts(texts: Mapping[str, str]) -> dict[str, object]:
    """Read each text as JSON where it is JSON (``21``, ``[1, 2]``, ``true``), else as a word.

    Blank texts are left out, so that a default applies or the field is named
    as missing.
    """
    return {name: _value(text.strip()) for name, text in texts.items() if text.strip()}


def _value(text: str) -> object:
    try:
        return json.loads(text, parse_constant=str)
    except (ValueError, RecursionError):
        return text
