"""Programmes, and the search for one, in words."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from swardbook.cli.look_ahead_words import span, way
from swardbook.cli.output import table
from swardbook.cli.wrapping import heading, under
from swardbook.foundation.dates import say

if TYPE_CHECKING:
    from swardbook.book.programmes import Edited, KeptProgramme
    from swardbook.book.searching import ZoneSearch
    from swardbook.model.programmes import Programme
    from swardbook.model.search import Point


def list_lines(found: Sequence[KeptProgramme]) -> list[str]:
    """Write the programmes in lines."""
    lines: list[str] = []
    for each in found:
        whose = f"yours, version {each.version}" if each.is_own else "handbook"
        lines += [f"{each.programme.name}  ({each.programme.key}; {whose})"]
        lines += under("", each.programme.says)
        lines += under("", _short(each.programme))
    return [*lines, "", "See one in full: swardbook programme show NAME."]


def show_lines(found: KeptProgramme) -> list[str]:
    """Write one programme in lines, every field with its unit."""
    from swardbook.book.programmes import FIELDS, UNITS

    plan = found.programme
    lines = heading(f"{plan.name} ({plan.key}), version {found.version}")
    if found.kept_on:
        lines.append(f"Yours, kept on {say(found.kept_on)}.")
    lines += [*under("", plan.says, 0), ""]
    rows = [(name, _field(getattr(plan, name), name), UNITS.get(name, "")) for name in FIELDS[2:]]
    return [*lines, *table(("field", "value", "unit"), rows)]


def edited_lines(made: Edited) -> list[str]:
    """Say what was kept, what changed, and where it may not be worked."""
    from swardbook.book.programmes import FIELDS

    now, before = made.now.programme, made.before.programme
    lines = [f"Kept: {now.name}, version {made.now.version}; the one before stays."]
    for name in FIELDS:
        old, new = getattr(before, name), getattr(now, name)
        if old != new:
            lines += under("-", f"{name}: {_field(old, name)} before, now {_field(new, name)}", 0)
    for zone, broken in made.not_in.items():
        lines += under("", f"Not for {zone}: {'; '.join(map(str, broken))}.", 0)
    return [*lines, f"Compare: swardbook look-ahead --zone ZONE --programme '{now.name}'"]


def search_lines(found: ZoneSearch) -> list[str]:
    """Write a search in lines: the best for the hours, the curve, the arithmetic of hours."""
    lines = heading(f"{found.zone}: the best programme for the hours, {found.label}")
    lines += _best(found)
    if found.curve.points:
        lines += ["", *_curve(found), "", *_arithmetic(found)]
    for note in found.notes:
        lines += under("", f"Note: {note}.", 0)
    if found.asked is not None:
        lines += ["", "Keep it, to compare it with others in a look-ahead:", _to_keep(found)]
    return lines


def _to_keep(found: ZoneSearch) -> str:
    assert found.asked is not None
    plan = found.asked.best.plan
    names = ("cut_days", "box", "verticut_days", "verticut_depth_mm", "verticut_lines_deg",
             "pull_hours_week", "refills", "nitrogen_g_m2_year", "feeds", "water_mm")  # fmt: skip
    told = {name: _field(getattr(plan, name), name).replace(", ", ",") for name in names}
    told["verticut_lines_deg"] = told["verticut_lines_deg"].replace("none", "")
    sets = " ".join(f"--set '{name}={held}'" for name, held in told.items())
    return f"swardbook programme edit cut_only --as 'For {found.zone}' {sets}"


def _best(found: ZoneSearch) -> list[str]:
    if found.hours is None:
        return under("", "Hours: not said; give --hours for a best. The curve stands below.", 0)
    if found.asked is None:
        least = found.curve.least_hours
        return under(
            "", f"{found.hours:g} hours a week suffice for no programme; the cheapest takes about"
            f" {least:.2g}.", 0,
        )  # fmt: skip
    best = found.asked.best
    text = (
        f"Within {found.hours:g} hours a week in season, for this zone alone: {_short(best.plan)}"
        f" It takes about {best.hours_week:.1f} and likely leaves {span(found.asked.left)}"
        f" {_unit(found)} by next {found.by_month}."
    )
    made = found.against_recorded
    if made is not None and found.recorded is not None and found.recorded_hours is not None:
        text += (
            f" The way recorded so far takes {found.recorded_hours:.1f} and likely leaves"
            f" {span(found.recorded)}: {way(made)}{made.verdict.value}."
        )
    return under("", text, 0)


def _curve(found: ZoneSearch) -> list[str]:
    from swardbook.book.trade_off import adds_nothing

    heads = ("hours", "takes", "left", "fine in", "against fewer hours", "pulling")
    points = list(found.curve.points)
    while len(points) > 1 and adds_nothing(points[-1]):
        points.pop()
    lines = [f"Hours a week against annual meadow-grass left, {_unit(found)}, likely range."]
    lines += table(heads, [_row(each) for each in points])
    if points and len(points) < len(found.curve.points):
        lines += under("", f"Above {points[-1].hours:g} hours nothing better was found.", 0)
    return [*lines, *under(
        "", f"Tried: {found.curve.tried} programmes, chosen and told on the same {found.draws}"
        " draws and weather, so a little flattered. Fine in: draws in 10 within what is fine"
        f" there, {100 * found.tolerance:g} % of the ground.", 0,
    )]  # fmt: skip


def _row(point: Point) -> tuple[str, ...]:
    made, plan = point.against_fewer, point.best.plan
    return (
        f"{point.hours:g}",
        f"{point.best.hours_week:.1f}",
        span(point.left),
        f"{round(10 * point.inside)} in 10",
        "-" if made is None else f"{way(made)}{made.verdict.value}",
        f"{plan.pull_hours_week:g} h" if plan.pull_hours_week else "none",
    )


def _arithmetic(found: ZoneSearch) -> list[str]:
    """Say at how many hours the range falls inside what is fine, or that none tried does."""
    enough, most = found.curve.enough_hours, max(each.hours for each in found.curve.points)
    fine = f"{100 * found.tolerance:g} % of the ground"
    if enough is None:
        return under(
            "", f"No hours up to {most:g} a week bring the likely range within {fine} by next"
            f" {found.by_month}: by work alone it is not finished in a year.", 0,
        )  # fmt: skip
    word = "hour" if enough == 1 else "hours"
    told = f"From about {enough:g} {word} a week the likely range lies within {fine}"
    if found.hours is not None and enough > found.hours:
        told += f": {enough - found.hours:g} more than the {found.hours:g} asked about"
    return under("", f"{told}.", 0)


def _short(plan: Programme) -> str:
    fine, lawn = plan.cut_days[0], plan.cut_days[-1]
    every = f"{fine:g} days" if fine == lawn else f"{fine:g} days on fine turf, {lawn:g} on lawns"
    parts = [f"cut every {every}", f"box {plan.box.value}"]
    if plan.verticut_days:
        parts.append(f"verticut every {plan.verticut_days:g} days")
    if plan.pull_hours_week:
        parts.append(f"pull {plan.pull_hours_week:g} h a week")
    if plan.refills:
        parts.append("refill gaps")
    if plan.nitrogen_g_m2_year:
        parts.append(f"{plan.nitrogen_g_m2_year:g} g N a m² in {plan.feeds} feeds")
    return f"{', '.join(parts)}."


def _field(held: object, name: str) -> str:
    if isinstance(held, bool):
        return "yes" if held else "no"
    if isinstance(held, tuple):
        return ", ".join(f"{each:g}" for each in held) or "none"
    if held is None and name == "height_of_cut_mm":
        return "the zone's own"
    return f"{held:g}" if isinstance(held, int | float) else str(held)


def _unit(found: ZoneSearch) -> str:
    return "plants a m²" if found.by_plants else "% of the ground"
