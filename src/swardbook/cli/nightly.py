"""``swardbook nightly``: the night's round of all lawns, on this machine or on a cluster."""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, clock_now, door_options
from swardbook.cli.progressing import progress

if TYPE_CHECKING:
    from swardbook.book.nightly import NightRun, ZoneAhead

MARKS = {"better": "■", "holding": "◧", "slipping": "□", "cannot say": "?"}


@click.command()
@click.option("--processes", default=None, type=click.IntRange(1, 256),
              help="How many at once on this machine. [default: one for each core]")  # fmt: skip
@click.option("--cluster", default="", metavar="ADDRESS",
              help="Spread it over the workers of a Dask scheduler, such as"
              " tcp://127.0.0.1:8786; 'here' begins a cluster on this machine.")  # fmt: skip
@click.option("--last", is_flag=True, help="Only show what the last nights found of next year.")
@click.option("--most", default=20, show_default=True, type=click.IntRange(1, 100_000),
              help="How many zones and faults to show; --json gives all.")  # fmt: skip
@door_options
def command(door: Door, processes: int | None, cluster: str, last: bool, most: int) -> None:
    """Look over every lawn for the morning: stage, what needs a look, the week, next year.

    A look-ahead is worked out anew each week where the records are enough, and at once after an
    entry where there are few lawns. What can be stopped at any time goes on with the rest when it
    is run again. A lawn that cannot be looked over is named and stops no other; the exit code is
    1 then. Workers of another kind than this machine's are given nothing, for their figures could
    differ in the last digits.
    """
    from swardbook.book.nightly import Means, looked_ahead, nightly
    from swardbook.book.workers import spread_over

    book = door.any_book()
    if last:
        ahead = looked_ahead(book)
        door.show(_ahead_payload(ahead), _ahead_lines(ahead, most), book)
        return
    many = processes or os.cpu_count() or 1
    with spread_over(book.settings, cluster, many) as (spread, refused):
        means = Means(
            spread, f"nightly {os.getpid()}", clock_now, tell=_each_second(progress()),
            is_here=cluster in {"", "here"},
        )  # fmt: skip
        run = nightly(book, means, refused)
    ahead = looked_ahead(book)
    payload = _payload(run) | _ahead_payload(ahead)
    door.show(payload, [*_lines(run, most), "", *_ahead_lines(ahead, most)], book)
    if not run.is_well:
        click.get_current_context().exit(1)


def _each_second(tell: Any) -> Any:
    """Tell no more than once a second."""
    from time import monotonic

    told = [0.0]

    def at_most(words: str) -> None:
        if monotonic() - told[0] >= 1:
            told[0] = monotonic()
            tell(words)

    return at_most


def _payload(run: NightRun) -> dict[str, Any]:
    return {
        "day": run.day.isoformat(),
        "lawns": run.lawns,
        "looked_over": run.looked,
        "looked_over_before": run.before,
        "looked_ahead": run.ahead,
        "leases_lost": run.lost,
        "faults": [{"ground": each.ground, "reason": each.reason} for each in run.faults],
        "workers_refused": list(run.refused),
    }


def _ahead_payload(ahead: Sequence[ZoneAhead]) -> dict[str, Any]:
    return {
        "zones_ahead": [
            {
                "ground": each.ground, "zone": each.zone, "for": each.day, "next_year": each.year,
                "rests_on": each.label or None, "missing": each.short or None,
            }
            for each in ahead
        ]
    }  # fmt: skip


def _lines(run: NightRun, most: int) -> list[str]:
    lines = [f"Looked over {run.looked} of {run.lawns} lawns, looked ahead for {run.ahead}."]
    if run.before:
        lines.append(f"{run.before} had been looked over before, for the same day.")
    if run.lost:
        lines.append(f"{run.lost} were begun again: whoever worked on them was gone.")
    lines += [
        f"{each.ground} could not be looked over: {each.reason}" for each in run.faults[:most]
    ]
    if (more := len(run.faults) - most) > 0:
        lines.append(f"{more} more could not; swardbook jobs list --failed names them.")
    lines += [f"A worker was given nothing. {each}" for each in run.refused]
    return lines


def _ahead_lines(ahead: Sequence[ZoneAhead], most: int) -> list[str]:
    if not ahead:
        return ["No zone was looked ahead for yet."]
    counts = Counter("not enough data" if each.short else each.year for each in ahead)
    told = ", ".join(f"{MARKS.get(year, '?')} {year} {many}" for year, many in counts.items())
    lines = [f"Next year, of {len(ahead)} zones: {told}."]
    slipping = [each for each in ahead if each.year == "slipping"]
    lines += [f"□ slipping: {each.ground}, {each.zone}" for each in slipping[:most]]
    if (more := len(slipping) - most) > 0:
        lines.append(f"{more} more are slipping; --json lists them.")
    return lines
