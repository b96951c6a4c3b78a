"""The seeding clock of a zone."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from swardbook.planning.clock import SeedingClock
    from swardbook.planning.cut_gaps import GapAnalysis


@click.command()
@click.option("--zone", "-z", default="", help="Zone, by name; none: every zone.")
@door_options
def command(door: Door, zone: str) -> None:
    """Tell how long heads have stood, against the limit, and how the answer hangs on it."""
    from swardbook.book.plan import clocks

    book = door.book()
    found = clocks(book, zone)
    lines: list[str] = []
    for each in found:
        lines += [*_lines(each), ""]
    if found:
        lines += [f"How it was reached: swardbook workings clock --zone '{found[0].zone}'"]
    told = [_payload(each) for each in found]
    door.show({**(told[0] if zone else {}), "clocks": told}, lines, book)


def _payload(clock: SeedingClock) -> dict[str, Any]:
    left, full = clock.last_left, clock.last_full
    return {
        "zone": clock.zone,
        "state": clock.state.value,
        "because": clock.because,
        "heads_began_on": clock.heads_began.isoformat() if clock.heads_began else None,
        "heads_last_left_on": left.day.isoformat() if left else None,
        "reset": left.reset.value if left else None,
        "share_without_heads": None if left is None or left.share is None else round(left.share, 2),
        "heads_last_surely_left_on": full.day.isoformat() if full else None,
        "degree_days": _round(clock.degree_days),
        "degree_days_since_surely_left": _round(clock.degree_days_full),
        "working_limit_days": clock.working.days,
        "working_limit_degree_days": clock.working.degree_days,
        "default_limit_days": clock.longest.days,
        "default_limit_degree_days": clock.longest.degree_days,
        "days_in_hand": _round(clock.days_in_hand),
        "days_past": clock.days_past,
        "days_without_weather": clock.days_without_weather,
        "gaps": _gaps_payload(clock.gaps),
    }


def _gaps_payload(gaps: GapAnalysis | None) -> dict[str, Any] | None:
    if gaps is None:
        return None
    return {
        "from": gaps.first.isoformat(),
        "to": gaps.last.isoformat(),
        "verdict": gaps.verdict or None,
        "reason": gaps.reason,
        "gaps_days": [gap.days for gap in gaps.gaps],
        "cuts": gaps.cuts,
        "boxed": gaps.boxed,
        "unboxed": gaps.unboxed,
        "not_said": gaps.not_said,
        "exposed_days_by_clock": {f"{each.clock_days:g}": each.exposed_days
                                  for each in gaps.what_if},
        "exposed_days_by_clock_boxed_cuts_only": {f"{each.clock_days:g}": each.exposed_days
                                                  for each in gaps.what_if_boxed},
        "incomplete_months": list(gaps.incomplete_months),
    }  # fmt: skip


def _lines(clock: SeedingClock) -> list[str]:
    lines = under(clock.state.shape, f"{clock.zone}: {clock.state.value}", 0)
    lines += under("", clock.because)
    if clock.degree_days is not None:
        used = f"{clock.degree_days:.0f} °C d of warmth since"
        lines += under(
            "", f"{used}; {clock.working.name} {clock.working.degree_days:.0f}"
            f" ({clock.working.days:g} days' worth), default {clock.longest.degree_days:.0f}"
            f" ({clock.longest.days:g} days' worth).",
        )  # fmt: skip
    if clock.hint is not None:
        reached = clock.hint.reached_on
        when = f"about {reached.day} {reached:%B}" if reached else "not yet"
        told = f"A hint only: by warmth heads typically begin {when} here."
        lines += under("", told)
    return lines + _gap_lines(clock)


def _gap_lines(clock: SeedingClock) -> list[str]:
    gaps = clock.gaps
    if gaps is None or not gaps.cuts or not clock.is_running:
        return []
    lines = []
    if gaps.verdict:
        lines += under("", f"Gaps between cuts: {gaps.verdict}; {gaps.reason}.")
    elif gaps.what_if:
        parts = ", ".join(f"{each.clock_days:g} days {each.exposed_days:g}"
                          for each in gaps.what_if)  # fmt: skip
        lines += under("", f"Exposed days this season, by the clock chosen: {parts}.")
        if gaps.what_if_boxed != gaps.what_if:
            parts = ", ".join(
                f"{each.clock_days:g} days {each.exposed_days:g}" for each in gaps.what_if_boxed
            )
            lines += under("", f"By boxed cuts alone: {parts}.")
        if gaps.reason:
            lines += under("", f"{gaps.reason[0].upper()}{gaps.reason[1:]}.")
    boxed = f"Boxed {gaps.boxed} of {gaps.cuts} cuts"
    unsaid = f", {gaps.not_said} not said" if gaps.not_said else ""
    return [*lines, *under("", f"{boxed}{unsaid}. How many seeds fell nobody can tell from this.")]


def _round(number: float | None) -> float | None:
    return None if number is None else round(number, 1)
