"""One-time links: the token goes out, only its digest stays."""

from __future__ import annotations

import hashlib
import re

from academy.keys.links import new_token, token_digest


def test_a_token_is_not_to_be_guessed_and_fits_an_address() -> None:
    token = new_token().token
    assert re.fullmatch(r"[A-Za-z0-9_-]{43}", token)
    assert new_token().token != token


def test_what_is_kept_is_the_digest_of_the_token() -> None:
    made = new_token()
    assert (
        made.digest == token_digest(made.token) == hashlib.sha256(made.token.encode()).hexdigest()
    )
    assert made.token not in made.digest
