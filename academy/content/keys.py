"""Whether a question's key and marks fit its options (L08)."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping

from academy.content.schema import (
    ChoiceMatter,
    HotspotMatter,
    MatchMatter,
    MultipleMatter,
    OrderMatter,
    QuestionMatter,
)

FULL = 100


class KeyFault:
    """What is wrong with one field of the front matter: a template and its values."""

    __slots__ = ("field", "template", "values")

    def __init__(self, field: str, template: str, /, **values: object) -> None:
        self.field = field
        self.template = template
        self.values: Mapping[str, object] = values


def key_faults(matter: QuestionMatter, numbers: Collection[int]) -> Iterator[KeyFault]:
    """Yield what is wrong with the key and the marks of a question without decisions.

    ``numbers`` are the options' numbers, for a hotspot the regions'.
    """
    if isinstance(matter, ChoiceMatter):
        yield from _chosen([matter.key], numbers)
        yield from _choice_marks(matter.marks, [matter.key], numbers)
    elif isinstance(matter, MultipleMatter):
        yield from _chosen(matter.key, numbers)
        yield from _shared_marks(matter.marks, matter.key, numbers)
    elif isinstance(matter, HotspotMatter):
        keys = hotspot_keys(matter)
        yield from _chosen(keys, numbers)
        yield from _shared_marks(matter.marks, keys, numbers)
    elif isinstance(matter, OrderMatter):
        if sorted(matter.key) != sorted(numbers):
            yield KeyFault("key", "L08: the key does not name each item once")
    elif isinstance(matter, MatchMatter) and sorted(matter.key) != sorted(numbers):
        yield KeyFault("key", "L08: the key does not pair each option once")


def hotspot_keys(matter: HotspotMatter) -> list[int]:
    """Return the right regions, also where the author named a single one."""
    return [matter.key] if isinstance(matter.key, int) else list(matter.key)


def partner_faults(matter: MatchMatter, partners: Collection[int]) -> Iterator[KeyFault]:
    """Yield what is wrong with the partners the key of a match names."""
    for option, partner in matter.key.items():
        if partner not in partners:
            yield KeyFault(
                "key",
                "L08: the key pairs %(option)s with %(partner)s, which is not there",
                option=option,
                partner=partner,
            )
    if len(set(matter.key.values())) != len(matter.key):
        yield KeyFault("key", "L08: the key gives two options the same partner")


def _chosen(keys: Collection[int], numbers: Collection[int]) -> Iterator[KeyFault]:
    for key in keys:
        if key not in numbers:
            yield KeyFault("key", "L08: the key names %(key)s, which is not there", key=key)
    if len(set(keys)) != len(keys):
        yield KeyFault("key", "L08: the key names the same number twice")
    if numbers and set(keys) >= set(numbers):
        yield KeyFault("key", "L08: the key names every one; one at least is wrong")


def _known_marks(marks: Mapping[int, int], numbers: Collection[int]) -> Iterator[KeyFault]:
    for number in marks:
        if number not in numbers:
            yield KeyFault(
                "marks", "marks are given for %(number)s, which is not there", number=number
            )


def _choice_marks(
    marks: Mapping[int, int], keys: Collection[int], numbers: Collection[int]
) -> Iterator[KeyFault]:
    yield from _known_marks(marks, numbers)
    for number, mark in marks.items():
        if number in keys and mark != FULL:
            yield KeyFault("marks", "the key earns %(mark)s percent, not 100", mark=mark)
        if number not in keys and mark >= FULL:
            yield KeyFault(
                "marks", "option %(number)s earns full marks and is not the key", number=number
            )


def _shared_marks(
    marks: Mapping[int, int], keys: Collection[int], numbers: Collection[int]
) -> Iterator[KeyFault]:
    yield from _known_marks(marks, numbers)
    if not marks:
        return
    earned = sum(mark for number, mark in marks.items() if number in keys)
    if earned != FULL:
        yield KeyFault(
            "marks", "the marks of the key add up to %(earned)s, not to 100", earned=earned
        )
    for number, mark in marks.items():
        if number not in keys and mark > 0:
            yield KeyFault(
                "marks", "%(number)s is wrong and earns %(mark)s percent", number=number, mark=mark
            )
