"""An examination is held in one language throughout: the one it was opened in."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any
from uuid import UUID

from flask.typing import ResponseReturnValue

from academy.store.queries.examinations import sitting_in_shop
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
    found = sitting_in_shop(db(), signed_in().shop_id, sitting_id)
    return found.examination["language"] if found and found.examination else None
