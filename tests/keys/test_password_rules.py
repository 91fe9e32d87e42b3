"""Which new passwords are refused: too short, too long, or the first a stranger would try."""

from __future__ import annotations

import pytest

from academy.keys.password_rules import password_fault

OWN = ("Mira Holt", "mira", "Quay Lane Workshop")


@pytest.mark.parametrize(
    "password",
    [
        "seven quiet lamps on the bench",
        "Kreuzstrich mit leichter Hand",
        "x" * 5 + "abcdefg" + "hijklmnop",
        "漆は七回塗って七回磨くものだと祖父は言った",
        "four unrelated " * 8,
    ],
)
def test_a_long_phrase_is_accepted(password: str) -> None:
    assert password_fault(password, *OWN) is None


@pytest.mark.parametrize(
    ("password", "says"),
    [
        ("", "at least 15"),
        ("fourteen chars", "at least 15"),
        ("a much longer one " * 8, "at most 128"),
        ("aaaaaaaaaaaaaaaaaaaa", "different"),
        ("abababababababababab", "different"),
        ("passwordpassword1", "stranger"),
        ("PassWord PassWord", "stranger"),
        ("Mira Holt Mira Holt", "stranger"),
        ("mira.holt.quay.lane", "stranger"),
        ("quay lane workshop", "stranger"),
        ("qwertyuiop1234567890", "stranger"),
        ("１２３４５６７８９０１２３４５", "stranger"),
    ],
)
def test_a_password_that_is_guessed_first_is_refused_with_a_reason(
    password: str, says: str
) -> None:
    fault = password_fault(password, *OWN)
    assert fault is not None
    assert says in fault


def test_the_limits_themselves_are_allowed() -> None:
    phrase = "seven quiet lamps on the bench and nobody near them "
    assert password_fault(phrase[:15]) is None
    assert password_fault((phrase * 3)[:128]) is None
    assert password_fault((phrase * 3)[:129]) is not None
