"""``check`` blocks: a question nobody scores, and its answer."""

from __future__ import annotations

from dataclasses import dataclass

from academy.content.problems import Place, Problems

FIELDS = ("ask", "answer")


@dataclass(frozen=True, slots=True)
class Lines:
    """A text and the line it starts at."""

    text: str
    line: int


@dataclass(frozen=True, slots=True)
class InlineCheck:
    """What is asked and what is answered."""

    ask: Lines
    answer: Lines


def read_check(block: str, place: Place, problems: Problems) -> InlineCheck | None:
    """Read ``ask:`` and ``answer:``; each runs on until the next, colons and all."""
    found: dict[str, list[str]] = {}
    starts: dict[str, int] = {}
    current = ""
    for number, line in enumerate(block.splitlines(), place.line + 1):
        name, colon, rest = line.partition(":")
        if colon and name in FIELDS and name not in found:
            current, line = name, rest
            starts[name] = number
        if not current and line.strip():
            problems.error(Place(place.path, number), "a check opens with `ask:`")
            return None
        found.setdefault(current, []).append(line.strip())
    for name in FIELDS:
        if not "".join(found.get(name, [])).strip():
            problems.error(place, "the check has no `%(name)s:`", name=name)
            return None
    ask, answer = (Lines("\n".join(found[name]), starts[name]) for name in FIELDS)
    return InlineCheck(ask, answer)
