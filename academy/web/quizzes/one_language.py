"""An examination is held in one language throughout: the one it was opened in."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any
from uuid import UUID

from flask.typing import ResponseReturnValue

from academy.store.queries.examinations import examination_conditions
from academy.web.context import db
from academy.web.identity import signed_in
from academy.web.language import in_language

View = Callable[..., ResponseReturnValue]


def in_its_language(view: View) -> View:
    """Let a view of a sitting speak the language of its examination; a quiz speaks the reader's."""

    @wraps(view)
    def held(**address: Any) -> ResponseReturnValue:
        tag = _language_of(address.get("sitting_id") or address["examination_id"])
        if tag is None:
            return view(**address)
        with in_language(tag):
            return view(**address)

    return held


def _language_of(sitting_id: UUID) -> str | None:
    conditions = examination_conditions(db(), signed_in().shop_id, sitting_id)
    return conditions["language"] if conditions else None
