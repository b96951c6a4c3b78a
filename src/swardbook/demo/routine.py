"""What was done by rule in the made-up diary: cuts, watering of seedbeds, leaves, cans."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, timedelta

from swardbook.demo.names import (
    APRON,
    BRAM,
    INES,
    LIME_WALK,
    MAIN,
    NURSERY,
    SHORT,
    SURROUND,
    TRIAL,
)
from swardbook.demo.weather import made_up_weather
from swardbook.demo.writing import done
from swardbook.foundation.dates import When, days_between
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.happenings import Brush, Cut, Water

MONDAY, TUESDAY, WEDNESDAY, THURSDAY, FRIDAY, SATURDAY = range(6)
COURT_HOURS = {MAIN: 0.6, SHORT: 0.4}
CUTS_OF_2010 = {
    # day: (main court, short court and trial), height in mm; first mow after the tug test
    "2010-09-28": (25, 30), "2010-10-09": (20, 25), "2010-10-18": (18, 25),
    "2010-10-28": (16, 25), "2010-11-04": (16, 25),
}  # fmt: skip
UNBOXED = {
    date(2011, 6, 11), date(2011, 6, 13), date(2011, 6, 16), date(2011, 6, 18),
    date(2011, 7, 23), date(2011, 8, 6), date(2011, 9, 3),
}  # fmt: skip
NO_CUT = {
    # between these days, both included, the courts were not cut
    (date(2011, 5, 15), date(2011, 5, 24)),  # mower out
    (date(2011, 5, 26), date(2011, 5, 26)),  # cut the day before, and raining
    (date(2011, 8, 16), date(2011, 8, 23)),  # Bram away
    (date(2011, 8, 25), date(2011, 8, 25)),
    (date(2011, 10, 8), date(2011, 10, 8)),  # counting, in the rain
}
NEVER_WRITTEN = {date(2011, 7, day) for day in (11, 14, 16, 18, 21)}
"""Cuts that were made and not written down; remembered later as "about mid-July"."""
TOO_WET_MM = 10.0
SOWN_AGAIN = date(2011, 9, 13)
FIRST_MOW_AGAIN = date(2011, 9, 28)
"""Between these the main court is left to its second seedlings; the short court is not."""
STARTED_AGAIN = date(2011, 5, 25)


def _rain(day: date) -> float:
    weather = made_up_weather()
    return float(weather.rain[weather.index(day)])


def _et0(day: date) -> float:
    weather = made_up_weather()
    assert weather.et0_given is not None
    return float(weather.et0_given[weather.index(day)])


def _froze(day: date) -> bool:
    weather = made_up_weather()
    return float(weather.tmin[weather.index(day)]) < 0


def _fills_box(day: date) -> bool:
    """Tell whether the fortnight was moist and warm enough to fill the box."""
    weather = made_up_weather()
    fortnight = weather.between(day - timedelta(days=13), day)
    return float(fortnight.rain.sum()) >= 8 and float(fortnight.tmean.mean()) >= 9


def court_days(zone: str) -> list[date]:
    """List the days of 2011 on which a court was cut and the cut was written down."""
    days = []
    for day in days_between(date(2011, 3, 12), date(2011, 10, 8)):
        if day < date(2011, 3, 29):
            by_rule = day.weekday() == SATURDAY
        elif day < date(2011, 4, 17) or day > date(2011, 9, 10):
            by_rule = day.weekday() in {WEDNESDAY, SATURDAY}
        else:
            by_rule = day.weekday() in {MONDAY, THURSDAY, SATURDAY}
        by_rule = by_rule or day == STARTED_AGAIN
        kept_off = any(first <= day <= last for first, last in NO_CUT) or (
            zone == MAIN and SOWN_AGAIN < day < FIRST_MOW_AGAIN
        )
        if by_rule and not kept_off and day not in NEVER_WRITTEN and _rain(day) < TOO_WET_MM:
            days.append(day)
    return days


def court_height(zone: str, day: date) -> float:
    """Give the height of cut of a court on a day of 2011 [mm]."""
    if zone == SHORT and day.month == 3:
        return {12: 20.0, 19: 17.0}.get(day.day, 14.0)
    if zone == MAIN and day >= FIRST_MOW_AGAIN:
        return {28: 15.0, 1: 13.0}.get(day.day, 11.0)
    return {3: 14.0, 4: 11.0, 9: 9.0, 10: 11.0}.get(day.month, 8.0)


def court_cuts() -> list[DiaryEntry]:
    """Write the cuts of the two courts, and the five of July that have no day."""
    entries = [
        done(day, zone, Cut(height, boxed=True, filled_box=False), BRAM, hours=COURT_HOURS[zone])
        for day, heights in CUTS_OF_2010.items()
        for zone, height in zip((MAIN, SHORT), heights, strict=True)
    ]
    for zone, hours in COURT_HOURS.items():
        for day in court_days(zone):
            boxed = day not in UNBOXED
            cut = Cut(court_height(zone, day), boxed, _fills_box(day) if boxed else None)
            note = "Box full of heads." if day == STARTED_AGAIN else ""
            entries.append(done(day.isoformat(), zone, cut, BRAM, hours=hours, note=note))
    return [*entries, *(_undated(zone) for zone in COURT_HOURS)]


def _undated(zone: str) -> DiaryEntry:
    mid_july = When(date(2011, 7, 11), date(2011, 7, 20), "about mid-July")
    entry = done(
        "2011-07-15", zone, Cut(8.0, boxed=True), BRAM, note="About five, never written down.",
        written_on="2011-08-06", hours=5 * COURT_HOURS[zone],
    )  # fmt: skip
    return replace(entry, when=mid_july, number=5)


def _every(weekdays: set[int], first: str, last: str, without: Iterable[str] = ()) -> list[date]:
    days = days_between(date.fromisoformat(first), date.fromisoformat(last))
    left_out = {date.fromisoformat(day) for day in without}
    return [
        day for day in days
        if day.weekday() in weekdays and day not in left_out and _rain(day) < TOO_WET_MM
    ]  # fmt: skip


def other_cuts() -> list[DiaryEntry]:
    """Write the cuts of the other zones."""
    entries = [
        done(day, TRIAL, Cut(heights[1], True, False), BRAM, hours=0.4)
        for day, heights in CUTS_OF_2010.items()
    ]
    trial = [
        *((day, 14.0) for day in _every({SATURDAY}, "2011-03-12", "2011-03-29")),
        *((day, 12.0) for day in _every({WEDNESDAY}, "2011-03-30", "2011-04-30")),
        *((day, 10.0) for day in _every({TUESDAY, FRIDAY}, "2011-05-06", "2011-08-14",
                                        without=["2011-06-10"])),
        (date(2011, 6, 9), 10.0),
        *((day, 10.0) for day in _every({TUESDAY, FRIDAY}, "2011-08-24", "2011-10-07")),
    ]  # fmt: skip
    entries += [_cut(day, TRIAL, height, True, 0.2) for day, height in trial]
    entries.append(done("2010-10-22", LIME_WALK, Cut(40, True, False), BRAM, hours=0.3))
    for day in _every({FRIDAY}, "2011-03-25", "2011-10-07", without=["2011-08-19"]):
        boxed = day < date(2011, 7, 1)
        entries.append(_cut(day, SURROUND, 20.0, boxed, 0.5))
        if day >= date(2011, 4, 22):
            entries.append(_cut(day, APRON, 25.0 if day.month == 4 else 20.0, boxed, 0.2))
        if day.isocalendar().week % 2:
            entries.append(_cut(day, LIME_WALK, 35.0, boxed, 0.4))
    entries += [
        _cut(day, NURSERY, 10.0, True, 0.2)
        for day in _every({WEDNESDAY}, "2011-05-25", "2011-10-05", without=["2011-08-17"])
    ]
    return entries


def _cut(day: date, zone: str, height_mm: float, boxed: bool, hours: float) -> DiaryEntry:
    cut = Cut(height_mm, boxed, _fills_box(day) if boxed else None)
    return done(day.isoformat(), zone, cut, BRAM, hours=hours)


AREAS = {MAIN: 819.2, SHORT: 460.8, TRIAL: 192.4}
SEEDBEDS = {
    # zone: first and last day of watering; the tap serves all three in under four hours
    TRIAL: ("2010-09-01", "2010-09-26"), MAIN: ("2010-09-03", "2010-09-26"),
    SHORT: ("2010-09-04", "2010-09-26"),
}  # fmt: skip
IRRIGATED = {
    # day: depth in mm on both courts and the trial, by hose and tanks
    "2011-03-28": 6.0, "2011-03-30": 5.0,
    "2011-04-18": 5.0, "2011-04-21": 5.0, "2011-04-26": 5.0, "2011-05-02": 5.0,
    "2011-05-06": 5.0, "2011-05-19": 6.0, "2011-05-23": 6.0, "2011-05-25": 6.0,
    "2011-06-01": 6.0, "2011-06-03": 6.0,
    # dry and hot after the oversowing
    "2011-09-14": 3.0, "2011-09-16": 3.0, "2011-09-19": 3.0, "2011-09-23": 4.0,
    "2011-09-26": 5.0, "2011-09-28": 5.0, "2011-09-30": 5.0, "2011-10-01": 5.0,
    "2011-10-03": 5.0,
}  # fmt: skip


def watering() -> list[DiaryEntry]:
    """Write what was watered: seedbeds to what they lost, refills by can, dry courts."""
    entries = []
    for zone, (first, last) in SEEDBEDS.items():
        for day in days_between(date.fromisoformat(first), date.fromisoformat(last)):
            depth = round(1.1 * _et0(day) - _rain(day), 1)
            if depth >= 1.0:
                water = Water(depth, round(depth * AREAS[zone]), by="hose", place="seedbed")
                entries.append(done(day.isoformat(), zone, water, "the rota", hours=0.2,
                                    note="In two or three doses."))  # fmt: skip
    for number, day in enumerate(days_between(date(2011, 4, 23), date(2011, 6, 4))):
        if number % 2 == 0 and _rain(day) < 2:
            cans = Water(None, 40, by="can", place="refills")
            entries.append(done(day.isoformat(), MAIN, cans, INES, hours=0.2))
    for day_text, depth in IRRIGATED.items():
        for zone, area in AREAS.items():
            water = Water(depth, round(depth * area), by="sprinkler")
            entries.append(done(day_text, zone, water, "the rota", hours=0.1))
    for number, day in enumerate(days_between(date(2011, 4, 9), date(2011, 5, 16))):
        if number % 2 == 0 and _rain(day) < 2:
            hose = Water(2.0, 96, by="hose", place="seedbed")
            entries.append(done(day.isoformat(), NURSERY, hose, "the rota", hours=0.1))
    return entries


def leaves() -> list[DiaryEntry]:
    """Write dew brushing and leaf clearing, every second or third day from the first leaf fall."""
    days = [day for day in days_between(date(2010, 10, 22), date(2010, 11, 23))
            if day.weekday() in {MONDAY, WEDNESDAY, FRIDAY}]  # fmt: skip
    return [
        done(day.isoformat(), zone, Brush("brush"), "the rota", hours=0.2)
        for day in days
        for zone in (MAIN, SHORT)
        if _rain(day) < TOO_WET_MM and not _froze(day)
    ]
