"""One-time links: an unguessable token goes out, only its digest is kept."""

from __future__ import annotations

import hashlib
import secrets
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class OneTimeToken:
    """A new token and the digest to keep; the token itself is shown once."""

    token: str
    digest: str


def new_token() -> OneTimeToken:
    """Return a token of 256 random bits."""
    token = secrets.token_urlsafe(32)
    return OneTimeToken(token, token_digest(token))


def token_digest(token: str) -> str:
    """Return the digest under which a token is kept."""
    return hashlib.sha256(token.encode()).hexdigest()
