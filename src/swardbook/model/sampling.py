"""Counts drawn in each draw by keyed numbers: hits among some, and things met in clumps."""

from __future__ import annotations

import numpy as np
from scipy.special import bdtrik, betaincinv, gammaincinv, pdtrik

from swardbook.model.chance import Array, Chance

_LEAST = 1e-9


def hits(chance: Chance, tried: Array | float, share: Array, alike: Array | float) -> Array:
    """Draw how many of some are hit: binomial, or beta-binomial where they are alike [-].

    Parameters
    ----------
    chance : Chance
        The source.
    tried : array or float
        How many are looked at. [-]
    share : array
        Chance of each. [-]
    alike : array or float
        Correlation of two of them; 0 is none. [-]
    """
    share = np.clip(share, 1e-6, 1 - 1e-6)
    draws = len(share)
    if np.any(np.asarray(alike) > 0):
        scale = 1 / np.clip(alike, 1e-4, 0.99) - 1
        luck = chance.uniforms("alike", draws)
        share = np.asarray(betaincinv(share * scale, (1 - share) * scale, luck))
        share = np.clip(share, _LEAST, 1 - _LEAST)
    many = np.broadcast_to(np.asarray(tried, dtype=np.float64), (draws,))
    found = bdtrik(chance.uniforms("hits", draws), np.maximum(many, 1.0), share)
    return np.where(many < 1, 0.0, np.maximum(np.ceil(found), 0.0))


def counts(chance: Chance, mean: Array, k: Array | float) -> Array:
    """Draw counts from a negative binomial: the density varies, then what is met of it [-].

    Parameters
    ----------
    chance : Chance
        The source.
    mean : array
        Count expected. [-]
    k : array or float
        Exponent; the variance is mean + mean² / k. [-]
    """
    here = np.maximum(mean, _LEAST) * density(chance, k, len(mean))
    return poisson(chance, "met", here)


def poisson(chance: Chance, purpose: str, mean: Array) -> Array:
    """Draw counts of things strewn at random [-].

    Parameters
    ----------
    chance : Chance
        The source.
    purpose : str
        What they are for.
    mean : array
        Count expected. [-]
    """
    found = pdtrik(chance.uniforms(purpose, len(mean)), np.maximum(mean, _LEAST))
    return np.asarray(np.maximum(np.ceil(found), 0.0))


def density(chance: Chance, k: Array | float, draws: int) -> Array:
    """Draw how dense things lie where one looks, against their mean, in each draw [-].

    Parameters
    ----------
    chance : Chance
        The source.
    k : array or float
        Exponent of clumping; the larger, the more even. [-]
    draws : int
        How many draws.
    """
    return np.asarray(gammaincinv(k, chance.uniforms("density", draws)) / k)
