"""``swardbook route``: mend a zone or start again, and the stale seedbed before sowing."""

from __future__ import annotations

import shlex
from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options, zone_told
from swardbook.cli.minding import mind_these, tell_these, with_cautions
from swardbook.cli.output import table
from swardbook.cli.results import keep_options, show_answer
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from swardbook.book.route import RouteAnswer, StaleSeedbed
    from swardbook.planning.routes import JobCost, RouteCost, Span


@click.group()
def command() -> None:
    """Weigh mending a zone against starting again, and look at a stale seedbed."""


@command.command()
@click.option("--creeping/--no-creeping", default=None,
              help="Creeping perennials stand throughout, or not; else by the count.")  # fmt: skip
@click.option("--jobs", is_flag=True, help="Show each route job by job.")
@zone_told("needed")
@keep_options
@door_options
def compare(
    door: Door, creeping: bool | None, jobs: bool, zone: str, keeping: dict[str, str] | None
) -> None:
    """Compare oversowing, hard renovation and starting again: hours, money, weeks, risk.

    Hours and money are those of your own past jobs where the diary has them.
    """
    if not zone:
        raise click.UsageError("Which zone? Say --zone NAME.")
    from swardbook.book.route import route_answer, route_as_answer
    from swardbook.foundation.errors import NotEnoughDataError

    book = door.book()
    found = route_answer(book, zone, creeping=creeping)
    payload, lines = _payload(found), _lines(found, with_jobs=jobs)
    if keeping is None:
        door.show(payload, lines, book)
        return
    try:
        answer = route_as_answer(found)
    except NotEnoughDataError as lack:
        told = {**payload, "kept_as": None}
        door.show(told, [*lines, "", *under("", f"Not kept. {lack}", 0)], book)
        return
    show_answer(door, book, answer, payload, lines, zone=zone, keeping=keeping)


@command.command("stale-seedbed")
@click.option("--zone", "-z", required=True, help="Zone, by name.")
@click.option("--lot", default="", help="The lot to be sown, for its last dates.")
@door_options
def stale_seedbed(door: Door, zone: str, lot: str) -> None:
    """Look at the flushes let up on bare ground, and whether there is time for another."""
    from swardbook.book.route import stale_seedbed as looked

    book = door.book()
    found = looked(book, zone, lot)
    door.show(*with_cautions(_seedbed(found), _seedbed_lines(found), "rake"), book)


def _lines(found: RouteAnswer, *, with_jobs: bool) -> list[str]:
    lines = under("", f"{found.zone.name}: {found.verdict}", 0)
    why = found.sentence.removesuffix("No route is advised yet.").strip()
    if found.lack is not None:
        why = why.replace(f"There is {found.lack.found}.", "").strip()
    lines += [*(under("", why, 0) if why else ()), ""]
    heads = ("Route", "Hours", found.currency, "Weeks out of use", "Risk of regret")
    lines += table(heads, [
        (each.route.value, _span(each.hours), _span(each.money), _span(each.weeks),
         _risk(found, each))
        for each in found.costs
    ])  # fmt: skip
    lines += ["", *under("", _basis(found), 0)]
    if found.weekly_hours:
        weeks = "; ".join(
            f"{each.route.value} {_span(each.hours.times(1 / found.weekly_hours))} weeks"
            for each in found.costs
        )
        lines += under("", f"At {found.weekly_hours:g} h a week: {weeks} of work.", 0)
    for each in found.costs:
        lines += under("-", _more(each))
    for old in found.closures:
        why = f" ({old.reason.rstrip('.')})" if old.reason else ""
        lines += under(
            "-", f"Closed before: {old.zone} {old.weeks:.0f} weeks{why}, winter and all."
        )
    if with_jobs:
        for each in found.costs:
            lines += ["", f"{each.route.value}:", *(_job(job, found.currency) for job in each.jobs)]
    lines += ["", *_end(found)]
    return lines


def _end(found: RouteAnswer) -> list[str]:
    lines = list[str]()
    record = shlex.join(["swardbook", "diary", "add", "treatment", "--zone", found.zone.name])
    lines += under(
        "", "Clearing by hand, turf cutter or cover needs no product. If a certified person uses"
        " one, record it as the law asks, with the label's waiting time as printed:", 0,
    )  # fmt: skip
    lines.append(f"  {record}")
    return [*lines, *mind_these(found.cautions)]


def _basis(found: RouteAnswer) -> str:
    own = {job.job for each in found.costs for job in each.jobs if job.own_hours}
    rest = {job.job for each in found.costs for job in each.jobs} - own
    told = f"Hours by your own past jobs: {', '.join(sorted(own))}. " if own else ""
    told += f"By the handbook's defaults [judged]: {', '.join(sorted(rest))}." if rest else ""
    return (
        f"{told} Ranges add the quick day of every job, and the slow one. Weeks out of use are"
        " growing weeks: what is sown late goes on in spring."
    )


def _more(each: RouteCost) -> str:
    barrows = f"{each.barrows} barrow{'s' * (each.barrows != 1)}"
    spoil = f"spoil {each.spoil_m3:.1f} m³ loose, {barrows}" if each.spoil_m3 else ""
    parts = [
        f"seed {_span(each.seed_kg)} kg",
        spoil,
        f"water {_span(each.water_m3)} m³ beyond rain",
    ]
    return f"{each.route.value}: {'; '.join(part for part in parts if part)}."


def _job(job: JobCost, currency: str) -> str:
    own = f", own ({job.own_hours})" if job.own_hours else ", default"
    return f"  {job.job} × {job.times:g}: {_span(job.hours)} h, {_span(job.money)} {currency}{own}"


def _risk(found: RouteAnswer, each: RouteCost) -> str:
    from swardbook.planning.routes import risk_word

    if found.band is None:
        return "don't know"
    chance = found.band.regret[each.route]
    return f"{risk_word(chance)} ({min(max(100 * chance, 1), 99):.0f} %)"


def _span(span: Span) -> str:
    digits = 0 if span.high >= 10 else 1
    low, high = (f"{end:,.{digits}f}".removesuffix(".0") for end in (span.low, span.high))
    return low if low == high else f"{low} to {high}"


def _payload(found: RouteAnswer) -> dict[str, Any]:
    share = found.keepers.estimate if found.keepers else None
    lack = found.lack
    return {
        "zone": found.zone.name,
        "verdict": found.verdict,
        "advised": found.advised.value if found.advised else None,
        "sentence": found.sentence,
        "not_enough_data": None if lack is None else {
            "question": lack.question, "needs": lack.needed, "there_is": lack.found,
        },
        "grass_worth_keeping_percent": share and round(share.value, 1),
        "grass_worth_keeping_low_percent": share and round(share.interval.low, 1),
        "grass_worth_keeping_high_percent": share and round(share.interval.high, 1),
        "counted_on": found.keepers.day.isoformat() if found.keepers else None,
        "creeping_throughout": found.creeping,
        "doubt": found.band.doubt if found.band else None,
        "first": [{"fault": each.what, "words": each.words} for each in found.faults],
        "currency": found.currency,
        "routes": [_cost(found, each) for each in found.costs],
        "closed_before": [
            {"zone": each.zone, "from": each.first.isoformat(), "weeks": round(each.weeks, 1),
             "reason": each.reason}
            for each in found.closures
        ],
        "cautions": tell_these(found.cautions),
    }  # fmt: skip


def _cost(found: RouteAnswer, each: RouteCost) -> dict[str, Any]:
    band = found.band
    return {
        "route": each.route.value,
        **_ends("hours", each.hours), **_ends("money", each.money),
        **_ends("weeks_out_of_use", each.weeks), **_ends("seed_kg", each.seed_kg),
        **_ends("seed_money", each.seed_money), **_ends("water_m3", each.water_m3),
        "spoil_m3": round(each.spoil_m3, 2), "barrows": each.barrows,
        "chance_of_its_band_percent": band and round(100 * band.chances[each.route], 1),
        "chance_of_regret_percent": band and round(100 * band.regret[each.route], 1),
        "jobs": [
            {"job": job.job, "times": job.times, **_ends("hours", job.hours),
             **_ends("money", job.money), "own_jobs_hours": job.own_hours,
             "own_jobs_money": job.own_money}
            for job in each.jobs
        ],
    }  # fmt: skip


def _ends(name: str, span: Span) -> dict[str, float]:
    return {name: round(span.middle, 2), f"{name}_low": round(span.low, 2),
            f"{name}_high": round(span.high, 2)}  # fmt: skip


def _seedbed_lines(found: StaleSeedbed) -> list[str]:
    from swardbook.foundation.dates import say

    flushes = "; ".join(f"{say(day)} {number:,.0f} a m²" for day, number in found.flushes)
    lines = under("", f"{found.zone}, opened {say(found.bare_since)}. Flushes: {flushes}.", 0)
    lines += under("-", "A smaller flush does not mean an empty seed bank, and one in August says"
                        " nothing of September's: no ratio is carried forward.")  # fmt: skip
    lines += under("-", f"Another flush would be up about {say(found.another_until)}.")
    for each in found.components:
        last = "last date not known" if each.last_day is None else f"last date {say(each.last_day)}"
        late = ": another flush costs its window" if each.species in found.too_late else ""
        lines += under("-", f"{each.species}: {last}{late}.")
    if not found.components:
        lines += under("-", "Say --lot CODE for the last sowing dates of what will be sown.")
    lines += under("-", "Rake the flush out shallow: deep work brings up new seed.")
    return lines


def _seedbed(found: StaleSeedbed) -> dict[str, Any]:
    return {
        "zone": found.zone,
        "opened_on": found.bare_since.isoformat(),
        "flushes": [{"day": day.isoformat(), "seedlings_per_m2": number}
                    for day, number in found.flushes],
        "another_flush_up_on": found.another_until.isoformat(),
        "components": [
            {"species": each.species, "last_day": each.last_day and each.last_day.isoformat(),
             "another_flush_costs_its_window": each.species in found.too_late}
            for each in found.components
        ],
    }  # fmt: skip
