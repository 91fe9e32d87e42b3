"""Which passwords are refused, and the sentence that says why (NIST SP 800-63B: length and a
blocklist, no composition rules)."""

from __future__ import annotations

from academy.keys.passwords import LONGEST, SHORTEST, normal_form

_COMMON_PIECES = (
    "password",
    "passwort",
    "qwertyuiop",
    "1234567890",
    "0987654321",
    "abcdefghij",
    "letmein",
    "iloveyou",
    "welcome",
    "polish",
    "workshop",
)


def password_fault(password: str, *own_words: str) -> str | None:
    """Return why a new password is refused, or None when it is accepted.

    ``own_words`` are words that a stranger would try first: the person's name,
    sign-in name and shop.  What is judged is what will be hashed.
    """
    password = normal_form(password)
    if len(password) < SHORTEST:
        return f"Use at least {SHORTEST} characters; four or five unrelated words are easy to keep"
    if len(password) > LONGEST:
        return f"Use at most {LONGEST} characters"
    rest = password.casefold()
    if len(set(rest)) < 5:
        return "Use more than a few different characters"
    for word in (*_COMMON_PIECES, *" ".join(own_words).split()):
        rest = rest.replace(word.casefold(), "") if len(word) > 2 else rest
    if len(rest.strip()) < 8:
        return "This is among the first passwords a stranger would try; use unrelated words"
    return None
