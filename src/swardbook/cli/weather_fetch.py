"""`swardbook weather fetch` and `normals`: weather from a service, and months over years."""

from __future__ import annotations

import calendar
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.chosen import unit_in_chosen
from swardbook.cli.doors import Door, clock_now, door_options
from swardbook.cli.output import table
from swardbook.cli.weather_words import (
    age,
    findings_payload,
    forecast_line,
    forecast_payload,
    listed,
)

if TYPE_CHECKING:
    from swardbook.book.weather_fetch import WeatherFetch

_STATES = {
    "new": "Fetched from {host}.",
    "unchanged": "{host} says that nothing has changed.",
    "fresh": "What was fetched from {host} is fresh; it was not asked again.",
    "stale": "Stale: what was fetched from {host} {age} ago stands in, for {reason}.",
}


@click.command()
@click.option("--again", is_flag=True, help="Ask even where what is kept is fresh.")
@door_options
def fetch(again: bool, door: Door) -> None:
    """Fetch weather and a forecast from the service that is set.

    Nothing is fetched unless SWARDBOOK_WEATHER_ADDRESS names a service. What the place measured
    itself stays; the service fills what is missing. Where no answer comes, the copy that is kept
    stands in, with its age and the reason; then the exit code is 1.
    """
    from swardbook.book.weather_fetch import STALE, fetch_weather

    book = door.book()
    done = fetch_weather(book, clock_now(), again=again)
    door.show(_payload(done), _lines(done), book)
    click.get_current_context().exit(1 if done.state == STALE else 0)


@click.command()
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--years", default=30, show_default=True, type=click.IntRange(1, 200),
              help="Latest years that are used.")  # fmt: skip
@door_options
def normals(file: Path, years: int, door: Door) -> None:
    """Show what the months of a place are like, from a station's file.

    A weather office's monthly text, a typical year (EPW) or any daily file will do. Needs no book,
    keeps nothing, and no daily run reads it.
    """
    from swardbook.book.weather_normals import NOT_DAILY, read_normals

    found = read_normals(file, years)
    payload = {
        "name": found.name,
        "first_year": found.first_year,
        "last_year": found.last_year,
        "months": [
            {
                "month": each.month,
                "years": each.years,
                "tmin_mean_c": rounded(each.tmin),
                "tmax_mean_c": rounded(each.tmax),
                "rain_years": each.rain_years,
                "rain_mm": rounded(each.rain),
            }
            for each in found.months
        ],
        "notes": list(found.notes),
    }
    rows = [
        [calendar.month_abbr[each.month], _told(each.tmin), _told(each.tmax), _told(each.rain, 0),
         str(max(each.years, each.rain_years))]
        for each in found.months
    ]  # fmt: skip
    lines = [
        f"{found.name.rstrip('.')}: {found.first_year} to {found.last_year}.",
        f"Minimum and maximum in {unit_in_chosen('°C')}; rain in {unit_in_chosen('mm')}.",
        *table(["month", "min", "max", "rain", "years"], rows, ("", "°C", "°C", "mm", "")),
        NOT_DAILY,
        *listed("How it was read", found.notes),
    ]
    door.show(payload, lines)


def rounded(number: float | None) -> float | None:
    """Give a number to two decimals."""
    return None if number is None else round(number, 2)


def _told(number: float | None, digits: int = 1) -> str:
    return "?" if number is None else f"{number:.{digits}f}"


def _payload(done: WeatherFetch) -> dict[str, Any]:
    return {
        "state": done.state,
        "host": done.source.host,
        "credit": done.source.credit,
        "age_h": round(done.age_h),
        "reason": done.reason,
        "days_taken": done.taken,
        "days_own": done.own,
        "forecast": forecast_payload(done.forecast),
        "notes": list(done.notes),
        "findings": findings_payload(done.findings),
    }


def _lines(done: WeatherFetch) -> list[str]:
    reason = done.reason.rstrip(".")
    told = _STATES[done.state].format(host=done.source.host, age=age(done.age_h), reason=reason)
    lines = [told]
    if done.taken or done.own:
        lines.append(
            f"Days past, taken over: {done.taken}. Days that the place measured itself, so that"
            f" they stay: {done.own}."
        )
    lines += forecast_line(done.forecast)
    if done.source.credit:
        lines.append(f"{done.source.credit.rstrip('.')}.")
    return [
        *lines,
        *listed("How it was read", done.notes),
        *listed("Needs a look", [each.words for each in done.findings]),
    ]
