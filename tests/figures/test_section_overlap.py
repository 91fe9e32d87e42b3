"""Rows, step and evenness are those of the polishing model."""

from __future__ import annotations

import pytest

from academy.domain.polishing.dwell import spread_between_rows, working_time_s
from academy.figures import check, draw
from academy.figures.section_overlap import (
    SectionOverlap,
    dwell_share,
    least_and_greatest,
    row_centres_mm,
    step_mm,
)


def values(rows: tuple[tuple[str, ...], ...]) -> dict[str, str]:
    """Return a two-column table as a mapping."""
    return {row[0]: row[1] for row in rows}


def given(**changed: object) -> SectionOverlap:
    """Build a section with small rows, so that endless rows are well approached."""
    return SectionOverlap.model_validate({"section_mm": 1000, "pad_mm": 100, **changed})


def interior(section: SectionOverlap) -> list[float]:
    """Return the drawn dwell over one step in the middle of the section."""
    start = row_centres_mm(section)[len(row_centres_mm(section)) // 2 - 1]
    return [dwell_share(section, start + step_mm(section) * part / 2000) for part in range(2001)]


@pytest.mark.parametrize("overlap", [0, 30, 50, 60, 75])
@pytest.mark.parametrize("pattern", ["parallel", "shifted", "crossed"])
def test_the_drawn_dwell_has_the_extremes_of_the_model(overlap: float, pattern: str) -> None:
    section = given(overlap_percent=overlap, pattern=pattern)
    spread = spread_between_rows(overlap / 100, 2 if pattern == "shifted" else 1)
    shares = interior(section)
    assert min(shares) == pytest.approx(spread.least, abs=0.03)
    assert max(shares) == pytest.approx(spread.greatest, abs=2e-3)
    assert sum(shares) / len(shares) == pytest.approx(1, abs=2e-3)


def test_the_default_section_has_five_rows_half_a_pad_apart() -> None:
    assert row_centres_mm(SectionOverlap()) == (75, 150, 225, 300, 375)


def test_rows_keep_the_whole_pad_inside_the_section() -> None:
    rows = row_centres_mm(given(overlap_percent=37))
    assert rows[0] >= 50
    assert rows[-1] <= 950
    assert rows[0] == pytest.approx(1000 - rows[-1])


def test_printed_numbers_are_those_of_the_model() -> None:
    figure = draw("section-overlap", {"passes": 4})
    cells = values(figure.table.rows)
    least, greatest = least_and_greatest(SectionOverlap())
    assert cells["least dwell between rows"] == f"{100 * least:.1f} % of the mean"
    assert cells["unevenness"] == f"{100 * (greatest - least):.1f} %"
    assert working_time_s(450, 150, 25, 0.5, 4) == 432
    assert cells["working time"] == "7.2 min"
    assert "7.2 min" in figure.svg


def test_shifting_every_second_pass_evens_the_dwell_and_crossing_does_not() -> None:
    spread = {
        pattern: values(draw("section-overlap", {"pattern": pattern}).table.rows)["unevenness"]
        for pattern in ("parallel", "shifted", "crossed")
    }
    assert spread["crossed"] == spread["parallel"]
    assert float(spread["shifted"].split()[0]) < 20 < float(spread["parallel"].split()[0])


@pytest.mark.parametrize(
    ("changed", "parameter"),
    [
        ({"passes": 3}, "passes"),
        ({"pad_mm": 200, "section_mm": 300}, "pad_mm"),
        ({"pad_mm": 25, "overlap_percent": 90}, "overlap_percent"),
        ({"overlap_percent": 100}, "overlap_percent"),
        ({"pattern": "random"}, "pattern"),
    ],
)
def test_a_section_that_cannot_be_worked_so_is_refused(
    changed: dict[str, object], parameter: str
) -> None:
    assert check("section-overlap", changed)[0].parameter == parameter
