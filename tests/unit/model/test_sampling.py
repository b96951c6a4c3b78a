"""Counts drawn by keyed numbers follow their laws."""

import numpy as np
import pytest
from scipy.stats import betabinom, binom, nbinom
from scipy.stats import poisson as strewn

from swardbook.model.chance import Chance
from swardbook.model.sampling import counts, hits, poisson

CHANCE = Chance(("sampling",))


def test_hits_are_binomial_and_beta_binomial_where_alike() -> None:
    many = 20_000
    share = np.full(many, 0.3)
    luck = CHANCE.uniforms("hits", many)
    assert np.array_equal(hits(CHANCE, 50, share, 0.0), binom.ppf(luck, 50, 0.3))
    found = hits(CHANCE, 50, share, 0.1)
    scale = 1 / 0.1 - 1
    law = betabinom(50, 0.3 * scale, 0.7 * scale)
    assert found.mean() == pytest.approx(law.mean(), rel=0.02)
    assert found.var() == pytest.approx(law.var(), rel=0.05)


def test_hits_among_none_are_none() -> None:
    none = hits(CHANCE, np.zeros(8), np.full(8, 0.5), 0.0)
    assert np.array_equal(none, np.zeros(8))


def test_counts_are_negative_binomial() -> None:
    many = 20_000
    found = counts(CHANCE, np.full(many, 8.0), 1.5)
    law = nbinom(1.5, 1.5 / (1.5 + 8.0))
    for most in (0, 3, 8, 20):
        assert np.mean(found <= most) == pytest.approx(law.cdf(most), abs=0.012)


def test_things_strewn_at_random_are_poisson() -> None:
    mean = np.exp(CHANCE.normals("mean", 2000))
    luck = CHANCE.uniforms("strewn", 2000)
    assert np.array_equal(poisson(CHANCE, "strewn", mean), strewn.ppf(luck, mean))
