"""``swardbook water``: record a watering, or plan the days ahead."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options, entry_options, zone_told
from swardbook.cli.minding import mind, told_cautions
from swardbook.cli.recording import Recording, is_recording
from swardbook.cli.results import keep_options, show_answer
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from swardbook.planning.water_plan import WaterPlan


class WaterVerb(Recording):
    """Records when called alone."""

    module = "swardbook.cli.water"
    plans = ("plan",)


@click.group(cls=WaterVerb, invoke_without_command=True)
@click.option("--mm", default="", help="Depth; bare is mm.")
@click.option("--litres", default="", help="Litres, or '5 gal_uk'.")
@click.option("--minutes", default="", help="Minutes, or '2 h'; mm only where the rate is known.")
@click.option(
    "--by",
    default="",
    type=click.Choice(("", "hose", "can", "tank", "sprinkler")),
    show_choices=False,
    metavar="HOW",
    help="hose, can, tank or sprinkler.",
)
@click.option("--place", default="", help="seedbed, refills, or empty for the sward.")
@entry_options
@door_options
def command(
    door: Door, mm: str, litres: str, minutes: str, by: str, place: str, **said: Any
) -> None:  # fmt: skip
    """Record a watering by depth, litres or minutes; `water plan` looks at the days ahead."""
    if not is_recording():
        return
    from swardbook.book.diary import water_depth
    from swardbook.book.fields import quantity
    from swardbook.cli.keeping import answer, keep
    from swardbook.husbandry.happenings import Water

    what = Water(
        depth_mm=quantity(mm, "mm", "--mm") if mm else None,
        litres=quantity(litres, "l", "--litres") if litres else None,
        minutes=quantity(minutes, "min", "--minutes") if minutes else None,
        by=by,
        place=place,
    )
    book = door.book()
    entry = keep(door, book, what, said)
    depth = water_depth(book, entry)
    more = [f"That is {depth:.2g} mm over {entry.zone}."] if depth is not None and not mm else []
    answer(door, book, entry, more=more, payload={"depth_mm": depth})


@click.command()
@click.option("--here", multiple=True, metavar="NAME=DAYS:HOURS",
              help="Who is here: 'Ines=mon,wed:1.5', 'Bram=daily:0.5'.")  # fmt: skip
@click.option("--days", default=7, show_default=True, type=click.IntRange(1, 60),
              help="Days to look ahead.")  # fmt: skip
@click.option("--refills", default="", help="Only refills of this area; bare is m².")
@click.option("--forecast", type=click.Path(dir_okay=False, path_type=Path), default=None,
              metavar="FILE.csv", help="Forecast days, in the form of a weather file; none: what"
              " the book has after today.")  # fmt: skip
@zone_told("needed")
@keep_options
@door_options
def plan(
    door: Door, here: tuple[str, ...], days: int, refills: str, forecast: Path | None, zone: str,
    keeping: dict[str, str] | None,
) -> None:  # fmt: skip
    """Plan the water of the days ahead by the balance: depth, litres, minutes, and who is here.

    Days ahead go by the forecast as far as there is one, and by past years after it. A seedbed gets
    small doses, a grown sward one deep watering when it asks for it. Minutes of a
    sprinkler come from tins kept with `swardbook tins --keep`.
    """
    from swardbook.book.water_plan import kept_plan, water_plan_of

    if not zone:
        raise click.UsageError("Which zone? Say --zone NAME.")
    book = door.book()
    found = water_plan_of(book, zone, here, days, refills, forecast)
    show_answer(door, book, kept_plan(found), _payload(found), _lines(found), zone=zone,
                keeping=keeping)  # fmt: skip


def _lines(found: WaterPlan) -> list[str]:
    from swardbook.cli.output import table
    from swardbook.foundation.dates import say

    dry = "were it dry"
    if found.forecast_to is not None:
        dry = "less the rain forecast" + (", dry after" * (found.forecast_to < found.until))
    lines = under("", f"{found.zone}, {found.kind}, {found.area_m2:,.1f} m², to"
                      f" {say(found.until)}, {dry}; loss of a day by"
                      f" {found.usual_from}.", 0)  # fmt: skip
    if found.ready_mm is not None and found.depletion_mm is not None:
        lines += under("", f"Missing from the root zone {found.depletion_mm:.0f} mm; it can lose"
                           f" {found.ready_mm:.0f} mm without stress.", 0)  # fmt: skip
    if found.days:
        rows = [
            (f"{each.day:%a} {each.day.day} {each.day:%B}",
             f"{each.mm:.1f} ({each.low_mm:.1f}-{each.high_mm:.1f})", str(each.doses),
             f"{each.litres:,.0f}", "-" if each.tap_min is None else f"{each.tap_min:.0f}",
             f"{each.can_min:,.0f}", _who(each.who, each.is_covered))
            for each in found.days
        ]  # fmt: skip
        heads = ("day", "mm", "times", "litres", "tap min", "can min", "who")
        lines += ["", *table(heads, rows), ""]
        hours = "" if found.tap_hours is None else f", {found.tap_hours:.1f} h at the tap"
        lines += under("", f"In all {found.litres:,.0f} L{hours}.", 0)
    lines += _run_lines(found)
    for told in found.told:
        lines += under("-", told, 0)
    return [*lines, *mind("water")]


def _who(names: tuple[str, ...], is_covered: bool | None) -> str:
    if is_covered is None:
        return "?"
    if not names:
        return "nobody"
    return ", ".join(names) if is_covered else f"{', '.join(names)}, too short"


def _run_lines(found: WaterPlan) -> list[str]:
    run = found.run
    if run is None:
        return []
    lines = under("", f"Sprinkler, each setting: {run.plain_min:.0f} minutes by the mean of the"
                      f" tins; {run.run_min:.0f} with the multiplier 1/(0.4 + 0.6 x evenness) ="
                      f" {run.multiplier:.2f}, evenness being lowest quarter over mean. Dividing by"
                      " evenness outright over-waters.", 0)  # fmt: skip
    if run.turns is not None and run.turns > 1 and run.turn_min and run.soak_min:
        lines += under("", f"In {run.turns} turns of {run.turn_min:.0f} minutes, with"
                           f" {run.soak_min:.0f} minutes to soak in between.", 0)  # fmt: skip
    return lines


def _payload(found: WaterPlan) -> dict[str, Any]:
    from dataclasses import asdict

    run = found.run
    return {
        "zone": found.zone,
        "kind": found.kind,
        "area_m2": round(found.area_m2, 3),
        "until": found.until.isoformat(),
        "loss_of_a_day_from": found.usual_from,
        "forecast_to": found.forecast_to and found.forecast_to.isoformat(),
        "depletion_mm": _r(found.depletion_mm),
        "lost_without_stress_mm": _r(found.ready_mm),
        "hose_allowed": found.hose_allowed,
        "cans_can_carry_a_day": found.cans_carry,
        "litres": round(found.litres, 1),
        "tap_h": _r(found.tap_hours),
        "days": [
            {"day": each.day.isoformat(), "mm": _r(each.mm), "low_mm": _r(each.low_mm),
             "high_mm": _r(each.high_mm), "doses": each.doses, "litres": _r(each.litres),
             "tap_min": _r(each.tap_min), "can_min": _r(each.can_min), "who": list(each.who),
             "hours_here": each.hours_here, "covered": each.is_covered,
             "rain_taken_off_mm": _r(each.rain_mm)}
            for each in found.days
        ],
        "run": None if run is None else {
            **{name: _r(part) if isinstance(part, float) else part
               for name, part in asdict(run).items()},
            "convention": "lowest quarter over mean; multiplier 1/(0.4 + 0.6 x evenness)",
        },
        "told": list(found.told),
        "cautions": told_cautions("water"),
    }  # fmt: skip


def _r(number: float | None) -> float | None:
    return None if number is None else round(number, 3)
