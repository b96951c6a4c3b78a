"""One sown component through one day."""

from __future__ import annotations

from typing import NamedTuple

from swardbook.model.day_zone import Today
from swardbook.model.fixed import MOST_A_PASS
from swardbook.model.numbers import Numbers, least
from swardbook.model.parameter_sets import SownParameters, ZoneParameters
from swardbook.model.processes import (
    competition,
    cover,
    establishment,
    germination,
    repair,
    verticutting,
    wear,
)
from swardbook.model.state import SownState, ZoneState


class SownFlows(NamedTuple):
    """What one component does today."""

    sown: Numbers
    """Seed that arrives and will take. [m⁻²]"""
    emerged: Numbers
    """Seedlings that come up. [m⁻²]"""
    died: Numbers
    """Seed that dies. [m⁻²]"""
    progress: Numbers
    """Mean hydrothermal time of the seed tonight. [°C d]"""
    left: Numbers
    """Cover that stays. [-]"""
    wanted: Numbers
    """Ground it would take. [-]"""
    drift: Numbers
    """Its drift against other grasses. [d⁻¹]"""


def sown_flows(
    s: SownState,
    p: SownParameters,
    z: ZoneState,
    zone: ZoneParameters,
    t: Today,
    sown: Numbers,
    take: Numbers,
    strip: Numbers,
    holes: Numbers,
) -> SownFlows:
    """Work out what one component does today."""
    earned = germination.warmth(z.soil_temperature, p.base_temperature) * germination.wetness(
        t.potential, p.potential_base, p.potential_slow
    )
    emerged = s.seed * germination.share_emerged(s.progress, earned, p.warmth_50, p.spread)
    died = (s.seed - emerged) * least(p.seed_death + strip, 1.0)
    arriving = sown * take + repair.seed_that_takes(t.refilled, p.refill_seed, zone.take_seedbed)
    progress = establishment.mixed_progress(s.progress + earned, s.seed - emerged - died, arriving)
    worn = wear.worn(t.wear, p.wear)
    daily = zone.thinning + worn + p.drought_loss * (1.0 - t.stress) + holes
    passes = verticutting.loss_share(t.opened, 1.0, strip)
    lost = 1.0 - (1.0 - least(daily, MOST_A_PASS)) * (1.0 - passes)
    grown = cover.spreading(s.cover, z.gap, t.drive, p.growth, p.closure, zone.gap_open)
    power = competition.sown_power(p.power, z.cut_height, p.comfort_height, zone.below_comfort)
    return SownFlows(
        arriving,
        emerged,
        died,
        progress,
        s.cover * (1.0 - lost),
        grown + emerged * p.area_at_emergence,
        competition.drift(power, t.speed, 0.0, 0.0),
    )


def sown_evening(s: SownState, f: SownFlows, given: Numbers, mean_drift: Numbers) -> SownState:
    """Give the component's evening; `given` is the share of wanted ground that it gets."""
    return SownState(
        s.seed - f.emerged - f.died + f.sown,
        f.progress,
        f.left + f.wanted * given + competition.exchanged(f.left, f.drift, mean_drift),
    )
