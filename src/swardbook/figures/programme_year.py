"""A programme's year: each kind of work a lane of its own, and the hours of each month."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from swardbook.figures.lanes import (
    BEFORE,
    MARKS,
    NOW,
    ROOM,
    Lane,
    ProgrammeYear,
    Row,
    draw_lanes,
    draw_months,
)
from swardbook.figures.picture import NARROW, Picture, Table, finish, short_figure
from swardbook.model.programmes import Amount

FOR = {
    "cut": "cutting", "boxed cut": "cutting with the box on", "verticut": "verticutting",
    "pull": "pulling", "refill": "refills", "feed": "feeding", "water": "watering refills",
}  # fmt: skip
"""What hours are for, by kind."""


def picture_of_programme(year: ProgrammeYear, note: str = "") -> Picture:
    """Draw one programme's year.

    Parameters
    ----------
    year : ProgrammeYear
        The year.
    note : str
        What has to stand beside it.
    """
    import altair as alt

    lanes = [Row(lane.kind, said(lane), ((lane, ""),)) for lane in year.lanes]
    chart = alt.vconcat(
        draw_lanes(lanes, year.months, NARROW), draw_months([("", year)], NARROW), spacing=24
    )
    sentence = f"{year.name} in {year.zone} takes {span_of(year.hours)} hours a year."
    most = max(year.lanes, key=_middle, default=None)
    if most is not None and _middle(most) > 0:
        sentence = f"{sentence[:-1]}, most of them for {FOR[most.kind]}."
    key = "One mark is one day of work."
    if year.without:
        key += f" Not in it: {', '.join(year.without)}."
    foot = foot_of(year.weather, year.beside)
    return finish(chart, sentence, key, list(_tables([year])), note, foot=foot, narrow=True)


def picture_of_edit(before: ProgrammeYear, now: ProgrammeYear, note: str = "") -> Picture:
    """Draw a programme's year before and after an edit, lane beside lane.

    Parameters
    ----------
    before, now : ProgrammeYear
        The years, of one zone and on the same weather.
    note : str
        What has to stand beside it.
    """
    import altair as alt

    rows = []
    for kind in MARKS:
        pair = [_lane(year, kind) for year in (before, now)]
        if any(pair):
            rows.append(Row(kind, _both(*pair), tuple(zip(pair, (BEFORE, NOW), strict=True))))
    wide = NARROW - ROOM
    chart = alt.vconcat(
        draw_lanes(rows, now.months, wide),
        draw_months([(BEFORE, before), (NOW, now)], wide),
        spacing=24,
    )
    gap = now.hours.middle - before.hours.middle
    told = "as many as" if abs(gap) < 0.5 else (
        f"about {short_figure(abs(gap))} {'more' if gap > 0 else 'fewer'} than"
    )  # fmt: skip
    sentence = (
        f"{now.name} takes {span_of(now.hours)} hours a year in {now.zone}, {told} {before.name}."
    )
    key = f"Upper row of each kind: {before.name}. Lower row: {now.name}. One mark is one day."
    key += " Bars: as an outline before, filled now."
    tables = list(_tables([before, now]))
    return finish(
        chart, sentence, key, tables, note, foot=foot_of(now.weather, now.beside), narrow=True
    )


def said(lane: Lane) -> str:
    """Say a lane in one line: what, how often, how many hours."""
    times = _times(len(lane.days))
    if lane.hours is None:
        return f"{_named(lane)}: {times}"
    most = " at most" if lane.at_most else ""
    return f"{_named(lane)}: {times}, {span_of(lane.hours)} h{most}"


def span_of(hours: Amount) -> str:
    """Write hours with the range that the handbook's rates leave them."""
    low, high = short_figure(hours.low), short_figure(hours.high)
    return low if low == high else f"{low} to {high}"


def foot_of(weather: str, beside: Sequence[str]) -> str:
    """Say what hours and days rest on, and what the zone does not allow."""
    held = "".join(f" Held back here: {each}." for each in beside)
    return (
        f"{weather} Hours: the rates of the handbook with their ranges, all people together;"
        f" pulling is what is set aside, the ground may need less.{held}"
    )


def _lane(year: ProgrammeYear, kind: str) -> Lane | None:
    return next((each for each in year.lanes if each.kind == kind), None)


def _named(lane: Lane) -> str:
    return f"{lane.name}, {lane.detail}" if lane.detail else lane.name


def _both(before: Lane | None, now: Lane | None) -> str:
    """Say a lane as it was and as it is, in one line: ``91, now 93 times``."""
    if before is None or now is None:
        only = before or now
        assert only is not None
        return (
            f"{said(only)} {BEFORE}, none {NOW}" if before else f"{said(only)} {NOW}, none before"
        )
    name = _named(before)
    if before.detail != now.detail:
        name = f"{now.name}, {_changed(before.detail, now.detail)}"
    times = _turned(str(len(before.days)), str(len(now.days)), " times")
    if before.hours is None or now.hours is None:
        return f"{name}: {times}"
    old, new = f"{before.hours.middle:.0f}", f"{now.hours.middle:.0f}"
    if len(before.days) == len(now.days) and old == new:
        return f"{name}: {_times(len(now.days))}, about {new} h, as before"
    return f"{name}: {times}; about {_turned(old, new, ' h')}"


def _times(number: int) -> str:
    return "once" if number == 1 else f"{number} times"


def _changed(before: str, now: str) -> str:
    """Say two amounts of one unit as ``1.5, now 3 h a week``."""
    old, _, unit = before.partition(" ")
    new, _, same = now.partition(" ")
    return f"{old}, now {new} {same}" if unit == same else f"{before}, now {now}"


def _turned(before: str, now: str, unit: str) -> str:
    return f"{now}{unit}, as before" if before == now else f"{before}, now {now}{unit}"


def _middle(lane: Lane) -> float:
    return 0.0 if lane.hours is None else lane.hours.middle


def _tables(years: Sequence[ProgrammeYear]) -> Iterator[Table]:
    for year in years:
        rows = tuple(
            (
                _named(lane), str(len(lane.days)),
                "" if lane.hours is None else span_of(lane.hours),
                f"{lane.days[0].day} {lane.days[0]:%B}", f"{lane.days[-1].day} {lane.days[-1]:%B}",
            )
            for lane in year.lanes
        )  # fmt: skip
        if rows:
            yield Table(year.name, ("work", "times", "hours", "first", "last"), rows)
        months = tuple(
            (f"{day:%B}", short_figure(hours))
            for day, hours in zip(year.months, year.by_month, strict=False)
        )
        yield Table(f"{year.name}, hours by month", ("month", "hours"), months)
