"""Agreement of raters: published tables and their printed coefficients."""

from __future__ import annotations

import numpy as np
import pytest

from academy.domain.assessment.agreement import agreement
from academy.domain.assessment.intraclass import intraclass_correlations
from academy.domain.assessment.rater_alpha import Scale, krippendorff_alpha
from academy.domain.assessment.rater_kappa import fleiss_kappa, kappa
from tests.reference.rated_data import table


def test_the_six_intraclass_correlations_of_shrout_and_fleiss() -> None:
    """Shrout and Fleiss 1979 print .17 .29 .71 .44 .62 .91 (from memory); digits computed three ways."""
    found = intraclass_correlations(table("shrout_fleiss_1979.csv").T).by_name()
    printed = {"1,1": 0.17, "2,1": 0.29, "3,1": 0.71, "1,k": 0.44, "2,k": 0.62, "3,k": 0.91}
    assert {name: round(value or 0, 2) for name, value in found.items()} == printed
    assert list(found.values()) == pytest.approx(
        [0.165742, 0.289764, 0.714841, 0.442797, 0.620051, 0.909316], abs=1e-6
    )


@pytest.mark.parametrize(
    ("scale", "alpha"),
    [
        (Scale.NOMINAL, 0.743421),
        (Scale.ORDINAL, 0.815388),
        (Scale.INTERVAL, 0.849107),
        (Scale.RATIO, 0.797403),
    ],
)
def test_krippendorffs_alpha_on_every_scale_with_gaps(scale: Scale, alpha: float) -> None:
    """Krippendorff 2011 prints .743 .815 .849 .797 (from memory; data read); computed three ways."""
    found = krippendorff_alpha(table("krippendorff_2011.csv"), scale)
    assert found.alpha == pytest.approx(alpha, abs=1e-6)


def test_cohens_kappa() -> None:
    """J. Cohen 1960 prints .492 (from memory); computed three ways."""
    counts = np.array([[88, 14, 18], [10, 40, 10], [2, 6, 12]], dtype=float)
    assert np.trace(counts) / counts.sum() == pytest.approx(0.70)
    assert kappa(counts, np.arange(3.0)) == pytest.approx(0.491525, abs=1e-6)


def test_fleiss_kappa_of_fourteen_raters() -> None:
    """A widely reprinted example, 0.210; table and value from memory, recomputed."""
    assert fleiss_kappa(table("fleiss_10x5.csv")) == pytest.approx(0.210, abs=5e-4)


def test_alpha_and_fleiss_kappa_differ_by_the_small_sample_term() -> None:
    """α = κ + (1 − κ)/N over N values (Krippendorff 2011; from memory, follows from both formulas)."""
    counts = table("fleiss_10x5.csv")
    ratings = np.array([np.repeat(np.arange(5.0), row.astype(int)) for row in counts]).T
    found = agreement(ratings, Scale.NOMINAL)
    assert found.alpha is not None
    assert found.fleiss is not None
    assert found.alpha == pytest.approx(found.fleiss + (1 - found.fleiss) / counts.sum(), abs=1e-12)
