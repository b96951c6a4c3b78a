"""What the whole zone says to its grasses today, and what they leave it for tomorrow."""

from __future__ import annotations

from typing import NamedTuple

from swardbook.model.inputs import Drivers, Operations
from swardbook.model.numbers import Numbers
from swardbook.model.parameter_sets import ZoneParameters
from swardbook.model.processes import (
    cover,
    feeding,
    germination,
    mowing,
    repair,
    soil_temperature,
    soil_water,
    verticutting,
    wear,
)
from swardbook.model.state import ZoneState


class Today(NamedTuple):
    """What every grass of the zone meets today, from yesterday evening's state."""

    warm: Numbers
    """Degree-days above 0 °C. [°C d]"""
    potential: Numbers
    """Water potential of the seedbed. [MPa]"""
    stress: Numbers
    """Stress factor Ks of the root zone. [-]"""
    drive: Numbers
    """Degree-days times the responses to water, nitrogen and light. [°C d]"""
    speed: Numbers
    """Speed of pressing. [d⁻¹]"""
    growth: Numbers
    """Growth in height. [mm d⁻¹]"""
    uptake: Numbers
    """Nitrogen taken up. [g m⁻² d⁻¹]"""
    clip: Numbers
    """Height cut off. [mm]"""
    supplied: Numbers
    """Nitrogen fed and returned with clippings. [g m⁻² d⁻¹]"""
    opened: Numbers
    """Ground opened by passes. [-]"""
    soil_opened: Numbers
    """Ground whose soil is opened. [-]"""
    refilled: Numbers
    """Ground refilled. [-]"""
    wear: Numbers
    """Wear on a grass whose wear factor is 1. [d⁻¹]"""
    visits: Numbers
    """Visits of a machine. [-]"""
    stood_up: Numbers
    """Share of low shoots that passes stand up, were each to lift all it meets. [-]"""


class Water(NamedTuple):
    """The day's water."""

    seedbed: Numbers
    root_zone: Numbers
    gained: Numbers
    lost: Numbers


def today(z: ZoneState, p: ZoneParameters, d: Drivers, o: Operations) -> Today:
    """Work out what all grasses of the zone meet today."""
    stress = soil_water.stress(z.root_water, p.root_capacity, p.depletion)
    seedlings = soil_water.stress(z.seedbed_water, p.seedbed_capacity, p.seedling_depletion)
    fed = cover.nitrogen_response(z.nitrogen, p.nitrogen_half) * cover.light_response(
        d.light, p.light_enough
    )
    other = stress * fed
    leaf = cover.temperature_response(d.tmean, p.growth_base, p.growth_full)
    growth = cover.height_growth(p.height_growth, leaf, other)
    warm = germination.warmth(d.tmean, 0.0)
    clip = mowing.clipped(z.height + growth, o.cut_height, o.cut)
    returned = feeding.in_clippings(clip, p.nitrogen_in_leaf) * (1.0 - o.boxed)
    passes = o.verticut_tips + o.verticut_blade + o.verticut_soil + o.scarify
    soil_opened = verticutting.opened(
        o.verticut_soil, p.gap_soil, o.scarify, p.gap_scarify
    ) + verticutting.opened(o.tine, p.gap_tine, 0.0, 0.0)
    opened = soil_opened + verticutting.opened(
        o.verticut_tips, p.gap_tips, o.verticut_blade, p.gap_blade
    )
    return Today(
        warm,
        germination.potential(z.seedbed_water, p.seedbed_capacity),
        stress,
        warm * cover.water_response(stress, seedlings, z.gap) * fed,
        p.pressing * leaf * other,
        growth,
        feeding.uptake(growth, p.nitrogen_in_leaf, z.nitrogen),
        clip,
        o.feed + returned * p.nitrogen_returned,
        opened,
        soil_opened,
        repair.refilled_ground(o.refill, z.gap),
        wear.level(p.wear_summer, p.wear_winter, d.winter),
        o.cut + passes + o.brush + o.tine,
        verticutting.lifted(1.0, passes, o.brush, p.brush_lift),
    )


def water_day(z: ZoneState, p: ZoneParameters, d: Drivers, o: Operations, stress: Numbers) -> Water:
    """Move the day's water."""
    covered = 1.0 - z.gap
    here = p.seedbed_capacity / (p.seedbed_capacity + p.root_capacity)
    dried = soil_water.from_seedbed(
        d.et0,
        p.bare_factor * z.gap,
        p.crop_factor * here * covered,
        z.seedbed_water,
        p.seedbed_capacity,
    )
    below = p.crop_factor * (1.0 - here) * covered
    drunk = soil_water.from_root_zone(d.et0, below, stress, z.root_water)
    arriving = d.rain + o.water
    seedbed, root_zone = z.seedbed_water - dried, z.root_water - drunk
    first = soil_water.held(arriving, seedbed, p.seedbed_capacity)
    second = soil_water.held(arriving - first, root_zone, p.root_capacity)
    drained = arriving - first - second
    return Water(seedbed + first, root_zone + second, arriving, dried + drunk + drained)


def zone_day(
    z: ZoneState,
    p: ZoneParameters,
    d: Drivers,
    o: Operations,
    t: Today,
    water: Water,
    gap: Numbers,
    holes: Numbers,
    pulled_hours: Numbers,
) -> ZoneState:
    """Give the zone's evening, once its grasses have done their day."""
    taken = feeding.in_clippings(t.clip, p.nitrogen_in_leaf)
    arriving = t.supplied + p.nitrogen_supply * t.warm
    return ZoneState(
        gap,
        water.seedbed,
        water.root_zone,
        soil_temperature.follow(z.soil_temperature, d.tmean, p.soil_lag),
        z.height + t.growth - t.clip,
        mowing.after_cut(z.cut_height, o.cut_height, o.cut),
        mowing.after_cut(z.days_since_cut + 1.0, 0.0, o.cut),
        feeding.available(z.nitrogen, arriving, t.uptake, p.nitrogen_loss),
        verticutting.fading(z.disturbance, p.disturbance_fade, t.soil_opened + holes),
        z.hours + o.hours + pulled_hours,
        z.money + o.money,
        z.nitrogen_exported + taken * o.boxed,
    )
