"""Digests over canonical JSON.

Bytes are RFC 8785 (JSON Canonicalization Scheme); a digest is lower-case
hexadecimal SHA-256.  Personal text enters signed bytes only as a salted
digest, so erasing the text leaves every chain and signature whole.
"""

from __future__ import annotations

import hashlib
import secrets
from typing import Any

import rfc8785


def canonical(value: Any) -> bytes:
    """Return the RFC 8785 bytes of a JSON value (no floats that are not exact)."""
    return rfc8785.dumps(value)


def digest_of(value: Any) -> str:
    """Return the SHA-256 of the value's canonical bytes, in hexadecimal."""
    return hashlib.sha256(canonical(value)).hexdigest()


def new_salt() -> str:
    """Return 128 random bits in hexadecimal."""
    return secrets.token_hex(16)


def salted_digest(salt: str, text: str) -> str:
    """Return the digest under which a personal text stands in signed bytes."""
    return hashlib.sha256(f"{salt}\n{text}".encode()).hexdigest()
