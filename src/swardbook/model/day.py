"""One day of a square metre: all rates from yesterday evening, then all updates, then balances."""

from __future__ import annotations

from typing import TypeAlias

from swardbook.model import balances
from swardbook.model.day_sown import SownFlows, sown_evening, sown_flows
from swardbook.model.day_weed import WeedFlows, found_today, weed_evening, weed_flows
from swardbook.model.day_zone import Today, Water, today, water_day, zone_day
from swardbook.model.fixed import HOLES_MOST
from swardbook.model.inputs import Drivers, Operations
from swardbook.model.numbers import Numbers, least, most, most_of
from swardbook.model.parameter_sets import Parameters
from swardbook.model.processes import cover, establishment, hand_weeding
from swardbook.model.state import Gaps, SownSet, SwardState

FourSown: TypeAlias = tuple[SownFlows, SownFlows, SownFlows, SownFlows]
"""What the four sown components do in a day."""


def work_wanted(s: SwardState, p: Parameters) -> Numbers:
    """Work that one whole pass for all weeds would take [h m⁻²]."""
    return p.zone.search + sum(
        hand_weeding.handling_hours(found_today(w, q), q.handling)
        for w, q in zip(s.weeds, p.weeds, strict=True)
    )


def holes_today(s: SwardState, p: Parameters, searched: Numbers) -> Numbers:
    """Ground that pulling opens beyond the cover of what is pulled [-]."""
    opened = sum(found_today(w, q) * q.kill * q.hole for w, q in zip(s.weeds, p.weeds, strict=True))
    return least(searched * opened, HOLES_MOST)


def all_sown(s: SwardState, p: Parameters, t: Today, o: Operations, holes: Numbers) -> FourSown:
    """Work out what the four sown components do today."""
    z, k, g, strip = s.zone, p.zone, p.sown, o.strip
    take = establishment.take(
        o.sow_method, k.take_seedbed, k.take_slit, k.take_scarified, k.take_sward
    )
    return (
        sown_flows(s.sown.a, g.a, z, k, t, o.sow_a, take, strip, holes),
        sown_flows(s.sown.b, g.b, z, k, t, o.sow_b, take, strip, holes),
        sown_flows(s.sown.c, g.c, z, k, t, o.sow_c, take, strip, holes),
        sown_flows(s.sown.d, g.d, z, k, t, o.sow_d, take, strip, holes),
    )


def all_weeds(
    s: SwardState, p: Parameters, t: Today, d: Drivers, o: Operations, searched: Numbers,
    holes: Numbers,
) -> tuple[WeedFlows, ...]:  # fmt: skip
    """Work out what each weed grass does today."""
    z, k = s.zone, p.zone
    return tuple(
        weed_flows(w, q, z, k, t, d, o, searched, holes)
        for w, q in zip(s.weeds, p.weeds, strict=True)
    )


def mean_drift(left: Numbers, sown: FourSown, weeds: tuple[WeedFlows, ...]) -> Numbers:
    """Mean drift of all grasses, weighted by what they cover [d⁻¹]."""
    a, b, c, d = sown
    pull = a.left * a.drift + b.left * b.drift + c.left * c.drift + d.left * d.drift
    return (pull + sum(f.left * f.drift for f in weeds)) / (left + 1e-30)


def step(s: SwardState, p: Parameters, d: Drivers, o: Operations) -> tuple[SwardState, Gaps]:
    """Take a square metre from one evening to the next.

    Returns
    -------
    tuple of SwardState and Gaps
        The next evening, and how far the day's balances miss.
    """
    z = s.zone
    t = today(z, p.zone, d, o)
    needed = work_wanted(s, p)
    searched = hand_weeding.share_searched(o.pull_hours, needed)
    holes = holes_today(s, p, searched)
    flows = all_sown(s, p, t, o, holes)
    a, b, c, e = flows
    weeds = all_weeds(s, p, t, d, o, searched, holes)
    left = a.left + b.left + c.left + e.left + sum(f.left for f in weeds)
    mean = mean_drift(left, flows, weeds)
    wanted = a.wanted + b.wanted + c.wanted + e.wanted + sum(f.wanted for f in weeds)
    given = cover.rationed(wanted, z.gap)
    gap = z.gap + (balances.covered_by(s) - left) - wanted * given
    sown = SownSet(
        sown_evening(s.sown.a, a, given, mean), sown_evening(s.sown.b, b, given, mean),
        sown_evening(s.sown.c, c, given, mean), sown_evening(s.sown.d, e, given, mean),
    )  # fmt: skip
    evening = tuple(
        weed_evening(w, q, f, d, given, mean)
        for w, q, f in zip(s.weeds, p.weeds, weeds, strict=True)
    )
    water = water_day(z, p.zone, d, o, t.stress)
    zone = zone_day(z, p.zone, d, o, t, water, gap, holes, searched * needed)
    n = SwardState(sown, evening, zone)
    return n, misses(s, n, p, flows, weeds, water)


def misses(
    s: SwardState,
    n: SwardState,
    p: Parameters,
    sown: FourSown,
    weeds: tuple[WeedFlows, ...],
    water: Water,
) -> Gaps:
    """Work out how far the day's balances miss, each the worst of its kind."""
    seeds = most_of(
        balances.miss(balances.weed_seeds(w, m, q, f))
        for w, m, q, f in zip(s.weeds, n.weeds, p.weeds, weeds, strict=True)
    )
    first = most(
        balances.miss(balances.sown_seeds(s.sown.a, n.sown.a, sown[0])),
        balances.miss(balances.sown_seeds(s.sown.b, n.sown.b, sown[1])),
    )
    second = most(
        balances.miss(balances.sown_seeds(s.sown.c, n.sown.c, sown[2])),
        balances.miss(balances.sown_seeds(s.sown.d, n.sown.d, sown[3])),
    )
    plants = most_of(
        balances.miss(balances.weed_plants(w, m, f))
        for w, m, f in zip(s.weeds, n.weeds, weeds, strict=True)
    )
    before = s.zone.seedbed_water + s.zone.root_water
    after = n.zone.seedbed_water + n.zone.root_water
    wet = balances.miss(balances.Ledger(before, water.gained, water.lost, after))
    return Gaps(most(seeds, most(first, second)), plants, wet, balances.ground(s, n))
