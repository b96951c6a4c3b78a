"""What the model remembers from one day to the next, per square metre of a zone.

Every field is one number a draw: an array over draws outside, one number inside the kernel.
"""

from __future__ import annotations

from typing import NamedTuple

from swardbook.model.numbers import Numbers


class SownState(NamedTuple):
    """One sown component."""

    seed: Numbers
    """Seed in the ground that can still come up and take. [m⁻²]"""
    progress: Numbers
    """Hydrothermal time its seed has earned. [°C d]"""
    cover: Numbers
    """Ground it covers. [-]"""


class HeadBins(NamedTuple):
    """Standing heads by days of ripening, two days (at 12 °C) a bin; the last is ten and more."""

    b0: Numbers
    b1: Numbers
    b2: Numbers
    b3: Numbers
    b4: Numbers
    b5: Numbers


class WeedState(NamedTuple):
    """One weed grass."""

    dormant: Numbers
    """Seed on the surface that is not ready to come up. [m⁻²]"""
    ready: Numbers
    """Seed on the surface that is ready. [m⁻²]"""
    buried: Numbers
    """Seed below the top centimetre. [m⁻²]"""
    seedling_0: Numbers
    """Seedlings, first third of the way to tillering. [m⁻²]"""
    seedling_1: Numbers
    seedling_2: Numbers
    tillering_0: Numbers
    """Tillering plants, first third of the way to heads. [m⁻²]"""
    tillering_1: Numbers
    tillering_2: Numbers
    flowering: Numbers
    """Plants old enough to head. [m⁻²]"""
    cover: Numbers
    """Ground its plants cover. [-]"""
    high: HeadBins
    """Heads that stand above the blade. [m⁻²]"""
    low: HeadBins
    """Heads that lie below it. [m⁻²]"""
    lying: Numbers
    """Viable seed in heads cut and left lying. [m⁻²]"""
    season_warmth: Numbers
    """Degree-days above -5 °C since the year's start of counting. [°C d]"""
    produced: Numbers
    """Seeds formed in heads since the start of the run. [m⁻²]"""
    returned: Numbers
    """Viable seed that reached the ground since the start. [m⁻²]"""
    boxed: Numbers
    """Seeds taken off the site since the start. [m⁻²]"""
    emerged: Numbers
    """Seedlings that came up since the start. [m⁻²]"""
    established: Numbers
    """Seedlings that became plants since the start. [m⁻²]"""
    killed: Numbers
    """Plants killed by hand since the start. [m⁻²]"""


class ZoneState(NamedTuple):
    """What the zone as a whole remembers."""

    gap: Numbers
    """Bare ground. [-]"""
    seedbed_water: Numbers
    """Water in the top 15 mm, above air-dry. [mm]"""
    root_water: Numbers
    """Water in the root zone that grass can take. [mm]"""
    soil_temperature: Numbers
    """Daily mean at seed depth. [°C]"""
    height: Numbers
    """Height of the sward. [mm]"""
    cut_height: Numbers
    """Height of the last cut. [mm]"""
    days_since_cut: Numbers
    """Days since the last cut. [d]"""
    nitrogen: Numbers
    """Nitrogen that grass can take up. [g m⁻²]"""
    disturbance: Numbers
    """Share of the surface opened by recent work, fading. [-]"""
    hours: Numbers
    """Work since the start. [h m⁻²]"""
    money: Numbers
    """Cost since the start, as the operations state it. [m⁻²]"""
    nitrogen_exported: Numbers
    """Nitrogen taken off with clippings since the start. [g m⁻²]"""


class SownSet(NamedTuple):
    """The four slots for sown components; an unused slot has no seed and no cover."""

    a: SownState
    b: SownState
    c: SownState
    d: SownState


USUAL_WEEDS = ("annual_meadow_grass", "yorkshire_fog")
"""The weed grasses that every zone runs, in this order; others of the handbook come after them."""


class SwardState(NamedTuple):
    """Everything there is on one square metre of a zone in the evening."""

    sown: SownSet
    weeds: tuple[WeedState, ...]
    """Each weed grass of the zone, the usual ones first."""
    zone: ZoneState


class Gaps(NamedTuple):
    """How far the day's balances miss, each as a share of the day's gross flow plus stock."""

    seeds: Numbers
    plants: Numbers
    water: Numbers
    cover: Numbers
