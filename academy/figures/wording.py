"""Placing words: notes under a drawing and labels beside it that do not touch."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass

from academy.figures.svg import Canvas, Point

LINE = 16.0
# The widest ordinary sans-serif face needs a little over half its size for a letter.
LETTER = 0.545


@dataclass(frozen=True, slots=True)
class Label:
    """Words that belong to a height in the drawing."""

    y: float
    words: tuple[str, ...]


def room_for(words: Sequence[str], width: float, size: float = 12) -> list[str]:
    """Break sentences into lines that fit ``width``; each sentence starts a line."""
    letters = max(int(width / (size * LETTER)), 8)
    return [line for sentence in words for line in textwrap.wrap(sentence, letters)]


def notes_height(words: Sequence[str], width: float) -> float:
    """Return the height that ``notes`` will take."""
    return LINE * len(room_for(words, width))


def notes(canvas: Canvas, at: Point, words: Sequence[str], width: float) -> None:
    """Print sentences under a drawing, broken to ``width``; ``at`` is the top left."""
    lines = room_for(words, width)
    canvas.lines(Point(at.x, at.y + 12), lines, step=LINE)


def spread(
    centres: Sequence[float], heights: Sequence[float], top: float, bottom: float
) -> list[float]:
    """Move label centres apart, top to bottom, until none covers another.

    Each stays as near to its own height as its neighbours allow; where they
    would run below ``bottom`` the whole crowd is pushed up again.
    """
    placed: list[float] = []
    free = top
    for centre, height in zip(centres, heights, strict=True):
        placed.append(max(centre, free + height / 2))
        free = placed[-1] + height / 2
    free = bottom
    for number in range(len(placed) - 1, -1, -1):
        placed[number] = min(placed[number], free - heights[number] / 2)
        free = placed[number] - heights[number] / 2
    return placed


def labels_beside(
    canvas: Canvas, labels: Sequence[Label], edge: float, x: float, reach: tuple[float, float]
) -> None:
    """Print labels at ``x`` with a leader from ``edge`` at the height each belongs to.

    ``reach`` is the top and the bottom between which the labels have to stay.
    """
    heights = [LINE * len(label.words) + 3 for label in labels]
    centres = spread([label.y for label in labels], heights, *reach)
    for label, height, centre in zip(labels, heights, centres, strict=True):
        elbow = edge + (x - edge) * 0.6
        canvas.polyline(
            (Point(edge, label.y), Point(elbow, centre), Point(x - 3, centre)), "figure-rule"
        )
        canvas.lines(Point(x, centre - height / 2 + 13), label.words, step=LINE)
