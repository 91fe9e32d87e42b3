"""Gauge studies that cannot be judged, and shares that must hold for any."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from academy.domain.metrology.average_range import gauge_study_by_average_range
from academy.domain.metrology.crossed_study import CrossedStudy, Measurement, crossed_study
from academy.domain.metrology.errors import (
    NotBalanced,
    NothingVaries,
    OutsideTheTable,
    StudyTooSmall,
)
from academy.domain.metrology.gauge_study import gauge_study_by_anova


def study(values: list[float], operators: int = 2, parts: int = 2, trials: int = 2) -> CrossedStudy:
    """Return a study filled with `values` in order."""
    cells = [(o, p) for o in range(operators) for p in range(parts) for _ in range(trials)]
    return crossed_study(
        Measurement(f"operator {o}", f"spot {p}", value)
        for (o, p), value in zip(cells, values, strict=True)
    )


def test_a_missing_measurement_is_named() -> None:
    rows = [Measurement(o, p, 1.0) for o in "AB" for p in "12" for _ in range(2)]
    with pytest.raises(NotBalanced, match="B measured part 2 1 times, not 2"):
        crossed_study(rows[:-1])


def test_one_operator_is_no_gauge_study() -> None:
    with pytest.raises(StudyTooSmall):
        crossed_study([Measurement("A", part, 1.0) for part in "1122"])


def test_readings_all_the_same_have_no_shares() -> None:
    with pytest.raises(NothingVaries):
        gauge_study_by_anova(study([5.0] * 8))
    with pytest.raises(NothingVaries):
        gauge_study_by_average_range(study([5.0] * 8))


def test_a_gauge_without_scatter_tells_any_number_of_parts_apart() -> None:
    assert gauge_study_by_anova(study([1, 1, 2, 2, 1, 1, 2, 2])).distinct_categories is None


def test_the_worksheet_ends_where_its_factors_end() -> None:
    with pytest.raises(OutsideTheTable, match="use the anova method"):
        gauge_study_by_average_range(study([1.0, 2.0] * 8, operators=4, parts=2, trials=2))


@given(st.lists(st.integers(900, 1100), min_size=18, max_size=18).filter(lambda v: len(set(v)) > 1))
def test_gauge_and_part_make_up_the_whole(values: list[int]) -> None:
    for pooled in (False, True):
        result = gauge_study_by_anova(
            study([float(v) for v in values], 3, 3, 2), pool_interaction=pooled
        )
        parts = result.components
        assert parts["gauge"] + parts["part"] == pytest.approx(parts["total"])
        assert parts["reproducibility"] == pytest.approx(parts["operator"] + parts["interaction"])
        assert min(parts.values()) >= 0
        assert set(result.clamped) == {k for k, v in result.before_clamping.items() if v < 0}
