"""`swardbook sow when` and `sow watch`: before the sowing, and while it comes up."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options, zone_told
from swardbook.cli.minding import with_cautions
from swardbook.cli.output import table
from swardbook.cli.own_sowings import own_lines, own_payload
from swardbook.cli.progressing import at_once, progress
from swardbook.cli.results import keep_options, show_answer
from swardbook.cli.sow_watch import watch
from swardbook.cli.wrapping import heading, under

if TYPE_CHECKING:
    from swardbook.book.oversowing import Present
    from swardbook.book.sow_when import Event, SowingDay, SowWhen, Stand
    from swardbook.model.prospects import Range
    from swardbook.planning.states import Condition


__all__ = ["watch", "when"]
MIXTURE = "the mixture"


@click.command()
@click.option("--what", default="", metavar="LOT",
              help="A lot, its name or a kind of mixture; else the mixture kept for the zone"
              " since it was sown, or what was sown last.")  # fmt: skip
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
@zone_told("needed")
@keep_options
@door_options
def when(door: Door, zone: str, keeping: dict[str, str] | None, **given: Any) -> None:
    """Say by date how likely seedlings, cover and a first mow are, and go, wait or too late.

    Every past year of the site is run from each sowing on, each component alone and the mixture as
    it is; a forecast, where there is one, takes the place of its first days.
    """
    at_once("sowing days looked at under past weather")
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
    made = sow_when(book, asked, progress())
    payload, lines = with_cautions(_payload(made), _lines(made), "sow")
    show_answer(door, book, when_answer(made), payload, lines, zone=made.zone, keeping=keeping)


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
        "kept_damp": made.is_watered,
        "present": None if made.present is None else _present(made.present),
        "withheld": made.withheld,
        "own_sowings": own_payload(made.own),
        "weighed_by_own_sowings": made.own.is_used,
    }


def _present(found: Present) -> dict[str, Any]:
    return {
        "sown_percent": _percent(found.sown), "bare_percent": _percent(found.bare),
        "annual_meadow_grass_percent": _percent(found.weed), "rests_on": found.rests_on,
        "scarified_on_the_day": found.is_scarified, "grow_as_relatives": list(found.merged),
    }  # fmt: skip


def _percent(found: Range) -> dict[str, float]:
    return {"low": round(100 * found.at80.low, 1), "middle": round(100 * found.median, 1),
            "high": round(100 * found.at80.high, 1)}  # fmt: skip


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
        "seed_adds_percent": None if stand.added is None else _percent(stand.added),
    }  # fmt: skip


def _event(event: Event) -> dict[str, Any]:
    return {
        "event": event.name,
        "days_low": event.low, "days_middle": event.middle, "days_high": event.high,
        "chance_by": round(event.by, 3),
        "chance_after_weeks": list(event.chances),
        "chance_by_without_seed": None if event.without is None else round(event.without, 3),
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
    lines += ["", f"Sown {say(first.day)}, each component:"]
    for stand in first.components:
        found = stand.answer
        lines += under(found.answer.shape, f"{_english(stand.name)}: {found.answer.value};"
                                           f" {found.because}.")  # fmt: skip
    lines += _standing(made)
    lines += ["", f"Chances by the day beside each sowing, {made.method.value}:"]
    heads = ("sown", "", "by", *(event.name for event in first.mixture.events))
    lines += table(heads, [_row(each) for each in made.days])
    lines += ["", f"Sown {say(first.day)}, days until, middle case (four in five):"]
    names = ("", "", *(event.name for event in first.mixture.events))
    lines += table(names, [_span_row(stand) for stand in _apart(first)])
    return [*lines, *own_lines(made.own, "chances"), "", *_foot(made)]


def _standing(made: SowWhen) -> list[str]:
    """Say what stands there, and what the seed adds to it; or why that is not told."""
    if made.withheld:
        return ["", *under("?", f"Only seedlings are told. {made.withheld}", 0)]
    here = made.present
    if here is None:
        return []
    told = (
        f"{made.zone} tonight: sown grass {_share(here.sown)}, bare {_share(here.bare)}, annual"
        f" meadow-grass {_share(here.weed)} ({here.rests_on})."
    )
    if here.is_scarified:
        told += " It is taken as scarified on the day."
    if here.merged:
        names = ", ".join(_english(each) for each in here.merged)
        told += f" {names} are taken to grow as their nearest relative here."
    lines = ["", *under("", told, 0)]
    for stand in _apart(made.days[0]):
        if stand.added is not None:
            name = "The mixture" if stand.name == MIXTURE else _english(stand.name)
            lines += under("·", f"{name}, {stand.rate_g_m2:g} g/m²: the seed adds"
                                f" {_share(stand.added)} of sown grass by"
                                f" {made.days[0].by.day} {made.days[0].by:%B}.")  # fmt: skip
    return lines


def _apart(day: SowingDay) -> tuple[Stand, ...]:
    """Give the mixture and its components; only the whole where it is one grass."""
    return (day.mixture, *(day.components if len(day.components) > 1 else ()))


def _share(found: Range) -> str:
    low, high = found.at80
    return f"{100 * found.median:.0f} % ({100 * low:.0f} to {100 * high:.0f})"


def _row(each: SowingDay) -> tuple[str, ...]:
    answer = each.mixture.answer.answer
    chances = (_chance(event) for event in each.mixture.events)
    day, by = (f"{part.day} {part:%b %Y}" for part in (each.day, each.by))
    return day, f"{answer.shape} {answer.value}", by, *chances


def _chance(event: Event) -> str:
    bare = "" if event.without is None else f" ({100 * event.without:.0f} without seed)"
    return f"{100 * event.by:.0f} %{bare}"


def _span_row(stand: Stand) -> tuple[str, ...]:
    answer = stand.answer.answer
    name = stand.name if stand.name == MIXTURE else _english(stand.name)
    return name, f"{answer.shape} {answer.value}", *(_span(event) for event in stand.events)


def _span(event: Event) -> str:
    if event.middle == 0 and event.high == 0:
        return "there already"
    if event.middle is None:
        return "not within 16 weeks" if event.low is None else f"from {event.low}, mostly not"
    high = "past 16 weeks" if event.high is None else str(event.high)
    return f"{event.middle} ({event.low} to {high})"


def _english(species: str) -> str:
    from swardbook.handbook.species import find_species

    return find_species(species).english


def _foot(made: SowWhen) -> list[str]:
    damp = "kept damp for the first weeks" if made.is_watered else "watered by rain alone"
    told = f"{len(made.past_years)} past years of this site, "
    if made.present is not None:
        told += (
            f"the present sward mown to its height on the day, then weekly, {damp}. Seedlings are"
            " told as in a bed; cover is of all sown grass, old and new; first mow is when a third"
            " has grown on top; go gently once seedlings show. Each component is sown alone at its"
            " usual oversowing rate. "
        )
    else:
        told += (
            f"a bare bed, {damp}, no play for ten weeks; components are sown alone at their usual"
            " rates. "
        )
    told += "The dates are the model's: a tug test and a look decide when it is mown."
    if made.is_thin:
        told += " Few past years: the chances are rough."
    told += (
        f" The forecast tells the days to {made.forecast_to:%-d %B}, past years those after."
        if made.forecast_to is not None
        else " No forecast in the book: give one with --forecast."
    )
    return under("", told, 0)
