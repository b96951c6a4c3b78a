"""Conditions that belong to one job: cutting in drought, season of feed, soil for seed ..."""

from __future__ import annotations

from dataclasses import replace

from swardbook.foundation.dates import say
from swardbook.handbook.parameters import value
from swardbook.planning.checks_site import closed_to, open_to_hose
from swardbook.planning.checks_weather import drought
from swardbook.planning.growth import seedbed_of
from swardbook.planning.situation import Situation
from swardbook.planning.sowing import Answer, sowing_answer
from swardbook.planning.states import Condition, Rank, State
from swardbook.planning.stock import lot_for
from swardbook.planning.warmth import rain
from swardbook.planning.water import seedbed_water, sward_water, young_seedbed


def cut_in_drought(sit: Situation) -> Condition:
    """Tell whether drought speaks against a cut; heads going off may still win."""
    found = drought(sit)
    if found.state is State.UNKNOWN and seedbed_of(sit.ground, sit.zone, sit.today) is not None:
        return replace(found, blocks=False)
    if found.state is not State.NOT_MET:
        return Condition(found.name, State.MET, found.because, found.source, found.threshold)
    return Condition(
        "drought", State.NOT_MET, f"{found.because}: cut only for heads, not lower",
        found.source, found.threshold, Rank.STRESS, blocks=False, until=found.until,
    )  # fmt: skip


def feed_season(sit: Situation) -> Condition:
    """Tell whether the season takes nitrogen: all, little, or none."""
    source = f"season, {say(sit.today)}"
    if sit.is_between(value("feed_season_from"), value("feed_season_to")):
        return Condition("season of feed", State.MET, "growing season", source, "feed_season_to")
    if sit.is_between(value("feed_season_to"), value("feed_low_until")):
        return Condition(
            "season of feed", State.UNKNOWN, "low-nitrogen autumn feed only, at most 1 g N/m²",
            source, "feed_low_nitrogen", blocks=False,
        )  # fmt: skip
    return Condition(
        "season of feed", State.NOT_MET, "late autumn or winter: no nitrogen", source,
        "feed_low_until", until="growth in spring",
    )  # fmt: skip


def seed_in_hand(sit: Situation) -> Condition:
    """Tell whether seed is there, and of the lot the zone was sown with."""
    stock = lot_for(sit)
    if stock is None:
        return Condition("seed", State.UNKNOWN, "no lot in the book", "lots")
    if stock.left_g is not None and stock.left_g <= 0:
        return Condition("seed", State.NOT_MET, f"lot {stock.lot.code} is used up", "lots")
    told = f"lot {stock.lot.code}" + (", the zone's own" if stock.is_same else "")
    if not stock.is_same and stock.sown_before:
        told += f"; the zone was sown with {stock.sown_before}: counts as another seed"
        return Condition("seed", State.UNKNOWN, told, "lots", blocks=False)
    return Condition("seed", State.MET, told, "lots")


def soil_for_seed(sit: Situation) -> Condition:
    """Tell whether the soil is warm enough, and stays so, by component."""
    stock = lot_for(sit)
    if stock is None:
        return Condition("soil and season", State.UNKNOWN, "no lot to judge", "lots")
    found = sowing_answer(sit, stock.lot)
    state = State.MET if found.answer is Answer.GO else State.NOT_MET
    if found.answer is Answer.UNKNOWN or any(c.answer is Answer.GO for c in found.components):
        state = State.MET if found.answer is Answer.GO else State.UNKNOWN
    waits = "soil warmth" if found.answer is Answer.WAIT else ""
    return Condition(
        "soil and season", state, f"{found.answer.value}: {found.because}", found.soil_source,
        "soil_stop", until=waits,
    )  # fmt: skip


def washing_off(sit: Situation) -> Condition:
    """Tell whether rain moves seed on bare ground today."""
    fell, most = rain(sit, 1), value("heavy_rain")
    if fell is None:
        return Condition("heavy rain", State.UNKNOWN, "no weather for today; look ahead", "")
    source = f"weather, {say(sit.today)}"
    if fell >= most:
        told = f"{fell:.0f} mm today: seed moves on bare ground"
        rank = Rank.GROUND
        return Condition(
            "heavy rain", State.NOT_MET, told, source, "heavy_rain", rank, True, "rain to end"
        )
    return Condition("heavy rain", State.MET, f"{fell:.0f} mm today", source, "heavy_rain")


def need_of_water(sit: Situation) -> Condition:
    """Tell whether the seedbed can be kept damp, with the hose or with cans."""
    found = seedbed_water(sit, sit.zone.area_m2)
    if found is None:
        return Condition("water to keep it damp", State.UNKNOWN, "no weather to tell it by", "")
    if closed_to(sit, "hose") is None:
        if found.minutes is None:
            told = "water at the tap not measured: time a 10 L bucket"
            return Condition("water to keep it damp", State.UNKNOWN, told, "site")
        told = f"about {found.litres:.0f} L a dry day, {found.minutes:.0f} min by hose"
        return Condition("water to keep it damp", State.MET, told, "water balance")
    told = f"hose restricted; {found.can_minutes:.0f} min of cans a dry day"
    state = State.NOT_MET if found.can_minutes > value("can_most_minutes") else State.UNKNOWN
    return Condition("water to keep it damp", state, told, "diary", rank=Rank.SAFETY)


def roll_cures_nothing(sit: Situation) -> Condition:
    """Tell what rolling can do: firm a seedbed; it cures neither bumps nor wet clay."""
    told = "firms a seedbed only; bumps and wet want tining, a matching dressing, an outfall first"
    state = State.UNKNOWN if young_seedbed(sit) else State.NOT_MET
    if "clay" in sit.zone.soil.casefold():
        state = State.NOT_MET
        told = f"{sit.zone.soil}: rolling presses it tight; relieve compaction, outfall first"
    return Condition("what rolling cures", state, told, "zone", rank=Rank.GROUND)


def water_wanted(sit: Situation) -> Condition:
    """Tell whether seedbed or sward wants water: never a light sprinkle on a moist sward."""
    area = young_seedbed(sit)
    bed = seedbed_water(sit, area) if area else None
    if bed is not None:
        told = f"seedbed: {bed.doses} x {bed.dose_mm:.1f} mm" if bed.doses else "rain did it today"
        state = State.MET if bed.doses else State.NOT_MET
        return Condition("need of water", state, told, "water balance", "seedbed_water_high")
    found = sward_water(sit)
    if found is None:
        return Condition("need of water", State.UNKNOWN, "no weather to tell it by", "")
    source = f"water balance, {say(sit.today)}"
    if found.stress >= value("no_stress"):
        told = "grown sward, moist: no water needed"
        return Condition("need of water", State.NOT_MET, told, source, "drought_stress")
    state = State.MET if found.stress < value("drought_stress") else State.UNKNOWN
    told = f"stress factor {found.stress:.1f}; {found.depletion_mm:.0f} mm missing, deep and seldom"
    return Condition("need of water", state, told, source, "drought_stress")


def hose_or_cans(sit: Situation) -> Condition:
    """Tell whether a hose may be used; under a restriction cans serve a seedbed or refills."""
    found = open_to_hose(sit)
    return replace(found, blocks=young_seedbed(sit) == 0)
