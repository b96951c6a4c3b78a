"""`swardbook weather fetch`: take weather from the service that was set."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, clock_now, door_options
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
