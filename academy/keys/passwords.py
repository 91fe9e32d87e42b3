"""Password hashing: Argon2id, 46 MiB, one pass, one lane.

These are one of the equivalent settings of the OWASP password storage sheet.
One hash is computed at a time, so that a class signing in together does not
starve the pages of everybody else.
"""

from __future__ import annotations

import threading
import unicodedata

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError
from argon2.low_level import Type

SHORTEST = 15
LONGEST = 128

_HASHER = PasswordHasher(time_cost=1, memory_cost=47104, parallelism=1, type=Type.ID)
_ONE_AT_A_TIME = threading.Semaphore(1)
# compared against when nobody has the name, so that both answers take as long
_NOBODY = _HASHER.hash("nobody has this password")


def hash_password(password: str) -> str:
    """Return the encoded Argon2id hash of a password."""
    with _ONE_AT_A_TIME:
        return _HASHER.hash(normal_form(password))


def verify_password(encoded: str | None, password: str) -> bool:
    """Return whether the password is the one hashed; ``None`` never matches."""
    with _ONE_AT_A_TIME:
        try:
            _HASHER.verify(encoded or _NOBODY, normal_form(password))
        except (VerificationError, InvalidHashError):
            return False
    return encoded is not None


def normal_form(password: str) -> str:
    """Return the password in Unicode NFKC, so that every keyboard types the same one."""
    return unicodedata.normalize("NFKC", password)
