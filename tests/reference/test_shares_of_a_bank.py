"""A bank's prior from the moments of its shares."""

from __future__ import annotations

import pytest

from academy.domain.assessment.shown_share import prior_from_moments


def test_the_prior_of_the_tumour_groups() -> None:
    """A. Gelman and others, Bayesian Data Analysis, section 5.1: prints (1.4, 8.6); from memory, recomputed."""
    prior = prior_from_moments(0.136007, 0.103492**2)
    assert prior is not None
    assert (prior.a, prior.b) == pytest.approx((1.356, 8.615), abs=5e-4)
