"""What lies under the grass: rings of water, cores, layers in a jar, the fall of the ground."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product
from math import atan, degrees, exp, log, sqrt
from statistics import fmean, stdev

from swardbook.evidence import t_quantile
from swardbook.foundation.errors import BadInputError, NotEnoughDataError
from swardbook.foundation.quantities import require
from swardbook.handbook.parameters import value
from swardbook.handbook.textures import texture

LEVEL = 0.95
_SLOWEST_TOLD = 0.1
"""A ring where nothing sank counts as this in a mean of logarithms. [mm h⁻¹]"""


@dataclass(frozen=True, slots=True)
class Rings:
    """How fast water sinks in at one place or zone.

    Parameters
    ----------
    rings : int
        Rings measured.
    slowest, middle, fastest : float
        Slowest, geometric mean and fastest. [mm h⁻¹]
    word : str
        ``poorly``, ``slowly`` or ``well``, by the middle.
    is_enough : bool
        Whether there are enough to call drainage a cause.
    """

    rings: int
    slowest: float
    middle: float
    fastest: float
    word: str
    is_enough: bool


def rings(rates: Sequence[float]) -> Rings:
    """Bring the rings of one place together.

    Rates of rings spread by factors, so the middle is that of their logarithms.

    Parameters
    ----------
    rates : sequence of float
        How fast water sank in each. [mm h⁻¹]

    Raises
    ------
    NotEnoughDataError
        If there is no ring.
    """
    if not rates:
        raise NotEnoughDataError("how the ground drains", "a ring test", "none")
    read = [require("infiltration", each, 0, 10_000, "mm/h") for each in rates]
    middle = exp(fmean(log(max(each, _SLOWEST_TOLD)) for each in read))
    enough = len(read) >= value("rings_least")
    return Rings(len(read), min(read), middle, max(read), drains(middle), enough)


def drains(rate: float) -> str:
    """Say how ground drains that takes water at a rate [mm h⁻¹]."""
    if rate < value("drains_poorly"):
        return "poorly"
    return "slowly" if rate < value("drains_slowly") else "well"


@dataclass(frozen=True, slots=True)
class Cores:
    """The mean of cores with its range.

    Parameters
    ----------
    cores : int
        Cores measured.
    mean, low, high : float
        Mean, and the 95 % range of the mean by Student's t. [mm]
    """

    cores: int
    mean: float
    low: float
    high: float


def cores(depths: Sequence[float], what: str = "thatch") -> Cores:
    """Give the mean depth of cores.

    Parameters
    ----------
    depths : sequence of float
        What each core showed. [mm]
    what : str
        What was measured on them.

    Raises
    ------
    NotEnoughDataError
        If there are fewer cores than give a mean.
    """
    read = [require(what, each, 0, 500, "mm", "10 cm is 100 mm.") for each in depths]
    least = int(value("cores_least"))
    if len(read) < least:
        raise NotEnoughDataError(
            f"the mean {what}", f"at least {least} cores, spread over the zone", f"{len(read)}"
        )
    mean = fmean(read)
    half = t_quantile(LEVEL, len(read) - 1) * stdev(read) / sqrt(len(read))
    return Cores(len(read), mean, max(mean - half, 0.0), mean + half)


@dataclass(frozen=True, slots=True)
class Jar:
    """What the layers in a jar say.

    Parameters
    ----------
    sand, silt, clay : float
        Shares of the settled height. [%]
    name : str
        The texture they point at.
    may_be : tuple of str
        Textures that are as well within what a jar can tell, the likeliest first.
    """

    sand: float
    silt: float
    clay: float
    name: str
    may_be: tuple[str, ...]


def jar(sand: float, silt: float, clay: float) -> Jar:
    """Name a soil from the layers of a jar shaken with water and left to settle.

    Parameters
    ----------
    sand, silt, clay : float
        Height of each layer, from the bottom up. [mm]

    Raises
    ------
    BadInputError
        If nothing settled.
    """
    read = [require("layer", each, 0, 1000, "mm") for each in (sand, silt, clay)]
    total = sum(read)
    if total <= 0:
        raise BadInputError("the jar", "no layers", "heights of sand, silt and clay")
    shares = [100 * each / total for each in read]
    return Jar(shares[0], shares[1], shares[2], texture(*_whole(shares)), _may_be(shares))


def _may_be(shares: Sequence[float]) -> tuple[str, ...]:
    """Name the textures in reach, by how much of the reach they fill."""
    off = 100 * value("jar_error")
    steps = (-off, -off / 2, 0.0, off / 2, off)
    seen: dict[str, int] = {}
    for silt_off, clay_off in product(steps, steps):
        silt, clay = shares[1] + silt_off, shares[2] + clay_off
        sand = 100 - silt - clay
        if min(sand, silt, clay) >= 0 and abs(sand - shares[0]) <= off:
            name = texture(sand, silt, clay)
            seen[name] = seen.get(name, 0) + 1
    own = texture(*_whole(shares))
    return tuple(sorted((name for name in seen if name != own), key=lambda name: -seen[name]))


def _whole(shares: Sequence[float]) -> tuple[float, float, float]:
    sand, silt = min(shares[0], 100.0), min(shares[1], 100.0)
    return sand, silt, max(100 - sand - silt, 0.0)


@dataclass(frozen=True, slots=True)
class Slope:
    """The fall of the ground.

    Parameters
    ----------
    share : float
        Fall over run. [-]
    angle : float
        Against the level. [°]
    one_in : float or None
        Run for a fall of one; None where it is level. [-]
    """

    share: float
    angle: float
    one_in: float | None


def slope(fall_m: float, run_m: float) -> Slope:
    """Give the slope from its fall over its run.

    Parameters
    ----------
    fall_m, run_m : float
        How much lower the one end is, and how far away, measured level. [m]

    Raises
    ------
    BadInputError
        If it falls further than it runs: more than a lawn does.
    """
    fall = require("fall", fall_m, 0, 100, "m")
    run = require("run", run_m, 0.1, 10_000, "m")
    if fall > run:
        raise BadInputError(
            "the slope", f"{fall:g} m over {run:g} m", "a fall below the run",
            "The two swapped, or the fall in mm?",
        )  # fmt: skip
    share = fall / run
    return Slope(share, degrees(atan(share)), 1 / share if share > 0 else None)


def tap_l_min(litres: float, seconds: float) -> float:
    """Give the water at a tap from a bucket and a watch.

    Parameters
    ----------
    litres : float
        What the bucket holds. [L]
    seconds : float
        How long it took to fill. [s]

    Returns
    -------
    float
        Water at the tap. [L min⁻¹]
    """
    held = require("bucket", litres, 0.1, 1000, "L")
    return held * 60 / require("time to fill", seconds, 0.5, 36_000, "s", "In seconds.")
