"""What each cheap measurement would show in a draw: one explicit sampling model each.

A measurement shows the draw's own numbers or the sward of tonight through a sample: seeds that
germinate, heads above a blade, seedlings from cores. How many are looked at, and how unevenly
things lie, stands in the handbook (`handbook/data/parameters/measuring.csv`); what is done stands
in `handbook/data/measurements.toml`. What is shown is told as a few facts, each a row over the
draws; only their order counts. Facts are of annual meadow-grass.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial

import numpy as np
from scipy.special import betaincinv, expit, logit

from swardbook.handbook.parameters import value
from swardbook.model.chance import Array, Chance
from swardbook.model.day_heads import grown_up
from swardbook.model.day_weed import found_today
from swardbook.model.observing import Seeing
from swardbook.model.parameter_sets import Parameters, WeedParameters
from swardbook.model.parameters import BIN_MIDDLES
from swardbook.model.processes.mowing import share_above
from swardbook.model.sampling import counts, density, hits, poisson
from swardbook.model.state import SwardState, WeedState

AGES = (0.0, 2.0, 4.0, 7.0, 10.0)
"""Days after they show at which heads are cut and bagged. [d]"""
Sizes = Callable[[str], float]
_LEAST = 1e-9


@dataclass(frozen=True, slots=True)
class Met:
    """What each draw has, as a measurement would meet it.

    Parameters
    ----------
    state : SwardState
        The sward tonight.
    numbers : Parameters
        The constants, with this growth year's effects.
    seeing : Seeing
        How well, and how evenly, plants are seen.
    counter : str
        Who counts; one whose habit nothing is known of if empty.
    by_plants : bool
        Whether places are counted by plants in frames; else by points.
    height_mm : float
        Height of cut of the zone. [mm]
    spring : (array, array) or None
        What next spring holds if one goes on, and if one only cuts; None where it was not run.
        [plants m⁻², or share of ground]
    """

    state: SwardState
    numbers: Parameters
    seeing: Seeing
    counter: str
    by_plants: bool
    height_mm: float
    spring: tuple[Array, Array] | None = None

    @property
    def weed(self) -> WeedState:
        """Annual meadow-grass tonight."""
        return self.state.weeds[0]

    @property
    def its(self) -> WeedParameters:
        """The constants of annual meadow-grass."""
        return self.numbers.weeds[0]

    @property
    def plants(self) -> Array:
        """Plants of annual meadow-grass [m⁻²]."""
        return np.asarray(np.maximum(grown_up(self.weed), _LEAST))

    @property
    def cover(self) -> Array:
        """Cover of annual meadow-grass [-]."""
        return np.asarray(np.clip(self.weed.cover, 1e-6, 1 - 1e-6))


Shown = Callable[[Met, Sizes, Chance], Array]


def shown_by(key: str, met: Met, chance: Chance, sizes: Sizes | None = None) -> Array:
    """Give what a measurement would show in each draw.

    Parameters
    ----------
    key : str
        Key of the measurement.
    met : Met
        What each draw has.
    chance : Chance
        The source, keyed by book and zone.
    sizes : callable, optional
        Gives each of its numbers by name; the handbook's if not given.

    Returns
    -------
    array
        A row for each fact that is shown, a column a draw. [as the fact]
    """
    return MEASURED[key](met, sizes or partial(size_of, key), chance.under(key))


def size_of(key: str, name: str) -> float:
    """Give one of a measurement's numbers, such as how many seeds are laid out [its unit]."""
    return value(f"measuring.{key}.{name}")


def _heads_germinated(met: Met, of: Sizes, chance: Chance) -> Array:
    """Seeds germinated, of heads cut young and of heads cut older, and seeds in a head."""
    awake = 1 - met.its.dormant_share
    found = [
        _uneven(of, "seeds", viable_if_cut(met.its, age) * awake, chance.under(f"cut at {age:g}"))
        for age in AGES
    ]
    young = found[0] + found[1] + found[2]
    error = of("spread_of_heads") / np.sqrt(of("heads"))
    in_a_head = np.log(met.its.seeds_per_head) + error * chance.normals("seeds", len(young))
    return np.stack([young, found[3] + found[4], in_a_head])


def viable_if_cut(weed: WeedParameters, age: float) -> Array:
    """Share of seed that ends viable in a head cut so long after it showed [-].

    Parameters
    ----------
    weed : WeedParameters
        The constants of the weed grass.
    age : float
        Days from showing to the cut. [d]
    """
    shares = np.array([logit(each) for each in weed.ripe_cut])
    place = min(max(int(np.searchsorted(BIN_MIDDLES, age)) - 1, 0), len(BIN_MIDDLES) - 2)
    first, second = BIN_MIDDLES[place], BIN_MIDDLES[place + 1]
    part = (age - first) / (second - first)
    return np.asarray(expit(shares[place] * (1 - part) + shares[place + 1] * part))


def _heads_measured(met: Met, of: Sizes, chance: Chance) -> Array:
    above = share_above(met.its.odds_above, met.height_mm)
    return _uneven(of, "heads", above, chance)[None]


def _box_checked(met: Met, of: Sizes, chance: Chance) -> Array:
    return _uneven(of, "heads", met.its.capture, chance)[None]


def _soil_cores(met: Met, of: Sizes, chance: Chance) -> Array:
    """Seedlings from the top centimetre, and from below."""
    ground = of("cores") * np.pi / 4 * (of("diameter_mm") / 1000) ** 2
    come_up = expit(logit(of("come_up")) + of("come_up_spread") * _error(met, chance, "come up"))
    clumps = of("cores") * of("clumping")
    top = ground * come_up * (met.weed.dormant + met.weed.ready)
    deep = ground * come_up * met.weed.buried
    return np.stack([
        counts(chance.under("top"), top, clumps), counts(chance.under("below"), deep, clumps)
    ])  # fmt: skip


def _tufts_flagged(met: Met, of: Sizes, chance: Chance) -> Array:
    """Low heads raised by the verticut, and points that it laid open."""
    raised = _uneven(of, "heads", met.its.lift, chance.under("heads"))
    alike = _pooled(met.seeing.point_clumping, of("frames"), of("points"))
    opened = met.numbers.zone.gap_blade
    return np.stack([
        raised, hits(chance.under("gap"), of("frames") * of("points"), opened, alike)
    ])  # fmt: skip


def _second_counter(met: Met, of: Sizes, chance: Chance) -> Array:
    """What two people find at the same places: of both together, and of one against the other."""
    other = value("count.counter_spread") * chance.normals("other counter", len(met.plants))
    first, second = _counted_twice(met, of, chance, (_habit(met, chance), other))
    return np.stack([first + second, np.log((second + 0.5) / (first + 0.5))])


def _more_places(met: Met, of: Sizes, chance: Chance) -> Array:
    there = met.plants if met.by_plants else met.cover
    return _found(met, of, chance, there, _habit(met, chance), of("places"))[None]


def _two_passes(met: Met, of: Sizes, chance: Chance) -> Array:
    """Plants and minutes of two passes over one strip."""
    area = of("strip_m2")
    standing = counts(chance.under("there"), met.plants * area, met.seeing.k_of(area))
    share = np.clip(found_today(met.weed, met.its) / met.plants, 0.0, 1.0)
    first = hits(chance.under("first"), standing, share, 0.0)
    second = hits(chance.under("second"), standing - first, share, 0.0)
    zone = met.numbers.zone

    def minutes(found: Array, which: str) -> Array:
        work = area * zone.search + found * met.its.handling
        return np.asarray(np.log(work) + of("minutes_spread") * _error(met, chance, which))

    return np.stack([
        first, np.log((second + 0.5) / (first + 0.5)),
        minutes(first, "first minutes"), minutes(second, "second minutes"),
    ])  # fmt: skip


def _seedlings_followed(met: Met, of: Sizes, chance: Chance) -> Array:
    gap, closed = met.its.survival_gap, met.its.survival_closed
    return np.stack([
        _uneven(of, "seedlings", gap, chance.under("gap"), 0.5),
        _uneven(of, "seedlings", closed, chance.under("close sward"), 0.5),
    ])  # fmt: skip


def _plants_followed(met: Met, of: Sizes, chance: Chance) -> Array:
    left = (1 - met.its.plant_death) ** (7 * of("weeks"))
    return _uneven(of, "plants", left, chance)[None]


def _heads_counted(met: Met, of: Sizes, chance: Chance) -> Array:
    made = of("plants") * of("days") * met.its.heads * met.its.mown_heads
    return counts(chance, made, of("plants") * of("clumping"))[None]


def _tufts_measured(met: Met, of: Sizes, chance: Chance) -> Array:
    error = of("spread") / np.sqrt(of("plants")) * _error(met, chance, "width")
    return np.asarray(np.log(met.cover / met.plants) + error)[None]


def _gaps_followed(met: Met, of: Sizes, chance: Chance) -> Array:
    """How fast gaps close: the share of a gap that closes a day, on the log scale."""
    rates = [part.closure for part in met.numbers.sown]
    error = of("spread") / np.sqrt(of("gaps")) * _error(met, chance, "closing")
    return np.asarray(np.log(rates[0]) + error)[None]


def _half_rate_strips(met: Met, of: Sizes, chance: Chance) -> Array:
    """Change of the log odds of cover between full and half feed."""
    points = of("places") * of("points")
    alike = _pooled(met.seeing.point_clumping, of("places"), of("points"))
    each = (1 + (points - 1) * alike) / (points * met.cover * (1 - met.cover))
    change = met.its.nitrogen_gain * of("less_nitrogen_g_m2")
    return np.asarray(change + np.sqrt(2 * each) * _error(met, chance, "strips"))[None]


def _honest_squares(met: Met, of: Sizes, chance: Chance) -> Array:
    """Count squares that were only cut, and places that were worked; the sum and the ratio."""
    if met.spring is None:
        return np.zeros((1, len(met.plants)))
    worked, left = met.spring
    habit = _habit(met, chance)
    first = _found(met, of, chance.under("worked"), worked, habit, of("places"))
    second = _found(met, of, chance.under("squares"), left, habit, of("squares"))
    return np.stack([first + second, np.log((second + 0.5) / (first + 0.5))])


def _found(met: Met, of: Sizes, chance: Chance, there: Array, habit: Array, places: float) -> Array:
    """Count places that hold some plants a square metre, or some share of the ground."""
    if met.by_plants:
        here = there * places * of("frame_m2") * met.seeing.found_in_frame * np.exp(habit)
        return counts(chance, here, places * met.seeing.k_of(of("frame_m2")))
    alike = _pooled(met.seeing.point_clumping, places, of("points"))
    share = expit(logit(np.clip(there, 1e-6, 1 - 1e-6)) + habit)
    return hits(chance, places * of("points"), share, alike)


MEASURED: Mapping[str, Shown] = {
    "cut_heads_germinated": _heads_germinated,
    "heads_measured": _heads_measured,
    "box_checked": _box_checked,
    "soil_cores": _soil_cores,
    "tufts_flagged": _tufts_flagged,
    "second_counter": _second_counter,
    "more_places": _more_places,
    "two_passes": _two_passes,
    "seedlings_followed": _seedlings_followed,
    "plants_followed": _plants_followed,
    "heads_counted": _heads_counted,
    "tufts_measured": _tufts_measured,
    "gaps_followed": _gaps_followed,
    "half_rate_strips": _half_rate_strips,
    "honest_squares": _honest_squares,
}


def _error(met: Met, chance: Chance, purpose: str) -> Array:
    return chance.normals(purpose, len(met.plants))


def _habit(met: Met, chance: Chance) -> Array:
    """How far the counter reads high; drawn where nobody has counted [-]."""
    if met.counter in met.seeing.counters:
        return met.seeing.counters[met.counter]
    return value("count.counter_spread") * _error(met, chance, "own habit")


def _counted_twice(met: Met, of: Sizes, chance: Chance, habits: tuple[Array, Array]) -> Array:
    """Count the same places with two habits; gives the sums over the places, a row each."""
    places = of("places")
    if met.by_plants:
        k = places * met.seeing.k_of(of("frame_m2"))
        there = met.plants * places * of("frame_m2") * density(chance, k, len(met.plants))
        there = there * met.seeing.found_in_frame
        rows = [poisson(chance, f"met {n}", there * np.exp(each)) for n, each in enumerate(habits)]
        return np.stack(rows)
    alike = _pooled(met.seeing.point_clumping, places, of("points"))
    scale = 1 / alike - 1
    luck = chance.uniforms("density", len(met.cover))
    here = np.clip(betaincinv(met.cover * scale, (1 - met.cover) * scale, luck), 1e-6, 1 - 1e-6)
    return np.stack([
        hits(chance.under(f"met {n}"), places * of("points"), expit(logit(here) + each), 0.0)
        for n, each in enumerate(habits)
    ])  # fmt: skip


def _uneven(of: Sizes, many: str, share: Array, chance: Chance, part: float = 1.0) -> Array:
    """Draw hits among some that vary beyond chance, on the logit scale [-]."""
    spread = of("unevenness") * chance.normals("unevenness", len(share))
    here = expit(logit(np.clip(share, 1e-6, 1 - 1e-6)) + spread)
    return hits(chance, part * of(many), here, 0.0)


def _pooled(alike: Array, frames: float, points: float) -> Array:
    """Correlation that gives all points together the spread of points that sit in frames [-]."""
    return np.asarray(np.clip(alike * (points - 1) / (frames * points - 1), 1e-4, 0.99))
