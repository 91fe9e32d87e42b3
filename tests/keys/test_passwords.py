"""Passwords are kept as Argon2id hashes and compared in one spelling."""

from __future__ import annotations

import pytest

from academy.keys.passwords import hash_password, verify_password
from tests.support.cast import PASSWORD, password_hash


def test_the_right_password_matches_its_hash_and_another_does_not() -> None:
    assert verify_password(password_hash(), PASSWORD)
    assert not verify_password(password_hash(), PASSWORD + " ")
    assert not verify_password(password_hash(), "")


def test_two_keyboards_type_the_same_password() -> None:
    """An umlaut as one character or two, a ligature or its letters: NFKC makes them one."""
    composed, apart = "f\u00fcnf z\u00e4he \ufb01lzscheiben", "fu\u0308nf za\u0308he filzscheiben"
    assert composed != apart
    assert verify_password(hash_password(composed), apart)


def test_nobody_without_a_password_is_let_in() -> None:
    assert not verify_password(None, "")
    assert not verify_password(None, "nobody has this password")


@pytest.mark.parametrize("kept", ["", "plain text", "$argon2id$v=19$broken", "$2b$12$abc"])
def test_what_is_no_hash_matches_nothing(kept: str) -> None:
    assert not verify_password(kept, kept)
    assert not verify_password(kept, PASSWORD)


def test_the_hash_is_argon2id_with_the_stated_cost() -> None:
    assert password_hash().startswith("$argon2id$v=19$m=47104,t=1,p=1$")


def test_the_same_password_is_hashed_with_another_salt() -> None:
    assert hash_password(PASSWORD) != password_hash()
