"""One weed grass through one day: found and pulled, its heads, its seed, its plants, its cover."""

from __future__ import annotations

from typing import NamedTuple

from swardbook.model.day_heads import HeadFlows, grown_up, heads_day, heads_made, standing, taking
from swardbook.model.day_zone import Today
from swardbook.model.fixed import MOST_A_DAY
from swardbook.model.inputs import Drivers, Operations
from swardbook.model.numbers import Numbers, least
from swardbook.model.parameter_sets import WeedParameters, ZoneParameters
from swardbook.model.processes import (
    competition,
    cover,
    establishment,
    flowering,
    germination,
    hand_weeding,
    ripening,
    seed_bank,
    verticutting,
    wear,
)
from swardbook.model.state import WeedState, ZoneState


class BankFlows(NamedTuple):
    """What happens to seed today, in seeds a square metre."""

    dormant: Numbers
    ready: Numbers
    buried: Numbers
    lying: Numbers
    emerged: Numbers
    died: Numbers
    reached: Numbers
    """Viable seed that reached the ground."""
    removed: Numbers
    """Seed taken off the site."""
    carried_in: Numbers
    """Seed from around and on machines."""


class PlantFlows(NamedTuple):
    """What happens to plants today; classes as they stand tonight, in plants a square metre."""

    seedling_0: Numbers
    seedling_1: Numbers
    seedling_2: Numbers
    tillering_0: Numbers
    tillering_1: Numbers
    tillering_2: Numbers
    flowering: Numbers
    established: Numbers
    died: Numbers
    killed: Numbers


class WeedFlows(NamedTuple):
    """What one weed grass does today."""

    heads: HeadFlows
    bank: BankFlows
    plants: PlantFlows
    left: Numbers
    """Cover that stays. [-]"""
    wanted: Numbers
    """Ground it would take. [-]"""
    drift: Numbers
    """Its drift against other grasses. [d⁻¹]"""


def found_today(w: WeedState, p: WeedParameters) -> Numbers:
    """Plants that one whole pass would find [m⁻²]."""
    leafy = (w.tillering_0 + w.tillering_1 + w.tillering_2) * p.detect_leafy
    return leafy + w.flowering * found_heading(w, p)


def found_heading(w: WeedState, p: WeedParameters) -> Numbers:
    """Share of the plants old enough to head that one pass finds [-]."""
    return hand_weeding.detection(p.detect_leafy, p.detect_heading, standing(w), w.flowering)


def bank_day(
    w: WeedState, p: WeedParameters, z: ZoneState, t: Today, d: Drivers, o: Operations,
    heads: HeadFlows,
) -> BankFlows:  # fmt: skip
    """Take the seed through the day."""
    earned = germination.peaked_warmth(
        z.soil_temperature, p.base_temperature, p.best_temperature, p.highest_temperature
    ) * germination.wetness(t.potential, p.potential_base, p.potential_slow)
    earned = earned * seed_bank.readiness(d.readiness, p.summer_dormancy)
    light = germination.light(z.gap, p.light_closed)
    up = w.ready * germination.surface_hazard(p.emergence, earned, light)
    up_buried = w.buried * germination.surface_hazard(p.emergence_buried, earned, 1.0)
    gone = p.surface_death
    deep = seed_bank.buried_death(p.buried_death, p.buried_death_disturbed, z.disturbance)
    covered = seed_bank.burial(p.burial, t.refilled)
    dormant, ready, buried = w.dormant, w.ready - up, w.buried - up_buried
    died = (dormant + ready) * gone + buried * deep
    dormant, ready, buried = dormant * (1.0 - gone), ready * (1.0 - gone), buried * (1.0 - deep)
    off = (dormant + ready) * o.strip
    dormant, ready = dormant * (1.0 - o.strip), ready * (1.0 - o.strip)
    passes = o.scarify + o.tine + o.verticut_soil
    raised = buried * seed_bank.brought_up(p.unburial, passes)
    sunk = (dormant + ready) * covered
    woken = dormant * (1.0 - covered) * p.release
    picked = w.lying * least(o.collected * p.capture, 1.0)
    fallen = ripening.released(w.lying - picked, p.lying_release, ripening.ripening_days(t.warm))
    left_lying = heads.cut_viable * p.seeds_per_head * (1.0 - o.boxed * p.capture)
    carried = seed_bank.carried_in(p.immigration, p.seed_on_tools, t.visits)
    fresh = heads.shed * p.seeds_per_head + fallen + carried
    boxed = heads.cut * o.boxed * p.capture + heads.pulled
    unripe = (heads.cut - heads.cut_viable) * (1.0 - o.boxed * p.capture)
    return BankFlows(
        dormant * (1.0 - covered) - woken + fresh * p.dormant_share,
        ready * (1.0 - covered) + woken + raised + fresh * (1.0 - p.dormant_share),
        buried - raised + sunk,
        w.lying - picked - fallen + left_lying,
        up + up_buried,
        died + unripe * p.seeds_per_head,
        fresh - carried,
        off + picked + boxed * p.seeds_per_head,
        carried,
    )


def plants_day(
    w: WeedState, p: WeedParameters, z: ZoneState, t: Today, emerged: Numbers, loss: Numbers,
    kill_leafy: Numbers, kill_heading: Numbers,
) -> PlantFlows:  # fmt: skip
    """Take the plants through the day: losses first, then those left grow older."""
    keep = 1.0 - loss
    young = establishment.step_share(t.warm, p.warmth_tillering)
    older = establishment.step_share(t.warm, p.warmth_heading)
    lives = establishment.survival(z.gap, p.light_closed, p.survival_gap, p.survival_closed)
    a, b, c = w.seedling_0 * keep, w.seedling_1 * keep, w.seedling_2 * keep
    alive = keep * (1.0 - kill_leafy)
    e, f, g = w.tillering_0 * alive, w.tillering_1 * alive, w.tillering_2 * alive
    h = w.flowering * keep * (1.0 - kill_heading)
    leafy = w.tillering_0 + w.tillering_1 + w.tillering_2
    everyone = w.seedling_0 + w.seedling_1 + w.seedling_2 + leafy + w.flowering
    due = c * young
    return PlantFlows(
        a * (1.0 - young) + emerged,
        b * (1.0 - young) + a * young,
        c - due + b * young,
        e * (1.0 - older) + due * lives,
        f * (1.0 - older) + e * older,
        g * (1.0 - older) + f * older,
        h + g * older,
        due * lives,
        everyone * loss + due * (1.0 - lives),
        keep * (leafy * kill_leafy + w.flowering * kill_heading),
    )


def shed_cover(p: WeedParameters, t: Today, o: Operations) -> Numbers:
    """Share of a cover lost to drought, to wear and to being cut while stood up [-]."""
    dry = least(p.drought_loss * (1.0 - t.stress), MOST_A_DAY)
    upright = verticutting.cut_stood_up(t.stood_up, o.cut, p.stood_up_loss)
    return 1.0 - (1.0 - dry) * (1.0 - wear.worn(t.wear, p.wear)) * (1.0 - least(upright, 1.0))


def weed_flows(
    w: WeedState, p: WeedParameters, z: ZoneState, zone: ZoneParameters, t: Today, d: Drivers,
    o: Operations, searched: Numbers, holes: Numbers,
) -> WeedFlows:  # fmt: skip
    """Work out what one weed grass does today."""
    kill_leafy = hand_weeding.killed_share(searched, p.detect_leafy, p.kill)
    kill_heading = hand_weeding.killed_share(searched, found_heading(w, p), p.kill)
    natural = least(p.plant_death * (1.0 + (p.drought_death - 1.0) * (1.0 - t.stress)), MOST_A_DAY)
    adults = grown_up(w)
    crowd = p.crowding * establishment.crowded(w.cover, adults, p.first_area)
    passes = verticutting.loss_share(t.opened, p.verticut_loss, o.strip)
    killing = verticutting.loss_share(t.opened, p.verticut_kill, o.strip)
    whole = 1.0 - least(holes, MOST_A_DAY)
    loss = 1.0 - (1.0 - natural) * (1.0 - crowd) * (1.0 - killing) * whole
    bare = 1.0 - (1.0 - natural * (1.0 - p.creeping)) * (1.0 - passes) * whole
    bare = 1.0 - (1.0 - bare) * (1.0 - shed_cover(p, t, o))
    pulled = 1.0 - (1.0 - kill_heading) * (1.0 - o.strip)
    k = taking(w, p, z, zone, t, o, pulled)
    made = heads_made(w, p, d, t, w.flowering * (1.0 - loss) * (1.0 - kill_heading))
    heads = heads_day(w, p, z, k, made)
    bank = bank_day(w, p, z, t, d, o, heads)
    plants = plants_day(w, p, z, t, bank.emerged, loss, kill_leafy, kill_heading)
    leafy = w.tillering_0 + w.tillering_1 + w.tillering_2
    killed = (leafy * kill_leafy + w.flowering * kill_heading) / (adults + 1e-30)
    spread = cover.spreading(w.cover, z.gap, t.drive, p.growth, p.growth, zone.gap_open)
    off = (z.cut_height - p.best_height) / p.height_width
    power = competition.weed_power(p.power, d.winter, p.winter_power, off)
    return WeedFlows(
        heads,
        bank,
        plants,
        w.cover * (1.0 - bare) * (1.0 - killed),
        spread * cover.room_left(w.cover, adults, p.largest_area)
        + plants.established * p.first_area,
        competition.drift(power, t.speed, p.nitrogen_gain, t.supplied),
    )


def weed_evening(
    w: WeedState, p: WeedParameters, f: WeedFlows, d: Drivers, given: Numbers, mean_drift: Numbers
) -> WeedState:
    """Give the weed grass's evening."""
    n, bank = f.plants, f.bank
    warmth = flowering.season_warmth(w.season_warmth, d.season_day, p.flush_start, d.tmean)
    return WeedState(
        bank.dormant, bank.ready, bank.buried,
        n.seedling_0, n.seedling_1, n.seedling_2,
        n.tillering_0, n.tillering_1, n.tillering_2, n.flowering,
        f.left + f.wanted * given + competition.exchanged(f.left, f.drift, mean_drift),
        f.heads.high, f.heads.low, bank.lying, warmth,
        w.produced + f.heads.made * p.seeds_per_head,
        w.returned + bank.reached,
        w.boxed + bank.removed,
        w.emerged + bank.emerged,
        w.established + n.established,
        w.killed + n.killed,
    )  # fmt: skip
