"""One day of a square metre: all rates from yesterday evening, then all updates, then balances."""

from __future__ import annotations

from swardbook.model import balances
from swardbook.model.day_sown import SownFlows, sown_evening, sown_flows
from swardbook.model.day_weed import WeedFlows, found_today, weed_evening, weed_flows
from swardbook.model.day_zone import Today, Water, today, water_day, zone_day
from swardbook.model.fixed import HOLES_MOST
from swardbook.model.inputs import Drivers, Operations
from swardbook.model.numbers import Numbers, least, most
from swardbook.model.parameter_sets import Parameters
from swardbook.model.processes import cover, establishment, hand_weeding
from swardbook.model.state import Gaps, SownSet, SwardState, WeedSet


def work_wanted(s: SwardState, p: Parameters) -> Numbers:
    """Work that one whole pass for both weeds would take [h m⁻²]."""
    found = found_today(s.weeds.meadow_grass, p.weeds.meadow_grass)
    found_fog = found_today(s.weeds.fog, p.weeds.fog)
    hours = hand_weeding.hours_needed(p.zone.search, found, p.weeds.meadow_grass.handling)
    return hours + hand_weeding.hours_needed(0.0, found_fog, p.weeds.fog.handling)


def holes_today(s: SwardState, p: Parameters, searched: Numbers) -> Numbers:
    """Ground that pulling opens beyond the cover of what is pulled [-]."""
    a, b = p.weeds.meadow_grass, p.weeds.fog
    poa = found_today(s.weeds.meadow_grass, a) * a.kill * a.hole
    fog = found_today(s.weeds.fog, b) * b.kill * b.hole
    return least(searched * (poa + fog), HOLES_MOST)


def all_sown(
    s: SwardState, p: Parameters, t: Today, o: Operations, holes: Numbers
) -> tuple[SownFlows, SownFlows, SownFlows, SownFlows]:
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


def mean_drift(
    a: SownFlows, b: SownFlows, c: SownFlows, d: SownFlows, e: WeedFlows, f: WeedFlows
) -> Numbers:
    """Mean drift of all grasses, weighted by what they cover [d⁻¹]."""
    covered = a.left + b.left + c.left + d.left + e.left + f.left
    pull = a.left * a.drift + b.left * b.drift + c.left * c.drift + d.left * d.drift
    return (pull + e.left * e.drift + f.left * f.drift) / (covered + 1e-30)


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
    a, b, c, e = all_sown(s, p, t, o, holes)
    poa, fog = s.weeds.meadow_grass, s.weeds.fog
    q, r = p.weeds.meadow_grass, p.weeds.fog
    f = weed_flows(poa, q, z, p.zone, t, d, o, searched, holes)
    g = weed_flows(fog, r, z, p.zone, t, d, o, searched, holes)
    mean = mean_drift(a, b, c, e, f, g)
    wanted = a.wanted + b.wanted + c.wanted + e.wanted + f.wanted + g.wanted
    given = cover.rationed(wanted, z.gap)
    left = a.left + b.left + c.left + e.left + f.left + g.left
    gap = z.gap + (balances.covered_by(s) - left) - wanted * given
    sown = SownSet(
        sown_evening(s.sown.a, a, given, mean), sown_evening(s.sown.b, b, given, mean),
        sown_evening(s.sown.c, c, given, mean), sown_evening(s.sown.d, e, given, mean),
    )  # fmt: skip
    weeds = WeedSet(
        weed_evening(poa, q, f, d, given, mean), weed_evening(fog, r, g, d, given, mean)
    )
    water = water_day(z, p.zone, d, o, t.stress)
    zone = zone_day(z, p.zone, d, o, t, water, gap, holes, searched * needed)
    n = SwardState(sown, weeds, zone)
    return n, misses(s, n, p, (a, b, c, e), (f, g), water)


def misses(
    s: SwardState,
    n: SwardState,
    p: Parameters,
    sown: tuple[SownFlows, SownFlows, SownFlows, SownFlows],
    weeds: tuple[WeedFlows, WeedFlows],
    water: Water,
) -> Gaps:
    """Work out how far the day's balances miss, each the worst of its kind."""
    poa, fog = s.weeds.meadow_grass, s.weeds.fog
    to_poa, to_fog = n.weeds.meadow_grass, n.weeds.fog
    q, r = p.weeds.meadow_grass, p.weeds.fog
    f, g = weeds
    seeds = most(
        balances.miss(balances.weed_seeds(poa, to_poa, q, f)),
        balances.miss(balances.weed_seeds(fog, to_fog, r, g)),
    )
    first = most(
        balances.miss(balances.sown_seeds(s.sown.a, n.sown.a, sown[0])),
        balances.miss(balances.sown_seeds(s.sown.b, n.sown.b, sown[1])),
    )
    second = most(
        balances.miss(balances.sown_seeds(s.sown.c, n.sown.c, sown[2])),
        balances.miss(balances.sown_seeds(s.sown.d, n.sown.d, sown[3])),
    )
    plants = most(
        balances.miss(balances.weed_plants(poa, to_poa, f)),
        balances.miss(balances.weed_plants(fog, to_fog, g)),
    )
    before = s.zone.seedbed_water + s.zone.root_water
    after = n.zone.seedbed_water + n.zone.root_water
    wet = balances.miss(balances.Ledger(before, water.gained, water.lost, after))
    return Gaps(most(seeds, most(first, second)), plants, wet, balances.ground(s, n))
