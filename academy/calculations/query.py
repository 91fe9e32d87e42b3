"""Inputs as flat names and texts: the fields of a form and the query of a link.

``{"exposures": [{"m_s2": 4.5}]}`` is ``exposures-1-m_s2=4.5``, a part's field is
``reference-force_n``, and a list of numbers is one text with spaces.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence


def flat_texts(inputs: Mapping[str, object]) -> dict[str, str]:
    """Return each input by its flat name; what is None is left out."""
    return dict(_flat(inputs, ""))


def flat_name(location: Sequence[int | str]) -> str:
    """Return the flat name of a place in the inputs; a number in a list belongs to the list.

    ``("spots", 0, "before_um", 2)`` is ``spots-1-before_um``.
    """
    steps = list(location)
    while steps and isinstance(steps[-1], int):
        steps.pop()
    return "-".join(str(step + 1) if isinstance(step, int) else step for step in steps)


def _flat(inputs: Mapping[str, object], prefix: str) -> Iterator[tuple[str, str]]:
    for name, value in inputs.items():
        path = f"{prefix}{name}"
        if isinstance(value, Mapping):
            yield from _flat(value, f"{path}-")
        elif isinstance(value, list) and value and isinstance(value[0], Mapping):
            for number, row in enumerate(value, 1):
                yield from _flat(row, f"{path}-{number}-")
        elif value is not None:
            yield path, _text(value)


def _text(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list):
        return " ".join(map(_text, value))
    return f"{value:.15g}" if isinstance(value, float) else str(value)
