"""LSAT6: the table on which item statistics and response models have been compared for fifty years.

R. D. Bock, M. Lieberman (1970), Psychometrika 35, 179.  Classical values read
in a published printout of ``ltm::descript(LSAT)`` and recomputed with numpy and
R psych; model values read in the tests of the R package mirt and recomputed
with independent code.
"""

from __future__ import annotations

import numpy as np
import pytest

from academy.domain.assessment.ability import ability_of
from academy.domain.assessment.item_statistics import Reliability, item_statistics
from academy.domain.assessment.one_parameter import fit_one_parameter, rasch_difficulties
from academy.domain.assessment.two_parameter import fit_two_parameter
from tests.reference.rated_data import lsat6, lsat6_dense


def test_shares_right_and_scores() -> None:
    found = item_statistics(lsat6())
    assert found.share_right == pytest.approx((0.924, 0.709, 0.553, 0.763, 0.87), abs=1e-12)
    scores = np.bincount(lsat6_dense().sum(axis=1))
    assert scores.tolist() == [3, 20, 85, 237, 357, 298]


def test_item_rest_correlations_leave_the_item_out() -> None:
    found = item_statistics(lsat6())
    assert found.item_rest == pytest.approx((0.1128, 0.1532, 0.1728, 0.1444, 0.1216), abs=5e-5)


def test_alpha_uses_one_denominator_throughout() -> None:
    """0.295952 would be the value with p(1−p) over n beside a score variance over n − 1."""
    reliability = item_statistics(lsat6()).reliability
    assert isinstance(reliability, Reliability)
    assert reliability.alpha == pytest.approx(0.2949972, abs=5e-7)
    assert reliability.alpha_if_deleted == pytest.approx(
        (0.2754, 0.2376, 0.2168, 0.2459, 0.2663), abs=5e-5
    )
    assert reliability.mean == pytest.approx(3.819, abs=1e-12)
    assert reliability.sd == pytest.approx(1.035041, abs=1e-6)
    assert reliability.sem == pytest.approx(0.869067, abs=1e-6)


def test_the_one_parameter_model() -> None:
    fit = fit_one_parameter(lsat6())
    assert fit.slope == pytest.approx(0.7551, abs=1e-4)
    assert fit.parameters.d == pytest.approx([2.7300, 0.9986, 0.2399, 1.3065, 2.0994], abs=1e-4)
    assert fit.parameters.b == pytest.approx([-3.6153, -1.3224, -0.3176, -1.7301, -2.7802], abs=1e-4)  # fmt: skip
    assert fit.log_likelihood == pytest.approx(-2466.938, abs=5e-4)
    assert fit.variance == pytest.approx(0.570228, abs=1e-5)
    assert fit.parameters.at_limit == ()


def test_the_two_parameter_model() -> None:
    fit = fit_two_parameter(lsat6(), tolerance=1e-7)
    assert fit.parameters.a == pytest.approx([0.8257, 0.7227, 0.8909, 0.6884, 0.6569], abs=1e-4)
    assert fit.parameters.d == pytest.approx([2.7732, 0.9902, 0.2491, 1.2848, 2.0533], abs=1e-4)
    assert fit.parameters.b == pytest.approx([-3.3588, -1.3701, -0.2797, -1.8664, -3.1259], abs=2e-4)  # fmt: skip
    assert fit.log_likelihood == pytest.approx(-2466.6534, abs=1e-4)


def test_centred_difficulties_are_those_of_bock_and_aitkin() -> None:
    """R. D. Bock, M. Aitkin (1981); values computed."""
    found = rasch_difficulties(fit_one_parameter(lsat6()))
    assert found == pytest.approx([-1.2551, 0.4763, 1.2350, 0.1684, -0.6245], abs=1e-4)


def test_centred_difficulties_lie_by_the_conditional_ones() -> None:
    """Conditional maximum likelihood with R eRm 1.0-2: it assumes no distribution of ability.

    The two methods estimate the same quantity and differ by far less than
    its standard error, 0.07 to 0.10.
    """
    found = rasch_difficulties(fit_one_parameter(lsat6()))
    assert found == pytest.approx([-1.2561, 0.4749, 1.2360, 0.1684, -0.6232], abs=2e-3)


def test_all_right_and_all_wrong_have_a_finite_ability() -> None:
    """Computed with 61 Gauss-Hermite nodes; no maximum-likelihood estimate exists there."""
    parameters = fit_one_parameter(lsat6()).parameters
    none = ability_of(parameters.a, parameters.d, [0] * 5)
    everything = ability_of(parameters.a, parameters.d, [1] * 5)
    assert (none.mean, none.sd) == pytest.approx((-1.9101, 0.7973), abs=1e-4)
    assert (everything.mean, everything.sd) == pytest.approx((0.6322, 0.8640), abs=1e-4)
