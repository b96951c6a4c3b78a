"""Weather, season and stage that a trouble wants: met, not met or don't know, with the reason."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import timedelta

import numpy as np

from swardbook.foundation.dates import say
from swardbook.handbook.parameters import value
from swardbook.husbandry.happenings import Cut, Feed, Reading
from swardbook.planning.checks_weather import drought
from swardbook.planning.kinds import components, slowest
from swardbook.planning.situation import Situation
from swardbook.planning.sowing import first_seen_days, soil_now
from swardbook.planning.sowings import setting_age
from swardbook.planning.states import State
from swardbook.planning.warmth import mean_air, rain
from swardbook.weather.outbreaks import brown_patch_index, dollar_spot_chance
from swardbook.weather.series import Values

DAYS = 3
"""Days that tell how warm and how wet it has been lately. [d]"""


@dataclass(frozen=True, slots=True)
class Fits:
    """Whether weather, season or stage fit.

    Parameters
    ----------
    name : str
        The condition.
    state : State
        Met, not met or don't know.
    because : str
        The reason.
    """

    name: str
    state: State
    because: str


def fits(sit: Situation, name: str) -> Fits:
    """Tell whether one condition of a trouble is met in a zone today."""
    state, because = CONDITIONS[name](sit)
    return Fits(name, state, because)


def wet_days(sit: Situation) -> int | None:
    """Count wet days of the last three: humid or rainy; None without humidity."""
    weather = sit.weather
    if weather is None or weather.last != sit.today or len(weather) < DAYS:
        return None
    last = weather.between(sit.today - timedelta(days=DAYS - 1), sit.today)
    if last.humidity is None:
        return None
    return int(np.count_nonzero((last.humidity >= value("patch_wet_humidity")) | (last.rain >= 1)))


def is_hungry(sit: Situation) -> bool:
    """Tell whether fescue or ryegrass has gone without a feed for long."""
    sowing = setting_age(sit)
    groups = {each.group for each in components(sowing.lot)} if sowing and sowing.lot else set()
    fed = sit.latest(Feed, within_days=value("feed_gap_days"))
    return fed is None and bool(groups & {"fine fescue", "ryegrass"})


def is_late_nitrogen(sit: Situation) -> bool:
    """Tell whether more than a light feed was given out of the season of growth."""
    given = [
        each.what.nitrogen_g_m2 or 0.0
        for each in sit.happened(Feed, within_days=value("late_nitrogen_days"))
    ]
    return sum(given) > value("feed_low_nitrogen") and not sit.is_between(
        value("feed_season_from"), value("patch_off_to")
    )


_Answer = tuple[State, str]


def _yes(is_so: bool, told: str) -> _Answer:
    return (State.MET if is_so else State.NOT_MET), told


def _first_weeks(sit: Situation) -> _Answer:
    sowing = setting_age(sit)
    if sowing is None:
        return State.NOT_MET, "no sowing noted here"
    days = sit.age(sowing.day)
    return _yes(days <= value("new_sward_days"), f"sown {days} days ago")


def _wet(sit: Situation) -> _Answer:
    wet = wet_days(sit)
    if wet is None:
        return State.UNKNOWN, "no humidity in the book, so leaf wetness is not known"
    return _yes(wet >= value("patch_days"), f"{wet} wet days of the last {DAYS}")


def _dollar_spot(sit: Situation) -> _Answer:
    days = int(value("outbreak.dollar_spot_days"))
    damp = _damp(sit, days)
    if damp is None:
        return State.UNKNOWN, f"no humidity of {days} days in the book"
    mean, humidity = damp[1].mean(keepdims=True), damp[2].mean(keepdims=True)
    told = f"{days} days of {mean[0]:.0f} °C and {humidity[0]:.0f} %"
    if not value("outbreak.dollar_spot_coolest") <= mean <= value("outbreak.dollar_spot_warmest"):
        return State.NOT_MET, f"{told}: colder or hotter than its sum was made for"
    chance, least = dollar_spot_chance(mean, humidity)[0], value("outbreak.dollar_spot_from")
    return _yes(bool(chance >= least), f"{told}: chance {chance:.0%}, counts from {least:.0%}")


def _brown_patch(sit: Situation) -> _Answer:
    damp = _damp(sit, DAYS)
    if damp is None:
        return State.UNKNOWN, f"no humidity of {DAYS} days in the book"
    tmin, _, humidity = damp
    most, least = brown_patch_index(tmin, humidity).max(), value("outbreak.brown_patch_from")
    told = f"nights of {tmin.max():.0f} °C at most: index {most:.0f}, high from {least:.0f}"
    return _yes(bool(most >= least), told)


def _damp(sit: Situation, days: int) -> tuple[Values, Values, Values] | None:
    """Give minimum, mean [°C] and humidity [%] of the last days; None where one is not known."""
    weather = sit.weather
    if weather is None or weather.last != sit.today or len(weather) < days:
        return None
    last = weather.between(sit.today - timedelta(days=days - 1), sit.today)
    if last.humidity is None or not np.isfinite(last.tmean + last.humidity).all():
        return None
    return last.tmin, last.tmean, np.minimum(last.humidity, 100.0)


def _between_means(low: str, high: str) -> Callable[[Situation], _Answer]:
    def told(sit: Situation) -> _Answer:
        mean = mean_air(sit, DAYS)
        if mean is None:
            return State.UNKNOWN, "no weather to tell warmth by"
        return _yes(value(low) <= mean <= value(high), f"mean {mean:.0f} °C of {DAYS} days")

    return told


def _season(first: str, last: str) -> Callable[[Situation], _Answer]:
    def told(sit: Situation) -> _Answer:
        begins, ends, today = value(first), value(last), sit.season_day
        inside = begins <= today <= ends if begins <= ends else today >= begins or today <= ends
        return _yes(inside, f"season, {say(sit.today)}")

    return told


def _hungry(sit: Situation) -> _Answer:
    if setting_age(sit) is None:
        return State.UNKNOWN, "not known what grows here"
    is_so = is_hungry(sit)
    return _yes(is_so, "hungry fescue or ryegrass" if is_so else "fed lately, or neither")


def _bent(sit: Situation) -> _Answer:
    sowing = setting_age(sit)
    if sowing is None or sowing.lot is None:
        return State.UNKNOWN, "not known what grows here"
    has_bent = any(each.group == "bent" for each in components(sowing.lot))
    return _yes(has_bent, "bent was sown" if has_bent else "no bent was sown")


def _late_nitrogen(sit: Situation) -> _Answer:
    is_so = is_late_nitrogen(sit)
    return _yes(is_so, "nitrogen late in the year" if is_so else "no nitrogen late in the year")


def _young(sit: Situation) -> _Answer:
    sowing = setting_age(sit)
    if sowing is None:
        return State.NOT_MET, "no sowing noted here"
    days = sit.age(sowing.day)
    return _yes(days <= value("trouble.young_days"), f"sown {days} days ago")


def _low_cut(sit: Situation) -> _Answer:
    height = sit.zone.height_of_cut_mm
    return _yes(height <= value("trouble.low_cut"), f"cut at {height:g} mm")


def _limey(sit: Situation) -> _Answer:
    read = [each for each in sit.happened(Reading) if each.what.quantity.casefold() == "ph"]
    if not read:
        return State.UNKNOWN, "pH not measured"
    last = read[-1].what.value
    return _yes(last >= value("trouble.limey_ph"), f"pH {last:g}")


def _downpour(sit: Situation) -> _Answer:
    sowing = setting_age(sit)
    if sowing is None or sit.weather is None or sit.weather.last != sit.today:
        return State.UNKNOWN, "no sowing, or no weather to tell rain by"
    since = sit.weather.between(sowing.day, sit.today)
    most = float(since.rain.max()) if len(since) else 0.0
    return _yes(most >= value("trouble.downpour"), f"most rain in a day since sowing {most:.0f} mm")


def _too_early(sit: Situation) -> _Answer:
    sowing = setting_age(sit)
    species = slowest(sowing.lot) if sowing is not None and sowing.lot is not None else None
    if sowing is None or species is None:
        return State.UNKNOWN, "not known what was sown when"
    days, span = sit.age(sowing.day), first_seen_days(species, soil_now(sit)[0])
    if span is None:
        return State.UNKNOWN, f"{species.english}: no window in soil so cold or unknown"
    told = f"day {days}; {species.english} may take to day {span[1]:.0f}"
    return _yes(days <= span[1], told)


def _moist(sit: Situation) -> _Answer:
    fell = rain(sit, value("trouble.moist_days"))
    if fell is None:
        return State.UNKNOWN, "no weather to tell rain by"
    return _yes(fell >= value("trouble.moist_rain"), f"{fell:.0f} mm in a week")


def _dry(sit: Situation) -> _Answer:
    found = drought(sit)
    turned = {State.MET: State.NOT_MET, State.NOT_MET: State.MET}
    return turned.get(found.state, State.UNKNOWN), found.because


def _after(kind: type[Cut] | type[Feed], days: str, name: str) -> Callable[[Situation], _Answer]:
    def told(sit: Situation) -> _Answer:
        last = sit.latest(kind, within_days=value(days))
        if last is None:
            return State.NOT_MET, f"no {name} noted in {value(days):.0f} days"
        return State.MET, f"{name} on {say(last.day)}"

    return told


CONDITIONS: Mapping[str, Callable[[Situation], _Answer]] = {
    "first weeks": _first_weeks,
    "wet": _wet,
    "cool": _between_means("patch_mean_low", "patch_mean_high"),
    "mild": _between_means("red_thread_low", "red_thread_high"),
    "hungry": _hungry,
    "dollar spot weather": _dollar_spot,
    "brown patch weather": _brown_patch,
    "limey": _limey,
    "bent": _bent,
    "late nitrogen": _late_nitrogen,
    "young": _young,
    "low cut": _low_cut,
    "downpour": _downpour,
    "too early": _too_early,
    "leaf fall": _season("trouble.leaf_fall_from", "trouble.leaf_fall_to"),
    "late summer": _season("trouble.rust_from", "trouble.rust_to"),
    "grub season": _season("trouble.grubs_from", "trouble.grubs_to"),
    "chafer season": _season("trouble.chafers_from", "trouble.chafers_to"),
    "moist ground": _moist,
    "dry": _dry,
    "after cut": _after(Cut, "trouble.after_cut_days", "cut"),
    "after feed": _after(Feed, "trouble.after_feed_days", "feed"),
}
"""What a trouble of the handbook may want, by name."""
