"""Where a run starts: bare or grown in, with how much weed and how much seed in the ground."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from scipy.special import expit, logit

from swardbook.foundation.quantities import require
from swardbook.model.chance import Array, Chance
from swardbook.model.draws import Constants, central_constants, draw_constants
from swardbook.model.parameter_sets import Parameters
from swardbook.model.state import (
    USUAL_WEEDS,
    HeadBins,
    SownSet,
    SownState,
    SwardState,
    WeedState,
    ZoneState,
)


@dataclass(frozen=True, slots=True)
class Start:
    """What is known of a zone on the evening before the first day.

    Parameters
    ----------
    bare : float
        Share of ground that is bare. [-]
    weeds : mapping of str to float
        Cover of each weed grass, as the handbook names it. [-]
    sown_shares : tuple of float
        Parts of the rest by component; empty shares it evenly among those sown. [-]
    spread : float
        Standard deviation of bare share and weed covers on the logit scale; 0 is known. [-]
    seed_bank : mapping of str to float
        Viable seed of a weed grass, where it was counted. [m⁻²]
    height_mm : float
        Height of the sward. [mm]
    cut_height_mm : float
        Height of cut. [mm]
    soil_c : float
        Soil temperature. [°C]
    season_warmth : float
        Degree-days above -5 °C since the start of the season's count. [°C d]
    water_full : float
        How full the soil is of water. [-]
    """

    bare: float = 1.0
    weeds: Mapping[str, float] = field(default_factory=dict)
    sown_shares: tuple[float, ...] = ()
    spread: float = 0.0
    seed_bank: Mapping[str, float] = field(default_factory=dict)
    height_mm: float = 0.0
    cut_height_mm: float = 25.0
    soil_c: float = 10.0
    season_warmth: float = 0.0
    water_full: float = 1.0

    def __post_init__(self) -> None:
        require("bare share", self.bare, 0.0, 1.0, "-")
        total = self.bare + sum(self.weeds.values())
        require("bare share and weed cover together", total, 0.0, 1.0 + 1e-9, "-")
        require("how full of water", self.water_full, 0.0, 1.0, "-")


def start_keys(weeds: Sequence[str]) -> tuple[str, ...]:
    """List the numbers of the handbook that a start with these weed grasses is drawn from."""
    names = ("seed_bank", "seed_bank_surface", "plant_area_cm2")
    return (
        "model.zone.nitrogen_start",
        *(f"model.{weed}.{name}" for weed in weeds for name in names),
    )


def start_state(
    start: Start, parameters: Parameters, chance: Chance | None = None, first: int = 0,
    names: Sequence[str] = USUAL_WEEDS,
) -> SwardState:  # fmt: skip
    """Draw the state on the evening before the first day.

    Parameters
    ----------
    start : Start
        What is known.
    parameters : Parameters
        The constants of each draw; says how many there are.
    chance : Chance, optional
        The source; without one the stated values are taken in every draw.
    first : int
        Number of the first draw.
    names : sequence of str
        Names of the weed grasses, in the order of the constants.
    """
    draws = len(parameters.zone.thinning)
    if chance is None:
        constants = central_constants(draws)
    else:
        constants = draw_constants(start_keys(names), draws, chance, first)
    weeds = {weed: np.full(draws, float(start.weeds.get(weed, 0.0))) for weed in names}
    bare = np.full(draws, float(start.bare))
    if chance is not None and start.spread > 0:
        bare = _spread(bare, start.spread, chance.normals("start.bare", draws, first))
        weeds = {
            weed: _spread(cover, start.spread, chance.normals(f"start.{weed}", draws, first))
            for weed, cover in weeds.items()
        }
    total = bare + sum(weeds.values())
    over = np.maximum(total, 1.0)
    bare, weeds = bare / over, {weed: cover / over for weed, cover in weeds.items()}
    sown = np.maximum(1.0 - bare - sum(weeds.values()), 0.0)
    return SwardState(
        _sown(start, parameters, sown, draws),
        tuple(_weed(start, weed, weeds[weed], constants, draws) for weed in names),
        _zone(start, parameters, bare, constants),
    )


def _spread(share: Array, spread: float, score: Array) -> Array:
    inside = (share > 0) & (share < 1)
    moved = expit(logit(np.clip(share, 1e-9, 1 - 1e-9)) + spread * score)
    return np.where(inside, moved, share)


def _sown(start: Start, parameters: Parameters, cover: Array, draws: int) -> SownSet:
    used = [float(np.max(p.refill_seed)) > 0 for p in parameters.sown]
    if start.sown_shares:
        shares = [*start.sown_shares, 0.0, 0.0, 0.0, 0.0][:4]
    else:
        shares = [1.0 if each else 0.0 for each in used] if any(used) else [1.0, 0.0, 0.0, 0.0]
    total = sum(shares)
    return SownSet(
        *(SownState(np.zeros(draws), np.zeros(draws), cover * part / total) for part in shares)
    )


def _weed(start: Start, weed: str, cover: Array, constants: Constants, draws: int) -> WeedState:
    bank = constants[f"model.{weed}.seed_bank"]
    if weed in start.seed_bank:
        bank = np.full(draws, float(start.seed_bank[weed]))
    surface = bank * constants[f"model.{weed}.seed_bank_surface"]
    plants = cover / (constants[f"model.{weed}.plant_area_cm2"] / 1e4)
    fields = {name: np.zeros(draws) for name in WeedState._fields if name not in {"high", "low"}}
    fields |= {
        "ready": surface,
        "buried": bank - surface,
        "flowering": plants,
        "cover": cover,
        "season_warmth": np.full(draws, float(start.season_warmth)),
    }
    none = [HeadBins(*(np.zeros(draws) for _ in HeadBins._fields)) for _ in range(2)]
    return WeedState(high=none[0], low=none[1], **fields)


def _zone(start: Start, parameters: Parameters, bare: Array, constants: Constants) -> ZoneState:
    zero = np.zeros_like(bare)
    return ZoneState(
        gap=bare,
        seedbed_water=start.water_full * parameters.zone.seedbed_capacity,
        root_water=start.water_full * parameters.zone.root_capacity,
        soil_temperature=zero + start.soil_c,
        height=zero + start.height_mm,
        cut_height=zero + start.cut_height_mm,
        days_since_cut=zero,
        nitrogen=constants["model.zone.nitrogen_start"],
        disturbance=zero + (1.0 if start.bare > 0.9 else 0.0),
        hours=zero,
        money=zero,
        nitrogen_exported=zero,
    )
