"""How the harder twin's keeper counts: the same squares each time, neither even nor steady."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from scipy.special import expit, gammaincinv, logit
from scipy.stats import binom, nbinom

from swardbook.model.chance import Array, Chance
from swardbook.model.observing import REFERENCE_FRAME_M2
from swardbook.model.past import MEADOW_GRASS
from swardbook.observations.counts import Method, PlaceCount
from tools.made_up_lawns import COUNTER, Lawn

FOG = "yorkshire fog"
_LEAST = 1e-6


@dataclass(frozen=True, slots=True)
class Squares:
    """What each square of a lawn has on an evening, one value a square.

    Parameters
    ----------
    cover, plants, seedlings : array
        Annual meadow-grass, and its seedlings in the last third. [-], [m⁻²], [m⁻²]
    fog, fog_plants : array
        Yorkshire fog. [-], [m⁻²]
    bare : array
        Bare ground. [-]
    """

    cover: Array
    plants: Array
    seedlings: Array
    fog: Array
    fog_plants: Array
    bare: Array


def counted_squares(
    lawn: Lawn, squares: Squares, number: int, about: Mapping[str, Any], chance: Chance
) -> tuple[PlaceCount, ...]:
    """Count the fixed places of a lawn.

    Parameters
    ----------
    lawn : Lawn
        The kind of lawn; says how it is counted.
    squares : Squares
        What there is.
    number : int
        Which of its counts it is, from 0.
    about : mapping
        The section on counting.
    chance : Chance
        The lawn's own luck.
    """
    pegs = np.argsort(chance.uniforms("pegs", len(squares.cover)), kind="stable")[: lawn.places]
    today = chance.under("count", str(number))
    habit = about["habit_spread"] * chance.normals("habit", 1)[0] + about["drift"] * number
    habit += about["occasion_spread"] * today.normals("habit", 1)[0]
    found = []
    for name, peg in zip(lawn.place_names(), pegs, strict=True):
        count = _plants if lawn.method is Method.PLANTS else _points
        seen = count(squares, int(peg), lawn.looked, float(habit), about, today.under(name))
        found.append(PlaceCount(name, lawn.method, seen, lawn.looked, COUNTER))
    return tuple(found)


def _plants(
    squares: Squares, peg: int, looked: float, habit: float, about: Mapping[str, Any],
    chance: Chance,
) -> dict[str, float]:  # fmt: skip
    seedlings = about["seedlings_counted"] * squares.seedlings[peg]
    there = {MEADOW_GRASS: squares.plants[peg] + seedlings, FOG: squares.fog_plants[peg]}
    k = about["clumping"] * (looked / REFERENCE_FRAME_M2) ** about["clumping_power"]
    seen = {}
    for species, each in there.items():
        mean = max(float(each) * looked * about["found_in_frame"] * np.exp(habit), _LEAST)
        luck = chance.uniforms(species, 1)[0]
        seen[species] = float(nbinom.ppf(luck, k, k / (k + mean)))
    return seen


def _points(
    squares: Squares, peg: int, looked: float, habit: float, about: Mapping[str, Any],
    chance: Chance,
) -> dict[str, float]:  # fmt: skip
    weed = float(np.clip(squares.cover[peg], _LEAST, 1 - _LEAST))
    read = float(expit(logit(weed) + habit))
    others = (1 - read) / (1 - weed)
    shares = {
        MEADOW_GRASS: read,
        FOG: squares.fog[peg] * others,
        "bare": squares.bare[peg] * others,
    }
    rest = max(1.0 - sum(shares.values()), _LEAST)
    scale = 1 / about["point_clumping"] - 1
    sizes = [max(float(share), _LEAST) * scale for share in (*shares.values(), rest)]
    # Gamma numbers over their sum are the shares of a Dirichlet distribution.
    here = gammaincinv(sizes, chance.uniforms("clumped", len(sizes))) + 1e-300
    left, seen, luck = looked, {}, chance.uniforms("hit", len(shares))
    for number, kind in enumerate(shares):
        part = float(here[number] / np.sum(here[number:]))
        seen[kind] = float(binom.ppf(luck[number], left, min(part, 1.0)))
        left -= seen[kind]
    return seen
