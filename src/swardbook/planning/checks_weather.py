"""Conditions that the weather sets: frost, wet ground, drought, heat."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from swardbook.foundation.dates import say
from swardbook.handbook.parameters import value
from swardbook.husbandry.happenings import DroughtSign, Frost, Underfoot, Water
from swardbook.planning.growth import seedbed_of
from swardbook.planning.situation import Happened, Situation
from swardbook.planning.states import Condition, Rank, State
from swardbook.planning.warmth import air_today, dry_days, mean_air, rain, rain_since

Check = Callable[[Situation], Condition]
FROST_WAITS = "'thawed' noted, or two hours above 4 °C and a look"


def frost(sit: Situation) -> Condition:
    """Tell whether frost keeps people and machines off today."""
    ground = _frozen_ground(sit)
    if ground is not None:
        return ground
    noted = _frost_today(sit)
    if noted is not None and noted.what.state == "thawed":
        return _frost(State.MET, "thawed", diary(noted))
    if noted is not None:
        return _frost(State.NOT_MET, "frost noted, not noted as thawed", diary(noted))
    air = air_today(sit)
    if air is None:
        return _frost(State.UNKNOWN, "no record and no weather for today")
    told = f"minimum {air[0]:.0f} °C"
    source = f"weather, {say(sit.today)}"
    if (air[0] + air[1]) / 2 <= value("frozen_day_mean"):
        return _frost(State.NOT_MET, f"{told} and the day hardly above freezing", source)
    if air[0] <= value("frost_minimum"):
        told += "; ground frost if it was clear and still, nobody noted"
        return _frost(State.UNKNOWN, told, source)
    return _frost(State.MET, told, source)


def wet(sit: Situation) -> Condition:
    """Tell whether the ground carries a machine."""
    return _wet(sit, ("soft", "waterlogged", "standing water"))


def wet_on_foot(sit: Situation) -> Condition:
    """Tell whether the ground carries people."""
    return _wet(sit, ("waterlogged", "standing water"))


def drought(sit: Situation) -> Condition:
    """Tell whether the sward stands in drought."""
    sign = _drought_sign(sit)
    if sign is not None and sign.what.seen:
        return _drought(State.NOT_MET, "footprinting or off colour noted", diary(sign))
    stress = sit.lately.stress
    if not stress:
        if sign is not None:
            return _drought(State.MET, "looked for, no sign", diary(sign))
        return _drought(State.UNKNOWN, "no weather to tell it by, no look noted")
    days, now = int(value("drought_days")), stress[-1]
    source = f"water balance, {say(sit.today)}"
    told = f"stress factor {now:.2f} (1 is none)"
    dry = value("drought_stress")
    if len(stress) >= days and all(each < dry for each in stress[-days:]):
        if asked := _ask_for_water(sit, days):
            return _drought(State.UNKNOWN, f"{told}, but {asked}", source)
        if sign is not None and sit.age(sign.day) <= 1:
            return _drought(State.UNKNOWN, f"{told} for days, yet no sign seen", diary(sign))
        return _drought(
            State.NOT_MET,
            f"{told}, below {dry:g} for {days} days or more",
            source,
        )
    if now >= value("no_stress"):
        return _drought(State.MET, "soil moist by the water balance", source)
    if sign is not None:
        return _drought(State.MET, f"{told}; looked for, no sign", diary(sign))
    return _drought(State.UNKNOWN, f"{told}; look for footprinting or off colour", source)


def heat(sit: Situation) -> Condition:
    """Tell whether it is too hot for the sward."""
    air = air_today(sit)
    limit = value("heat_limit")
    if air is None:
        return _heat(State.UNKNOWN, "no weather for today", "")
    state = State.NOT_MET if air[1] > limit else State.MET
    return _heat(state, f"maximum {air[1]:.0f} °C", f"weather, {say(sit.today)}")


def dry_top(sit: Situation) -> Condition:
    """Tell whether leaf and top are dry enough for a dressing or granules."""
    fell = rain(sit, 1)
    if fell is None:
        return Condition("dry leaf", State.UNKNOWN, "no weather for today", rank=Rank.LOOKS)
    state = State.UNKNOWN if fell >= 1 else State.MET
    told = f"{fell:.0f} mm of rain today; look" if fell >= 1 else "no rain today"
    return Condition("dry leaf", state, told, f"weather, {say(sit.today)}")


def moist(sit: Situation) -> Condition:
    """Tell whether roots come out whole: moist ground, not dust."""
    stress = sit.lately.stress
    if not stress:
        return Condition("moist ground", State.UNKNOWN, "no weather to tell it by; try a plant")
    source = f"water balance, {say(sit.today)}"
    dry = dry_days(sit)
    watered = sit.latest(Water, 2)
    if watered is not None:
        return Condition("moist ground", State.MET, "watered", diary(watered))
    if stress[-1] >= value("no_stress"):
        return Condition("moist ground", State.MET, "moist by the water balance", source)
    since = f"{dry} dry day{'' if dry == 1 else 's'}" if dry else "rain today, not yet to depth"
    told = f"{since}; try a plant, water the strip the evening before if roots stay"
    return Condition("moist ground", State.UNKNOWN, told, source, "drought_stress", blocks=False)


def _ask_for_water(sit: Situation, days: int) -> str:
    """Ask whether a young seedbed is watered, where nobody noted it and nobody said no."""
    bed = seedbed_of(sit.ground, sit.zone, sit.today)
    if bed is None or bed[2] is False or sit.latest(Water, days) is not None:
        return ""
    roots = value("turf_water.root_depth_seedling")
    kept = "kept damp, the sowing says, and" if bed[2] else "its roots reach about"
    known = kept if bed[2] else f"{kept} {roots:.0f} mm and"
    return f"a seedbed of {sit.age(bed[0])} days: {known} no watering is noted. Is it watered?"


def _frozen_ground(sit: Situation) -> Condition | None:
    noted = sit.happened(Frost, within_days=value("frozen_note_days"))
    frozen = [n for n, each in enumerate(noted) if each.what.state == "frozen ground"]
    if not frozen:
        return None
    last = noted[frozen[-1]]
    later = [each for each in noted[frozen[-1] + 1 :] if each.what.state == "thawed"]
    if last.day < sit.today and any(each.day > last.day for each in later):
        return None
    if any(each.day == sit.today for each in later) or last.day == sit.today:
        told = "frozen ground noted; thawed over frozen soil stays off"
        return _frost(State.NOT_MET, told, diary(last))
    mild = mean_air(sit, value("frozen_ground_days"))
    if sit.age(last.day) < value("frozen_ground_days") or mild is None or mild <= 2:
        return _frost(State.NOT_MET, "frozen ground, no thaw noted", diary(last))
    if mild > value("weather.growing_week_mean"):
        return None
    return _frost(State.UNKNOWN, "frozen ground noted, milder since, no thaw noted", diary(last))


def _frost_today(sit: Situation) -> Happened[Frost] | None:
    noted = [
        each
        for each in sit.happened(Frost, within_days=0)
        if each.entry.when.first <= sit.today <= each.entry.when.last
    ]
    return noted[-1] if noted else None


def _wet(sit: Situation, stays_off: tuple[str, ...]) -> Condition:
    noted = sit.latest(Underfoot)
    good_for = value("underfoot_days")
    fell = rain(sit, value("wet_recent_days"))
    if noted is not None and sit.age(noted.day) <= good_for:
        state = noted.what.state
        if state in stays_off:
            return _ground(State.NOT_MET, f"{state} noted", diary(noted))
        if state == "soft":
            return _ground(State.UNKNOWN, "soft noted", diary(noted))
        since = rain_since(sit, noted.day)
        if sit.age(noted.day) == 0 or (since is not None and since < value("dry_enough_rain")):
            return _ground(State.MET, f"{state} noted", diary(noted))
    if fell is None:
        return _ground(State.UNKNOWN, "nothing noted underfoot, no weather", "")
    return _wet_by_weather(sit, fell, noted)


def _wet_by_weather(sit: Situation, fell: float, noted: Happened[Underfoot] | None) -> Condition:
    days = int(value("wet_recent_days"))
    source = f"weather, {days} days to {say(sit.today)}"
    told = f"{fell:.0f} mm of rain in {days} days"
    stress = sit.lately.stress
    was_wet = noted is not None and noted.what.state not in {"firm", "dry"}
    if noted is not None and was_wet and (not stress or stress[-1] >= value("no_stress")):
        return _ground(State.UNKNOWN, f"{noted.what.state} noted earlier; look", diary(noted))
    on_dry = bool(stress) and stress[-1] < value("no_stress")
    if on_dry and fell < value("wet_rain"):
        return _ground(State.MET, f"{told}, on dry ground", source)
    if fell < value("dry_enough_rain") and sit.is_between(
        value("firm_season_from"), value("firm_season_to")
    ):
        return _ground(State.MET, told, source)
    if fell < 1:
        return _ground(State.UNKNOWN, f"{told}, but winter ground dries slowly; look", source)
    return _ground(State.UNKNOWN, f"{told}; press a heel in", source)


def _drought_sign(sit: Situation) -> Happened[DroughtSign] | None:
    noted = sit.latest(DroughtSign)
    if noted is None:
        return None
    fell = rain_since(sit, noted.day)
    if noted.what.seen:
        fresh = sit.age(noted.day) <= value("drought_sign_days")
        broken = fell is not None and fell >= value("drought_break_rain")
        return noted if fresh and not broken else None
    return noted if sit.age(noted.day) <= 2 else None


def _frost(state: State, because: str, source: str = "") -> Condition:
    waits = FROST_WAITS if state is not State.MET else ""
    return Condition("frost", state, because, source, "frost_minimum", Rank.GROUND, until=waits)


def _ground(state: State, because: str, source: str) -> Condition:
    waits = "firm underfoot noted" if state is not State.MET else ""
    return Condition("wet ground", state, because, source, "wet_rain", Rank.GROUND, until=waits)


def _drought(state: State, because: str, source: str = "") -> Condition:
    waits = "rain or watering to depth" if state is State.NOT_MET else ""
    return Condition("drought", state, because, source, "drought_stress", Rank.STRESS, until=waits)


def _heat(state: State, because: str, source: str) -> Condition:
    waits = "a day no warmer than 27 °C" if state is State.NOT_MET else ""
    return Condition("heat", state, because, source, "heat_limit", Rank.STRESS, until=waits)


def diary(found: Happened[Any]) -> str:
    """Say which diary entry a state came from."""
    return f"diary, {say(found.day)}"
