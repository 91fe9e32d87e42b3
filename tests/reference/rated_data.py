"""The small published tables of responses and ratings that stand in ``data/``."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from academy.domain.assessment.responses import Responses, responses_of

DATA = Path(__file__).parent / "data"
Numbers = NDArray[np.float64]


def table(name: str) -> Numbers:
    """Return a table of numbers without its heading and row names; an empty cell is NaN."""
    with (DATA / name).open(encoding="utf-8") as file:
        lines = [line for line in file if not line.startswith("#")]
    rows = list(csv.reader(lines))[1:]
    first = 0 if name.startswith("lsat") else 1
    return np.array([[float(cell or "nan") for cell in row[first:]] for row in rows])


def lsat6_rows() -> tuple[list[list[int | None]], list[int]]:
    """Return the 32 patterns of LSAT6 and how many persons gave each."""
    whole = table("lsat6_patterns.csv").astype(int).tolist()
    return [row[:5] for row in whole], [row[5] for row in whole]


def lsat6() -> Responses:
    """Return LSAT6 as responses."""
    return responses_of(*lsat6_rows())


def lsat6_dense() -> NDArray[np.int64]:
    """Return LSAT6 person by person."""
    rows, counts = lsat6_rows()
    return np.repeat(np.array(rows, dtype=np.int64), counts, axis=0)
