"""The constants of each draw, built from drawn numbers of the handbook."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from swardbook.foundation.errors import BadInputError, OutOfRangeError
from swardbook.handbook.parameters import parameters as handbook
from swardbook.handbook.soils import soil
from swardbook.handbook.species import find_species
from swardbook.model.chance import Array, Chance
from swardbook.model.draws import (
    Constants,
    MeasuredRange,
    central_constants,
    draw_constants,
)
from swardbook.model.parameter_sets import (
    BinShares,
    Parameters,
    SownParameters,
    SownParameterSet,
    WeedParameters,
    ZoneParameters,
)
from swardbook.model.state import USUAL_WEEDS
from swardbook.seed.lot import LotPart
from swardbook.seed.mixture import by_number

SLOTS = 4
"""Slots for sown components."""
BIN_MIDDLES = (1.0, 3.0, 5.0, 7.0, 9.0, 11.0)
"""Ripening days at the middle of each bin of heads [d]."""
_CUT_DAYS = (0, 1, 2, 5, 10)
_KIND_OF_GROUP = {
    "ryegrass": "ryegrass",
    "fine fescue": "fescue",
    "tall fescue": "tall_fescue",
    "bent": "bent",
    "meadow-grass": "meadow_grass",
}
_KIND_OF_SPECIES = {
    "hard fescue": "hard_fescue",
    "sheep's fescue": "hard_fescue",
    "supina meadow-grass": "slow",
    "wood meadow-grass": "slow",
}


@dataclass(frozen=True, slots=True)
class SownKind:
    """One sown component of a zone.

    Parameters
    ----------
    species : str
        Key of the species.
    viable_per_g : float
        Its viable seeds in a gram of the lot that refills use. [g⁻¹]
    """

    species: str
    viable_per_g: float

    @property
    def kind(self) -> str:
        """The model's group of alike grasses."""
        known = find_species(self.species)
        return _KIND_OF_SPECIES.get(known.key, _KIND_OF_GROUP.get(known.group, "slow"))


@dataclass(frozen=True, slots=True)
class SownKinds:
    """What is sown in a zone: up to four components, most viable seed first; its soil and weeds."""

    kinds: tuple[SownKind, ...]
    soil: str = "loam"
    weeds: tuple[str, ...] = USUAL_WEEDS
    """Its weed grasses as the handbook names them: the usual ones first, then any others."""
    use: str = "ornamental"
    """What the zone is used for, which says how it is worn."""
    ranges: tuple[MeasuredRange, ...] = ()
    """Numbers that a trial on this ground has narrowed."""

    def __post_init__(self) -> None:
        _require_weeds(self.weeds)
        if len(self.kinds) > SLOTS:
            raise OutOfRangeError(
                "sown components", len(self.kinds), f"at most {SLOTS}", "-",
                "sown_kinds() merges the smaller ones.",
            )  # fmt: skip

    def slot(self, species: str) -> int | None:
        """Slot that a species grows in; None if nothing alike is sown."""
        wanted = SownKind(species, 0.0)
        for place, kind in enumerate(self.kinds):
            if find_species(kind.species).key == find_species(species).key:
                return place
        alike = [n for n, kind in enumerate(self.kinds) if kind.kind == wanted.kind]
        return alike[0] if alike else None


def sown_kinds(parts: Sequence[LotPart], soil: str = "loam", use: str = "ornamental") -> SownKinds:
    """Turn a lot's parts into the model's components.

    Parts of more than four kinds are merged: the smallest join the largest of their own group, or
    the last of the four.

    Parameters
    ----------
    parts : sequence of LotPart
        What is in the bag, by weight.
    soil : str
        Texture of the zone's soil.
    use : str
        What the zone is used for; an ornamental one is worn by its keeper only.
    """
    found = [
        SownKind(part.component.species, part.viable_seeds_per_g) for part in by_number(parts).parts
    ]
    found.sort(key=lambda kind: (-kind.viable_per_g, kind.species))
    kept, rest = found[:SLOTS], found[SLOTS:]
    for small in rest:
        alike = [n for n, kind in enumerate(kept) if kind.kind == small.kind]
        place = alike[0] if alike else SLOTS - 1
        big = kept[place]
        kept[place] = SownKind(big.species, big.viable_per_g + small.viable_per_g)
    return SownKinds(tuple(kept), soil, use=use)


def parameter_keys(kinds: SownKinds) -> tuple[str, ...]:
    """List the handbook's numbers that a zone's parameters are drawn from."""
    prefixes = ["model.zone.", *(f"model.{weed}." for weed in kinds.weeds)]
    prefixes += [f"model.sown.{kind.kind}." for kind in kinds.kinds]
    shared = ["field_multiplier", "emergence_spread", "stand_viable_seed", "seed_death_year"]
    keys = [key for key in handbook() if key.startswith(tuple(prefixes))]
    keys += [f"model.sown.{name}" for name in shared]
    keys += wear_keys(kinds.use)
    takes = [key for key in handbook() if key.startswith("seed_establishment_")]
    return tuple(dict.fromkeys([*keys, *takes, "turf_water.crop_coefficient"]))


def draw_parameters(kinds: SownKinds, draws: int, chance: Chance, first: int = 0) -> Parameters:
    """Draw the constants of a zone's ensemble.

    Parameters
    ----------
    kinds : SownKinds
        What is sown there, and the soil.
    draws : int
        How many draws.
    chance : Chance
        The source, keyed by book and zone: the same draw whatever the number and the chunks.
    first : int
        Number of the first draw.

    Returns
    -------
    tuple
        One value a draw in each field.
    """
    keys = parameter_keys(kinds)
    return build_parameters(kinds, draw_constants(keys, draws, chance, first, kinds.ranges))


def central_parameters(kinds: SownKinds, draws: int = 1) -> Parameters:
    """Give the constants at the stated value of every number, alike in each draw."""
    return build_parameters(kinds, central_constants(draws))


def build_parameters(kinds: SownKinds, constants: Constants) -> Parameters:
    """Work out the constants of each draw from drawn numbers of the handbook."""
    sown = [_sown(kind, constants) for kind in kinds.kinds]
    empty = _sown(SownKind("strong creeping red fescue", 0.0), central_constants(constants.draws))
    sown += [empty] * (SLOTS - len(sown))
    weeds = tuple(_weed(weed, constants) for weed in kinds.weeds)
    return Parameters(SownParameterSet(*sown), weeds, _zone(kinds, constants))


def wear_keys(use: str) -> tuple[str, str]:
    """Give the handbook's keys of the wear of a use, April to September and October to March."""
    name = use.replace(" ", "_")
    return f"model.wear.{name}_summer", f"model.wear.{name}_winter"


def known_weeds() -> tuple[str, ...]:
    """List the weed grasses that the handbook has rows for, the usual ones first."""
    found = {key.split(".")[1] for key in handbook() if key.startswith("model.")}
    weeds = [name for name in sorted(found) if f"model.{name}.alpha" in handbook()]
    return (*USUAL_WEEDS, *(name for name in weeds if name not in USUAL_WEEDS))


def _require_weeds(weeds: tuple[str, ...]) -> None:
    usual, others = weeds[: len(USUAL_WEEDS)], weeds[len(USUAL_WEEDS) :]
    strange = [weed for weed in others if weed not in known_weeds()]
    if usual != USUAL_WEEDS or strange or len(set(weeds)) < len(weeds):
        raise BadInputError(
            "the weed grasses of a zone",
            ", ".join(weeds),
            f"{', '.join(USUAL_WEEDS)}, then any others of {', '.join(known_weeds())}, once each",
            "A new species needs its rows in the handbook first.",
        )


def daily(yearly: Array) -> Array:
    """Turn a share lost in a year into a rate a day [d⁻¹]."""
    return 1 - (1 - yearly) ** (1 / 365)


def _sown(kind: SownKind, constants: Constants) -> SownParameters:
    def of(name: str) -> Array:
        return constants[f"model.sown.{kind.kind}.{name}"]

    base = of("germination_base")
    warmth = of("laboratory_warmth") * constants["model.sown.field_multiplier"]
    growth = np.log(9.0) / of("cover_50_to_90")
    typical = constants["model.zone.closure_temperature"]
    at_emergence = warmth * typical / (typical - base)
    cover = 1 / (1 + np.exp(growth * (of("cover_50") - at_emergence)))
    plants = constants["model.sown.stand_viable_seed"] * constants["seed_establishment_seedbed"]
    return SownParameters(
        refill_seed=kind.viable_per_g * constants["model.zone.refill_rate"],
        base_temperature=base,
        warmth_50=warmth,
        spread=constants["model.sown.emergence_spread"],
        potential_base=of("potential_base"),
        potential_slow=np.maximum(of("potential_slow"), 0.9 * of("potential_base")),
        area_at_emergence=np.minimum(cover, 0.5) / plants,
        growth=growth,
        closure=constants["model.zone.closure"] / typical * of("gap_filling"),
        power=of("power"),
        comfort_height=of("comfort_height"),
        drought_loss=of("drought_loss"),
        wear=of("wear"),
        seed_death=daily(constants["model.sown.seed_death_year"]),
    )


_AS_STATED = (
    "dormant_share", "summer_dormancy", "light_closed", "burial", "unburial", "survival_gap",
    "warmth_tillering", "flush_scale", "flush_start", "mown_heads", "seeds_per_head", "shedding",
    "lying_release", "lift", "capture", "plant_death", "drought_death", "crowding", "best_height",
    "height_width", "verticut_loss", "verticut_kill", "stood_up_loss", "detect_leafy", "kill",
    "drought_loss", "wear", "seed_on_tools",
)  # fmt: skip
"""Constants of a weed grass that are the handbook's number as it stands."""


def _weed(weed: str, constants: Constants) -> WeedParameters:
    def of(name: str) -> Array:
        return constants[f"model.{weed}.{name}"]

    stated: dict[str, Any] = {name: of(name) for name in _AS_STATED}
    return WeedParameters(
        **stated, **_weed_seed(of), **_weed_heads(weed, constants), **_weed_plants(of, constants)
    )


def _weed_seed(of: Callable[[str], Array]) -> dict[str, Any]:
    warmth = of("germination_year_warmth")
    base, best = of("germination_base"), of("germination_best")
    return {
        "base_temperature": base,
        "best_temperature": np.maximum(best, base + 2),
        "highest_temperature": np.maximum(of("germination_end"), best + 4),
        "potential_base": of("potential_base"),
        "potential_slow": np.maximum(of("potential_slow"), 0.9 * of("potential_base")),
        "emergence": -np.log1p(-np.minimum(of("emergence_open_year"), 0.99)) / warmth,
        "emergence_buried": -np.log1p(-of("emergence_buried_year")) / warmth,
        "release": np.log(2.0) / of("after_ripening_days"),
        "surface_death": daily(of("surface_death_year")),
        "buried_death": daily(of("buried_death_year")),
        "buried_death_disturbed": daily(of("buried_death_worked_year")),
        "survival_closed": np.minimum(of("survival_closed"), of("survival_gap")),
        "immigration": of("immigration_year") / 365,
    }


def _weed_heads(weed: str, constants: Constants) -> dict[str, Any]:
    def of(name: str) -> Array:
        return constants[f"model.{weed}.{name}"]

    heads_year = of("tillers") * of("tillers_heading") * 12 / of("tiller_life")
    above = of("share_above")
    annual = 2 * (1 - of("perennial_share"))
    return {
        "warmth_heading": np.maximum(of("warmth_heading") - of("warmth_tillering"), 100.0),
        "heads": heads_year / of("flush_days"),
        "autumn_flush": of("autumn_flush") * annual,
        "background_heads": of("background_heads") * annual,
        "ripe_left": _ripe_left(of("ripe_half_days"), of("ripe_slope")),
        "ripe_cut": _ripe_cut(weed, constants),
        "odds_above": above / (1 - above),
    }


def _weed_plants(of: Callable[[str], Array], constants: Constants) -> dict[str, Any]:
    closure = constants["model.zone.closure"] / constants["model.zone.closure_temperature"]
    return {
        "creeping": of("perennial_share"),
        "typical_area": of("plant_area_cm2") / 1e4,
        "first_area": of("first_area_cm2") / 1e4,
        "largest_area": of("largest_area_cm2") / 1e4,
        "growth": of("spread_with_gap") * closure,
        "power": -np.log(of("alpha")),
        "winter_power": -np.log(of("winter_flip")),
        "nitrogen_gain": of("nitrogen_gain") / 10,
        "detect_heading": np.maximum(of("detect_heading"), of("detect_leafy")),
        "handling": of("handling_seconds") / 3600,
        "hole": of("hole_cm2") / 1e4,
    }


def _ripe_left(half: Array, slope: Array) -> BinShares:
    return BinShares(*(1 / (1 + np.exp((half - day) / slope)) for day in BIN_MIDDLES))


def _ripe_cut(weed: str, constants: Constants) -> BinShares:
    known = np.array([constants[f"model.{weed}.cut_viable_{day}_days"] for day in _CUT_DAYS])
    logits = np.log(known / (1 - known)) + np.log(constants[f"model.{weed}.cut_viable_odds"])
    shares = []
    for day in BIN_MIDDLES:
        place = min(int(np.searchsorted(_CUT_DAYS, day)) - 1, len(_CUT_DAYS) - 2)
        first, second = _CUT_DAYS[place], _CUT_DAYS[place + 1]
        part = (day - first) / (second - first)
        shares.append(1 / (1 + np.exp(-(logits[place] * (1 - part) + logits[place + 1] * part))))
    return BinShares(*shares)


_ZONE_AS_STATED = (
    "height_growth", "growth_base", "growth_full", "light_enough", "nitrogen_half",
    "nitrogen_in_leaf", "nitrogen_returned", "nitrogen_loss", "thinning", "gap_open", "pressing",
    "seedling_depletion",
    "below_comfort", "gap_tips", "gap_blade", "gap_soil", "gap_scarify", "gap_tine", "brush_lift",
)  # fmt: skip
"""Constants of a zone that are the handbook's number as it stands."""


def _zone(kinds: SownKinds, constants: Constants) -> ZoneParameters:
    def of(name: str) -> Array:
        return constants[f"model.zone.{name}"]

    ground = soil(kinds.soil)
    summer, winter = wear_keys(kinds.use)
    depth = constants["turf_water.seedbed_depth"]
    roots = constants["turf_water.root_depth_first_summer"]
    air_dry = of("soil_air_dry") * ground.wilting_point
    stated = {name: of(name) for name in _ZONE_AS_STATED}
    return ZoneParameters(
        **stated,
        wear_summer=constants[summer],
        wear_winter=constants[winter],
        seedbed_capacity=(ground.field_capacity - air_dry) * depth,
        root_capacity=(ground.field_capacity - ground.wilting_point) * roots,
        depletion=constants["turf_water.depletion_fraction"],
        crop_factor=constants["turf_water.crop_coefficient"],
        bare_factor=of("evaporation_bare"),
        soil_lag=constants["weather.soil_lag_10cm"],
        nitrogen_supply=of("nitrogen_supply_year") / of("year_warmth"),
        take_seedbed=constants["seed_establishment_seedbed"],
        take_slit=constants["seed_establishment_slit"],
        take_scarified=constants["seed_establishment_broadcast_on_scarified"],
        take_sward=constants["seed_establishment_broadcast_on_sward"],
        search=of("search_seconds") / 3600,
        disturbance_fade=1 - 0.5 ** (1 / of("disturbance_half_days")),
    )
