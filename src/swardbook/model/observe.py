"""What is looked at while a run goes on: a few sums of the state."""

from __future__ import annotations

from typing import NamedTuple

from swardbook.model.balances import sown_cover
from swardbook.model.day_heads import grown_up, standing
from swardbook.model.numbers import Numbers
from swardbook.model.parameter_sets import Parameters
from swardbook.model.processes import soil_water
from swardbook.model.state import SwardState, WeedState


class WeedSeen(NamedTuple):
    """What is looked at of one weed grass."""

    cover: Numbers
    """Ground under it. [-]"""
    plants: Numbers
    """Plants that tiller or head. [m⁻²]"""
    seedlings: Numbers
    """Seedlings. [m⁻²]"""
    heads: Numbers
    """Standing heads. [m⁻²]"""
    seed: Numbers
    """Viable seed in the ground. [m⁻²]"""
    flowering: Numbers
    """Plants old enough to head. [m⁻²]"""
    returned: Numbers
    """Viable seed that reached the ground since the start. [m⁻²]"""


class Observed(NamedTuple):
    """The outputs of a run."""

    bare: Numbers
    """Bare ground. [-]"""
    sown: Numbers
    """Ground under sown grass. [-]"""
    sown_a: Numbers
    """Ground under the first component. [-]"""
    sown_b: Numbers
    sown_c: Numbers
    sown_d: Numbers
    annual_meadow_grass: Numbers
    """Ground under it. [-]"""
    annual_meadow_grass_plants: Numbers
    """Plants that tiller or head. [m⁻²]"""
    annual_meadow_grass_seedlings: Numbers
    """Seedlings. [m⁻²]"""
    annual_meadow_grass_heads: Numbers
    """Standing heads. [m⁻²]"""
    annual_meadow_grass_seed: Numbers
    """Viable seed in the ground. [m⁻²]"""
    annual_meadow_grass_flowering: Numbers
    """Plants old enough to head. [m⁻²]"""
    annual_meadow_grass_returned: Numbers
    """Viable seed that reached the ground since the start. [m⁻²]"""
    yorkshire_fog: Numbers
    """Ground under it. [-]"""
    yorkshire_fog_plants: Numbers
    """Plants that tiller or head. [m⁻²]"""
    yorkshire_fog_seedlings: Numbers
    """Seedlings. [m⁻²]"""
    yorkshire_fog_heads: Numbers
    """Standing heads. [m⁻²]"""
    yorkshire_fog_seed: Numbers
    """Viable seed in the ground. [m⁻²]"""
    yorkshire_fog_flowering: Numbers
    """Plants old enough to head. [m⁻²]"""
    yorkshire_fog_returned: Numbers
    """Viable seed that reached the ground since the start. [m⁻²]"""
    height: Numbers
    """Height of the sward. [mm]"""
    stress: Numbers
    """Stress factor Ks. [-]"""
    soil_temperature: Numbers
    """Soil temperature. [°C]"""
    nitrogen: Numbers
    """Available nitrogen. [g m⁻²]"""
    hours: Numbers
    """Work since the start. [h m⁻²]"""
    others: tuple[WeedSeen, ...]
    """The weed grasses beyond the two usual ones."""


def seedlings(w: WeedState) -> Numbers:
    """Seedlings [m⁻²]."""
    return w.seedling_0 + w.seedling_1 + w.seedling_2


def bank(w: WeedState) -> Numbers:
    """Viable seed in the ground [m⁻²]."""
    return w.dormant + w.ready + w.buried


def look_at(w: WeedState) -> WeedSeen:
    """Look at one weed grass."""
    return WeedSeen(
        w.cover, grown_up(w), seedlings(w), standing(w), bank(w), w.flowering, w.returned
    )


def observe(s: SwardState, p: Parameters) -> Observed:
    """Look at the state."""
    a, b, z = s.weeds[0], s.weeds[1], s.zone
    return Observed(
        z.gap, sown_cover(s.sown),
        s.sown.a.cover, s.sown.b.cover, s.sown.c.cover, s.sown.d.cover,
        a.cover, grown_up(a), seedlings(a), standing(a), bank(a), a.flowering, a.returned,
        b.cover, grown_up(b), seedlings(b), standing(b), bank(b), b.flowering, b.returned,
        z.height, soil_water.stress(z.root_water, p.zone.root_capacity, p.zone.depletion),
        z.soil_temperature, z.nitrogen, z.hours, tuple(look_at(w) for w in s.weeds[2:]),
    )  # fmt: skip
