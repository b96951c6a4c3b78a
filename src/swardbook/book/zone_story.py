"""A zone's story for the model: what was sown, done and seen there, and the weather it had."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from datetime import date, timedelta

import numpy as np

from swardbook.book.zone_seen import seen_in, weeds_named
from swardbook.foundation.dates import say, season_day
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.handbook.parameters import parameters, value
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground, Zone
from swardbook.husbandry.happenings import Scarify, Sow, Strip
from swardbook.model.drivers import drivers_from
from swardbook.model.operations import operations_from_diary
from swardbook.model.parameters import SownKinds, sown_kinds
from swardbook.model.past import Seen, Story
from swardbook.model.start import Start
from swardbook.review.records import occasions_of
from swardbook.seed.lot import LotPart
from swardbook.weather.series import DailyWeather
from swardbook.weather.stretches import missing_spells, say_spells, whole_stretches

OLD_SWARD = "look_ahead.old_sward."
"""Handbook rows that stand for a sward which nobody sowed in the book's time."""
_BEGINNINGS = (Sow, Scarify, Strip)


def story_of(ground: Ground, zone: str, weather: DailyWeather, today: date) -> Story:
    """Read a zone's story from the book; what came after today is left out.

    Parameters
    ----------
    ground : Ground
        The ground as it stands.
    zone : str
        Name of the zone.
    weather : DailyWeather
        The site's weather; the story begins after the last of its missing days.
    today : date
        The day the answer is for.

    Raises
    ------
    UnknownNameError
        If there is no such zone.
    NotEnoughDataError
        If the weather does not cover the story, or several mixtures share the zone.
    """
    place = ground.zone(zone)
    whole = whole_stretches(weather.until(today))
    if not whole or whole[-1].last < today:
        last = str(whole[-1].last) if whole else "none"
        raise NotEnoughDataError("a look-ahead", f"weather up to {today}", f"weather up to {last}")
    known = whole[-1]
    entries = [entry for entry in ground.entries(zone) if entry.day <= today]
    weeds = _weeds(ground, place, entries, today)
    seen = seen_in(ground, place, entries, today, weeds)
    first = _first_day(entries, seen, known, today)
    kinds = replace(_kinds(ground, place, entries), weeds=weeds)
    return Story(
        zone=place,
        latitude=ground.site.latitude,
        kinds=kinds,
        start=_start(place, entries, known, first, ground.site.latitude, weeds),
        first=first,
        today=today,
        drivers=drivers_from(known, ground.site.latitude, ground.site.elevation_m, first, today),
        operations=operations_from_diary(ground, zone, first, today, kinds).operations,
        seen=tuple(each for each in seen if each.day >= first),
        assumed=(*_begun_late(weather.until(today), known, entries), *_assumed(entries)),
    )


def is_sown(story: Story) -> bool:
    """Tell whether the book holds a sowing of the zone."""
    return any(
        bool(np.any(sown))
        for sown in (story.operations.sow_a, story.operations.sow_b, story.operations.sow_c)
    )


def sown_in(ground: Ground, zone: Zone) -> tuple[str, ...]:
    """Give the species sown in a zone, by name; those of an old sward where nobody sowed."""
    lots = {
        entry.what.lot
        for entry in ground.entries(zone.name)
        if isinstance(entry.what, Sow) and entry.what.lot
    }
    parts = [part for code in sorted(lots) for part in ground.lot(code).parts]
    return tuple(dict.fromkeys(part.species for part in parts or _old_sward()))


def _weeds(ground: Ground, zone: Zone, entries: list[DiaryEntry], today: date) -> tuple[str, ...]:
    counts = [each for each in occasions_of(ground, zone.name) if each.day <= today]
    return weeds_named(entries, counts, sown_in(ground, zone))


def _first_day(
    entries: list[DiaryEntry], seen: list[Seen], weather: DailyWeather, today: date
) -> date:
    days = [each.day for each in seen]
    days += [entry.day for entry in entries if isinstance(entry.what, _BEGINNINGS)]
    first = min(days, default=today)
    return max(first, weather.first + timedelta(days=1))


def _kinds(ground: Ground, zone: Zone, entries: list[DiaryEntry]) -> SownKinds:
    sown: dict[str, float] = defaultdict(float)
    for entry in entries:
        if isinstance(entry.what, Sow) and entry.what.lot:
            mixture = ground.lot(entry.what.lot).mixture
            sown[mixture] += entry.what.area_m2 or zone.area_m2
    if not sown:
        return sown_kinds(_old_sward(), zone.soil, zone.use)
    main = max(sown, key=lambda mixture: (sown[mixture], mixture))
    if sown[main] < value("look_ahead.one_mixture_share") * sum(sown.values()):
        raise NotEnoughDataError(
            f"a look-ahead of {zone.name}",
            "one mixture over most of the zone",
            f"{len(sown)} mixtures side by side; compare its plots instead",
        )
    lot = next(lot for lot in ground.lots if lot.mixture == main)
    return sown_kinds(lot.parts, zone.soil, zone.use)


def _old_sward() -> list[LotPart]:
    rows = [row for key, row in parameters().items() if key.startswith(OLD_SWARD)]
    return [LotPart(_species(row.key), row.value) for row in rows]


def _species(key: str) -> str:
    return key.removeprefix(OLD_SWARD).replace("_", " ")


def _assumed(entries: list[DiaryEntry]) -> tuple[str, ...]:
    """Say what the story takes for granted because the book does not tell."""
    if any(isinstance(entry.what, Sow) and entry.what.lot for entry in entries):
        return ()
    parts = [f"{part.species} {100 * part.share_by_weight:.0f} %" for part in _old_sward()]
    return (f"the old sward is taken as {', '.join(parts)} by weight: no sowing is in the book",)


def _start(
    zone: Zone, entries: list[DiaryEntry], weather: DailyWeather, first: date, latitude: float,
    weeds: tuple[str, ...],
) -> Start:  # fmt: skip
    air = weather.tmean
    at = weather.index(first)
    bed = any(
        isinstance(entry.what, Sow) and entry.what.method == "seedbed" and entry.day == first
        for entry in entries
    )
    count_from = round(value("model.annual_meadow_grass.flush_start"))
    since = min(max(season_day(first, latitude) - count_from, 0), at)
    days = round(value("look_ahead.start_soil_days"))
    base = value("model.fixed.heading_base")
    covers = dict.fromkeys(weeds, value("look_ahead.start_other_weed"))
    covers |= {
        "annual_meadow_grass": value("look_ahead.start_cover"),
        "yorkshire_fog": value("look_ahead.start_fog"),
    }
    return Start(
        bare=1.0 if bed else value("look_ahead.start_bare"),
        weeds={} if bed else covers,
        spread=value("look_ahead.start_spread"),
        height_mm=zone.height_of_cut_mm,
        cut_height_mm=zone.height_of_cut_mm,
        soil_c=float(np.mean(air[max(at - days, 0) : at])),
        season_warmth=float(np.sum(np.maximum(air[at - since : at] - base, 0.0))),
    )


def _begun_late(
    weather: DailyWeather, known: DailyWeather, entries: list[DiaryEntry]
) -> tuple[str, ...]:
    """Say which missing days the story begins after, where something was done before them."""
    spells = tuple(each for each in missing_spells(weather) if each[1] < known.first)
    if not spells or not any(entry.day <= spells[-1][1] for entry in entries):
        return ()
    return (
        f"Weather is missing: {say_spells(spells)}. The zone is followed from"
        f" {say(known.first)} on.",
    )
