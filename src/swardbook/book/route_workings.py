"""How a route was reached: the count, the bands, the faults, each job's hours and money."""

from __future__ import annotations

from swardbook.book.opening import Book
from swardbook.book.route import RouteAnswer, route_answer
from swardbook.foundation.workings import Input, Workings
from swardbook.handbook.parameters import parameter
from swardbook.planning.routes import JobCost, RouteCost

_BANDS = ("route_oversow_from", "route_renovate_from", "drains_slowly", "thatch_act")


def route_workings(book: Book, zone: str) -> tuple[Workings, ...]:
    """Open the answer of a zone's route: first the choice, then what each route takes.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        The zone by name.
    """
    found = route_answer(book, zone)
    counted = () if found.keepers is None else (found.keepers.estimate.workings,)
    return (_choice(found), *counted, *(_cost(found, each) for each in found.costs))


def _choice(found: RouteAnswer) -> Workings:
    lines = []
    if found.band is not None:
        lines += [
            f"chance of the band of {route.value}: {100 * chance:.1f} %"
            for route, chance in found.band.chances.items()
        ]
    lines += [f"first: {each.words}" for each in found.faults]
    if found.lack is not None:
        lines.append(str(found.lack))
    return Workings(
        question=f"Mend {found.zone.name} or start again?",
        answer=found.advised.value if found.advised else "no route is advised",
        formula="grass worth keeping against the guide bands; its range read as normal on the log"
        " of the odds; drainage, thatch and light before any route",
        inputs=tuple(Input.of(key.replace("_", " "), parameter(key)) for key in _BANDS),
        arithmetic=tuple(lines),
        assumptions=("The bands are common practice, no source.",),
    )


def _cost(found: RouteAnswer, cost: RouteCost) -> Workings:
    keys = [f"route_weeks_{cost.route.key}", f"route_seed_{cost.route.key}"]
    keys += [
        f"route_{what}_{job.job.replace(' ', '_')}"
        for job in cost.jobs
        for what, own in (("hours", job.own_hours), ("money", job.own_money))
        if not own
    ]
    return Workings(
        question=f"What does {cost.route.value} take in {found.zone.name}?",
        answer=f"{cost.hours.low:.0f} to {cost.hours.high:.0f} h, {cost.money.low:,.0f} to"
        f" {cost.money.high:,.0f} {found.currency}",
        formula="area × times × rate of each job, ends added to ends; seed by rate, area and price",
        inputs=(
            Input("area", found.zone.area_m2, "m2", source="the zone"),
            *(Input.of(key.replace("_", " "), parameter(key)) for key in keys),
        ),
        arithmetic=(
            *(_job(job, found.currency) for job in cost.jobs),
            f"seed {cost.seed_kg.low:.1f} to {cost.seed_kg.high:.1f} kg:"
            f" {cost.seed_money.low:,.0f} to {cost.seed_money.high:,.0f} {found.currency}",
        ),
        assumptions=(
            "Slow days of all jobs together make the upper end; they seldom come together.",
        ),
    )


def _job(job: JobCost, currency: str) -> str:
    whose = f"own, {job.own_hours} past jobs" if job.own_hours else "handbook's default"
    return (
        f"{job.job} × {job.times:g}: {job.hours.low:.1f} to {job.hours.high:.1f} h ({whose}),"
        f" {job.money.low:,.0f} to {job.money.high:,.0f} {currency}"
    )
