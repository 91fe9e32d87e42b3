"""Digests over canonical JSON.

The vectors are those of RFC 8785, section 3.2.2 to 3.2.4 and appendix B, from memory.
"""

from __future__ import annotations

import hashlib
import struct
from typing import Any

import pytest

from academy.keys.digests import canonical, digest_of, new_salt, salted_digest

SECTION_3_2_2 = {
    "numbers": [333333333.33333329, 1e30, 4.50, 2e-3, 0.000000000000000000000000001],
    "string": "\u20ac$\u000f\u000aA'\u0042\u0022\u005c\\\"/",
    "literals": [None, True, False],
}
SECTION_3_2_3 = {
    "\u20ac": "Euro Sign",
    "\r": "Carriage Return",
    "\ufb33": "Hebrew Letter Dalet With Dagesh",
    "1": "One",
    "\U0001f600": "Emoji: Grinning Face",
    "\u0080": "Control",
    "\u00f6": "Latin Small Letter O With Diaeresis",
}


def test_the_example_of_the_standard_gives_its_bytes() -> None:
    assert canonical(SECTION_3_2_2).decode() == (
        '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],'
        '"string":"\u20ac$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}'
    )


def test_names_are_sorted_by_their_utf_16_code_units() -> None:
    text = canonical(SECTION_3_2_3).decode()
    in_order = ["Carriage", "One", "Control", "Latin", "Euro", "Emoji", "Hebrew"]
    assert sorted(in_order, key=text.index) == in_order


@pytest.mark.parametrize(
    ("bits", "text"),
    [
        ("0000000000000000", "0"),
        ("8000000000000000", "0"),
        ("0000000000000001", "5e-324"),
        ("8000000000000001", "-5e-324"),
        ("7fefffffffffffff", "1.7976931348623157e+308"),
        ("4340000000000000", "9007199254740992"),
        ("c340000000000000", "-9007199254740992"),
        ("444b1ae4d6e2ef4f", "999999999999999900000"),
        ("444b1ae4d6e2ef50", "1e+21"),
        ("3eb0c6f7a0b5ed8c", "9.999999999999997e-7"),
        ("3eb0c6f7a0b5ed8d", "0.000001"),
        ("41b3de4355555553", "333333333.3333332"),
        ("41b3de4355555557", "333333333.33333343"),
    ],
)
def test_a_number_is_written_as_the_standard_writes_it(bits: str, text: str) -> None:
    (number,) = struct.unpack(">d", bytes.fromhex(bits))
    assert canonical(number).decode() == text


@pytest.mark.parametrize("value", [float("nan"), float("inf"), 2**53 + 1, {1: "number as name"}])
def test_what_json_cannot_say_exactly_is_refused(value: Any) -> None:
    with pytest.raises((ValueError, TypeError)):
        canonical(value)


def test_a_digest_does_not_depend_on_the_order_of_names() -> None:
    one, other = {"a": 1, "b": [1, 2]}, {"b": [1, 2], "a": 1}
    assert digest_of(one) == digest_of(other) == hashlib.sha256(b'{"a":1,"b":[1,2]}').hexdigest()
    assert digest_of({"a": 1, "b": [2, 1]}) != digest_of(one)


def test_the_same_text_under_another_salt_has_another_digest() -> None:
    one, other = new_salt(), new_salt()
    assert len(one) == 32
    assert salted_digest(one, "even arm") == salted_digest(one, "even arm")
    assert salted_digest(one, "even arm") != salted_digest(other, "even arm")
    assert salted_digest(one, "even arm") != salted_digest(one, "even arm.")
