"""`swardbook sow when` and `sow watch`: before the sowing, and while it comes up."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options
from swardbook.cli.output import table
from swardbook.cli.results import keep_options, show_answer
from swardbook.cli.sow_watch import watch
from swardbook.cli.wrapping import heading, under

if TYPE_CHECKING:
    from swardbook.book.sow_when import Event, SowingDay, SowWhen, Stand
    from swardbook.planning.states import Condition


__all__ = ["watch", "when"]


@click.command()
@click.option("--what", default="", metavar="LOT",
              help="A lot, its name or a kind of mixture; else what was sown last.")  # fmt: skip
@click.option("--from", "first", default="", metavar="DAY", help="First day of sowing looked at."
              "  [default: tomorrow]")  # fmt: skip
@click.option("--dates", type=click.IntRange(1, 30), default=None,
              help="How many sowings to look at, a week apart.")  # fmt: skip
@click.option("--by", default="", metavar="DAY", help="Tell chances by this day.  [default: eight"
              " weeks after each sowing]")  # fmt: skip
@click.option("--rate", default="", metavar="RATE", help="Rate, in g/m2 unless you give a unit.")
@click.option("--method", default="seedbed", show_default=True,
              help="seedbed, slit, 'broadcast on scarified' or 'broadcast on sward'.")  # fmt: skip
@click.option("--water/--no-water", "water", default=None, help="Whether the bed is kept damp.")
@click.option("--here/--nobody-here", "here", default=None,
              help="Whether somebody is there each day of the first weeks.")  # fmt: skip
@click.option("--slope", default="", metavar="PERCENT", help="Fall, if no survey kept it: 5, or"
              " 1:20.")  # fmt: skip
@click.option("--forecast", type=click.Path(dir_okay=False, path_type=Path), default=None,
              metavar="FILE.csv", help="Forecast days, in the form of a weather file.")  # fmt: skip
@keep_options
@door_options
def when(door: Door, zone: str, keeping: dict[str, str] | None, **given: Any) -> None:
    """Say by date how likely seedlings, cover and a first mow are, and go, wait or too late.

    Every past year of the site is run from each sowing on, each component alone and the mixture as
    it is; a forecast, where there is one, takes the place of its first days.
    """
    from swardbook.book.from_seed import day_to_come
    from swardbook.book.sow_when import Asked, sow_when, when_answer
    from swardbook.foundation.errors import BadInputError
    from swardbook.planning.sow_when import Said
    from swardbook.seed import read_method, read_rate

    if not zone:
        raise BadInputError("--zone", "", "the name of a zone")
    book = door.book()
    said = Said(given["water"], given["here"], _slope(given["slope"]))
    asked = Asked(
        zone, given["what"],
        day_to_come(given["first"], book.today) if given["first"] else None,
        given["dates"],
        day_to_come(given["by"], book.today) if given["by"] else None,
        read_rate(given["rate"]) if given["rate"] else None,
        read_method(given["method"]), said, given["forecast"],
    )  # fmt: skip
    made = sow_when(book, asked, lambda words: click.echo(words, err=True))
    show_answer(
        door, book, when_answer(made), _payload(made), _lines(made), zone=made.zone, keeping=keeping
    )


def _slope(text: str) -> float | None:
    from swardbook.foundation.errors import BadInputError
    from swardbook.foundation.quantities import read_number

    if not text:
        return None
    first, _, second = text.replace("1 in ", "1:").partition(":")
    top, run = read_number(first.strip(" %")), read_number(second) if second else 100.0
    if top is None or run is None or run <= 0 or not 0 <= top / run <= 1:
        raise BadInputError("--slope", text, "percent such as 5, or a fall such as 1:20")
    return top / run


def _payload(made: SowWhen) -> dict[str, Any]:
    return {
        "zone": made.zone,
        "sown": made.title,
        "method": made.method.value,
        "answer": made.first[0].value,
        "because": made.first[1],
        "days": [_day(each) for each in made.days],
        "conditions": [_condition(each) for each in made.conditions],
        "past_years": list(made.past_years),
        "few_past_years": made.is_thin,
        "forecast_to": None if made.forecast_to is None else made.forecast_to.isoformat(),
    }


def _day(each: SowingDay) -> dict[str, Any]:
    return {
        "sown_on": each.day.isoformat(),
        "by": each.by.isoformat(),
        "mixture": _stand(each.mixture),
        "components": [_stand(stand) for stand in each.components],
    }


def _stand(stand: Stand) -> dict[str, Any]:
    answer, soil = stand.answer, stand.answer.soil
    return {
        "name": stand.name,
        "rate_g_m2": stand.rate_g_m2,
        "answer": answer.answer.value,
        "decided_by": answer.species,
        "because": answer.because,
        "soil_c": None if soil is None else {"low": round(soil[0], 1), "middle": round(soil[1], 1),
                                             "high": round(soil[2], 1)},
        "years_warm_enough": answer.enough,
        "years": answer.years,
        "events": [_event(event) for event in stand.events],
    }  # fmt: skip


def _event(event: Event) -> dict[str, Any]:
    return {
        "event": event.name,
        "days_low": event.low, "days_middle": event.middle, "days_high": event.high,
        "chance_by": round(event.by, 3),
        "chance_after_weeks": list(event.chances),
    }  # fmt: skip


def _condition(each: Condition) -> dict[str, Any]:
    return {"condition": each.name, "state": each.state.value, "because": each.because,
            "source": each.source, "until": each.until}  # fmt: skip


def _lines(made: SowWhen) -> list[str]:
    from swardbook.foundation.dates import say

    first = made.days[0]
    lines = [*heading(f"When to sow {made.title} in {made.zone}")]
    answer, because = made.first
    lines += under(answer.shape, f"{say(first.day)}: {answer.value}. {because}.", 0)
    for each in made.conditions:
        ends = "" if each.because.endswith("?") else "."
        told = f"{each.name}: {each.state.value}; {each.because}{ends}"
        lines += under(each.state.shape, told)
    lines += ["", f"Chances by the day beside each sowing, {made.method.value}:"]
    heads = ("sown", "", "by", *(event.name for event in first.mixture.events))
    lines += table(heads, [_row(each) for each in made.days])
    lines += ["", f"Sown {say(first.day)}, days until, middle case (four in five):"]
    names = ("", "", *(event.name for event in first.mixture.events))
    lines += table(names, [_span_row(stand) for stand in (first.mixture, *first.components)])
    return [*lines, "", *_foot(made)]


def _row(each: SowingDay) -> tuple[str, ...]:
    answer = each.mixture.answer.answer
    chances = (f"{100 * event.by:.0f} %" for event in each.mixture.events)
    day, by = (f"{part.day} {part:%b %Y}" for part in (each.day, each.by))
    return day, f"{answer.shape} {answer.value}", by, *chances


def _span_row(stand: Stand) -> tuple[str, ...]:
    answer = stand.answer.answer
    name = stand.name if stand.name == "the mixture" else _english(stand.name)
    return name, f"{answer.shape} {answer.value}", *(_span(event) for event in stand.events)


def _span(event: Event) -> str:
    if event.middle is None:
        return "not within 16 weeks" if event.low is None else f"from {event.low}, mostly not"
    high = "past 16 weeks" if event.high is None else str(event.high)
    return f"{event.middle} ({event.low} to {high})"


def _english(species: str) -> str:
    from swardbook.handbook.species import find_species

    return find_species(species).english


def _foot(made: SowWhen) -> list[str]:
    told = (
        f"{len(made.past_years)} past years of this site, a bare bed, no play for ten weeks;"
        " components are sown alone at their usual rates. The dates are the model's: a tug test"
        " and a look decide when it is mown."
    )
    if made.method.is_oversowing:
        told += " Oversown: cover and first mow are the old sward's, so only seedlings are told."
    if made.is_thin:
        told += " Few past years: the chances are rough."
    told += (
        f" A forecast to {made.forecast_to:%-d %B} takes the place of the first days."
        if made.forecast_to is not None
        else " No forecast: give one with --forecast."
    )
    return under("", told, 0)
