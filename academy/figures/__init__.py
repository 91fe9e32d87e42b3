"""Figures drawn from numbers.

``draw("orbit-trace", {"throw_mm": 15})`` returns a ``Figure``: the drawing, its
alternative text, its numbers as a table and its caption.  ``check`` returns
every parameter that does not fit, for an author who wants them all at once.
"""

from __future__ import annotations

from academy.figures.drawing import NAMES, check, draw
from academy.figures.figure import (
    Figure,
    FigureError,
    FigureKind,
    FigureTable,
    UnknownFigure,
    UnknownParameter,
)

__all__ = [
    "NAMES",
    "Figure",
    "FigureError",
    "FigureKind",
    "FigureTable",
    "UnknownFigure",
    "UnknownParameter",
    "check",
    "draw",
]
