"""``figure`` blocks: drawn from their parameters, set with caption and data table."""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import lru_cache
from html import escape

from academy.content.matter import read_yaml
from academy.content.problems import Place, Problems
from academy.domain.sentences import TradeError
from academy.figures import Figure, FigureTable, draw


def figure_html(name: str, block: str, place: Place, problems: Problems) -> str | None:
    """Return the figure a block asks for, or None (noted) when it cannot be drawn.

    ``place`` is the line of the block's opening.
    """
    parameters = _parameters(block, place, problems)
    if parameters is None:
        return None
    caption = parameters.pop("caption", "")
    try:
        figure = _drawn(name, json.dumps(parameters, sort_keys=True, default=str))
    except TradeError as fault:
        problems.error(place, "figure %(name)s: %(fault)s", name=name, fault=fault)
        return None
    return _set(name, figure, str(caption) or figure.caption)


def _parameters(block: str, place: Place, problems: Problems) -> dict[str, object] | None:
    if not block.strip():
        return {}
    located = read_yaml(block, Place(place.path, place.line + 1), problems)
    return None if located is None else {str(key): item for key, item in located.value.items()}


@lru_cache(maxsize=512)
def _drawn(name: str, parameters: str) -> Figure:
    # Pure: the same parameters give the same figure as long as the program runs.
    given: Mapping[str, object] = json.loads(parameters)
    return draw(name, given)


def _set(name: str, figure: Figure, caption: str) -> str:
    return (
        f'<figure class="drawn" data-figure="{escape(name)}">{figure.labelled_svg}'
        f"<figcaption>{escape(caption, quote=False)}</figcaption>"
        f"{_table(figure.table)}</figure>"
    )


def _table(table: FigureTable) -> str:
    head = "".join(f'<th scope="col">{escape(cell, quote=False)}</th>' for cell in table.columns)
    rows = "".join(
        "<tr>" + "".join(f"<td>{escape(cell, quote=False)}</td>" for cell in row) + "</tr>"
        for row in table.rows
    )
    return (
        '<details class="figure-data"><summary>The numbers of this figure</summary>'
        f"<table><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table></details>"
    )
