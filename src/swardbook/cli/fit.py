"""Fit today? Each job with each condition."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options
from swardbook.cli.minding import mind_these, tell_these
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from swardbook.planning.fit import Fit


@click.command()
@click.argument("job", default="")
@click.option("--zone", "-z", default="", help="Zone, by name; none: every zone.")
@door_options
def command(door: Door, job: str, zone: str) -> None:
    """Tell whether it is fit today: each JOB, or one, with each condition and its record.

    JOB is cut, verticut, scarify, tine, dress, brush, pull, "dig clumps", sow, oversow, feed,
    water, roll, feet or play.
    """
    from swardbook.book.plan import cautions_today, fits

    book = door.book()
    found = fits(book, zone, job)
    lines = _detail(found) if job or zone else _grid(found)
    lines += ["", "✓ met or fit   ✗ not met or not fit   ? don't know: look first"]
    if zone:
        lines += [f"How it was reached: swardbook workings fit --zone '{found[0].zone}'"]
    jobs = list(dict.fromkeys(each.job for each in found)) if job else []
    minded = cautions_today(book, zone, jobs[0]) if jobs else ()
    lines += mind_these(minded)
    told = [_payload(each) for each in found]
    one = told[0] if zone and job else {"zone": told[0]["zone"]} if zone else {}
    told_all = {**one, "fit": told, **({"cautions": tell_these(minded)} if jobs else {})}
    door.show(told_all, lines, book)


def _payload(fit: Fit) -> dict[str, Any]:
    return {
        "zone": fit.zone,
        "job": fit.job,
        "overall": fit.overall.value,
        "loses_to": fit.loses_to,
        "waits_for": list(fit.waits_for),
        "note": fit.note,
        "conditions": [
            {
                "name": each.name,
                "state": each.state.value,
                "because": each.because,
                "source": each.source,
                "threshold": each.threshold,
                "rule": each.rank.value,
                "blocks": each.blocks,
                "until": each.until,
            }
            for each in fit.conditions
        ],
    }


def _grid(found: list[Fit]) -> list[str]:
    """Show all jobs of all zones as marks, and under each zone what stops most."""
    lines: list[str] = []
    for zone in dict.fromkeys(each.zone for each in found):
        here = [each for each in found if each.zone == zone]
        lines += [zone]
        for word in type(here[0].overall):
            jobs = [each.job for each in here if each.overall is word]
            lines += under(word.shape, f"{word.value}: {', '.join(jobs)}") if jobs else []
        lines += [""]
    return [*lines, "One zone in full: swardbook fit --zone NAME"]


def _detail(found: list[Fit]) -> list[str]:
    lines: list[str] = []
    one_job = len({each.job for each in found}) == 1
    for each in found:
        lines += under(each.overall.shape, f"{each.job}, {each.zone}: {each.overall.value}", 0)
        if one_job:
            for each_condition in each.conditions:
                source = f" [{each_condition.source}]" if each_condition.source else ""
                told = f"{each_condition.name}: {each_condition.state.value}; "
                lines += under(each_condition.state.shape,
                               f"{told}{each_condition.because}{source}")  # fmt: skip
            lines += under("", each.note) if each.note else []
        else:
            for condition in each.deciding[:2]:
                lines += under(condition.state.shape, f"{condition.name}: {condition.because}")
        if each.waits_for:
            lines += under("", f"Next fit when: {'; '.join(each.waits_for[:2])}.")
    return lines
