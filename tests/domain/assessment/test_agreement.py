"""Raters: agreement with gaps, without variation, and in words."""

from __future__ import annotations

import numpy as np
import pytest

from academy.domain.assessment.agreement import agreement
from academy.domain.assessment.agreement_words import (
    NoVariation,
    Reliable,
    Tentative,
    Unreliable,
    agreement_in_words,
)
from academy.domain.assessment.intraclass import intraclass_correlations
from academy.domain.assessment.rater_alpha import NothingToCompare, Scale

NAN = np.nan
COARSE = np.array([[1, 2, 4, 4, 1, 2], [1, 4, 4, 2, 1, 2]], dtype=float)


@pytest.mark.parametrize("scale", Scale)
def test_raters_who_agree_everywhere_have_an_alpha_of_1(scale: Scale) -> None:
    found = agreement(np.array([[1.0, 2, 3, 3], [1, 2, 3, 3]]), scale)
    assert found.alpha == pytest.approx(1.0)
    assert found.observed_agreement == 1.0
    assert found.pair is not None
    assert found.pair.plain == found.pair.quadratic == pytest.approx(1.0)


@pytest.mark.parametrize("scale", Scale)
def test_without_variation_nothing_is_claimed(scale: Scale) -> None:
    found = agreement(np.ones((3, 5)), scale)
    assert found.alpha is None
    assert found.fleiss is None
    assert found.observed_agreement == 1.0
    assert found.intraclass is not None
    assert set(found.intraclass.by_name().values()) == {None}
    assert isinstance(agreement_in_words(found.alpha, 1.0), NoVariation)


def test_a_common_value_with_a_rounding_error_still_does_not_vary() -> None:
    found = intraclass_correlations(np.full((3, 7), 0.1) * 3)
    assert set(found.by_name().values()) == {None}


def test_kappas_of_two_raters_use_what_both_rated() -> None:
    whole = agreement(np.array([[1.0, 2, 2, 1], [1, 2, 1, 1]]), Scale.NOMINAL)
    gaps = agreement(np.array([[1.0, 2, 2, 1, NAN, 2], [1, 2, 1, 1, 2, NAN]]), Scale.NOMINAL)
    assert gaps.pair == whole.pair
    assert gaps.alpha == pytest.approx(whole.alpha)
    assert gaps.fleiss is None
    assert gaps.intraclass is None


def test_steps_between_categories_are_counted_over_those_of_the_scale() -> None:
    used, full, measured = (
        agreement(COARSE, Scale.ORDINAL).pair,
        agreement(COARSE, Scale.ORDINAL, np.arange(1.0, 5)).pair,
        agreement(COARSE, Scale.INTERVAL).pair,
    )
    assert used is not None
    assert full is not None
    assert used.linear != full.linear
    assert full == measured
    assert used.plain == full.plain


def test_three_raters_have_no_pair() -> None:
    assert agreement(np.array([[1.0, 2], [1, 2], [2, 2]]), Scale.ORDINAL).pair is None


def test_a_rater_who_rates_one_higher_throughout_agrees_in_order_alone() -> None:
    first = np.array([1.0, 2, 3, 4, 5])
    found = agreement(np.array([first, first + 1]), Scale.INTERVAL).intraclass
    assert found is not None
    assert found.single_3 == pytest.approx(1.0)
    assert found.single_2 == pytest.approx(2.5 / 3.0)


def test_raters_who_share_no_subject_cannot_be_compared() -> None:
    with pytest.raises(NothingToCompare):
        agreement(np.array([[1, NAN], [NAN, 2]]), Scale.NOMINAL)


@pytest.mark.parametrize(
    ("alpha", "kind"),
    [(0.95, Reliable), (0.8, Reliable), (0.7, Tentative), (0.5, Unreliable), (-0.2, Unreliable)],
)
def test_the_words_name_the_share_of_equal_ratings_beside_alpha(alpha: float, kind: type) -> None:
    sentence = agreement_in_words(alpha, 0.914)
    assert type(sentence) is kind
    assert "91 of 100 pairs of ratings are equal" in str(sentence)
    assert f"alpha {alpha:.2f}" in str(sentence)
