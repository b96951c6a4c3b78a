"""``swardbook plots``: a trial as it happened, plot by plot."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options
from swardbook.cli.plot_size import size
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from swardbook.book.plot_records import PlotRow, PlotsRead
    from swardbook.book.plots_happened import PlotsShown
    from swardbook.husbandry.diary import DiaryEntry
    from swardbook.husbandry.ground import Plot

zone_option = click.option(
    "--zone", "-z", default="", help="Zone of the trial; none: the only one."
)
when_option = click.option("--when", "-w", default="today", show_default=True, metavar="DAY",
                           help="Day it happened.")  # fmt: skip
who_option = click.option("--who", default="", help="Who did or saw it.")
reason_option = click.option("--reason", default="", help="Why; kept with the plot.")


@click.group()
def command() -> None:
    """Record a trial plot by plot: sown, read, mixed up, left out, cared for; and show it."""


command.add_command(size)


@command.command()
@zone_option
@door_options
def show(door: Door, zone: str) -> None:
    """Show the plots as they stand, care that was not alike, and two readers' difference."""
    from swardbook.book.plots_happened import show_plots

    book = door.book()
    found = show_plots(book, zone)
    door.show(_payload(found), _lines(found), book)


@command.command()
@click.option("--used", "-u", multiple=True, metavar="LOT=WEIGHT",
              help="Seed used of a lot or mixture, if weighed; bare is g.")  # fmt: skip
@click.option("--note", default="", help="Anything else; kept as typed.")
@zone_option
@when_option
@who_option
@door_options
def sown(door: Door, zone: str, when: str, who: str, used: tuple[str, ...], note: str) -> None:
    """Record that the kept plan was sown, one entry for each lot. Then: swardbook square-up."""
    from swardbook.book.plots_happened import record_sown

    book = door.book()
    kept = record_sown(book, zone, when, _pairs(used, "--used", "LOT=WEIGHT"), who, note)
    lines = [part for entry in kept for part in under("", entry.note, 0)]
    door.show(_kept(kept), [*_kept_lines(kept), *lines,
                            "", "Weigh back what is left: swardbook square-up."], book)  # fmt: skip


@command.command("sown-as")
@click.argument("pairs", nargs=-1, required=True, metavar="PLOT=MIXTURE...")
@reason_option
@zone_option
@when_option
@who_option
@door_options
def sown_as(
    door: Door, pairs: tuple[str, ...], reason: str, zone: str, when: str, who: str
) -> None:
    """Put right plots that were sown with something else; planned and sown are both kept."""
    from swardbook.book.plots_happened import record_sown_as

    book = door.book()
    _show_plots(door, book, record_sown_as(book, zone, pairs, reason, when, who))


@command.command("leave-out")
@click.argument("plots", nargs=-1, required=True, metavar="PLOT...")
@click.option("--back", is_flag=True, help="Take them back in.")
@reason_option
@zone_option
@when_option
@who_option
@door_options
def leave_out(
    door: Door, plots: tuple[str, ...], back: bool, reason: str, zone: str, when: str, who: str
) -> None:
    """Leave plots out from a day on, with the reason; nothing read before is lost.

    A plot that died of its mixture stays in: that is a result.
    """
    from swardbook.book.plots_happened import leave_out as leave
    from swardbook.book.plots_happened import read_since

    book = door.book()
    made = leave(book, zone, plots, reason, when, who, back)
    since = made[0].left_out_from
    more = []
    if since is not None and read_since(book, made[0].zone, since):
        more = under("?", "Results from that day are in the book already. Out, with a reason and"
                          " its date; results are shown with and without it.", 0)  # fmt: skip
    _show_plots(door, book, made, more)


@command.command()
@click.argument("job")
@click.argument("plots", nargs=-1, required=True, metavar="PLOT...")
@click.option("--amount", default="", help="How much: 4 mm, 10 g/m2.")
@reason_option
@zone_option
@when_option
@who_option
@door_options
def care(
    door: Door, job: str, plots: tuple[str, ...], amount: str, reason: str, zone: str, when: str,
    who: str,
) -> None:  # fmt: skip
    """Record care that only some plots got: water, cut, feed ... PLOT may be 'block 2'."""
    from swardbook.book.plots_happened import record_care

    book = door.book()
    entry = record_care(book, zone, job, plots, when, amount, reason, who)
    door.show(_kept((entry,)), _kept_lines((entry,)), book)


@command.command()
@click.argument("pairs", nargs=-1, metavar="[PLOT=NUMBER]...")
@click.option("--trait", default="", help="quality, colour, sward height, clippings ...")
@click.option("--file", "sheet", type=click.Path(dir_okay=False, path_type=Path), default=None,
              help="A CSV sheet: a row for each plot, a column for each trait.")  # fmt: skip
@click.option("--counter", default="", help="Who read; --who if not said.")
@click.option("--placement", type=click.IntRange(1, 100), default=1, show_default=True,
              help="Which of several readings on a plot.")  # fmt: skip
@click.option("--occasion", default="", help="What it is called.")
@click.option("--note", default="", help="Anything else; kept as typed.")
@zone_option
@when_option
@who_option
@door_options
def read(
    door: Door, pairs: tuple[str, ...], trait: str, sheet: Path | None, counter: str,
    placement: int, occasion: str, note: str, zone: str, when: str, who: str,
) -> None:  # fmt: skip
    """Record ratings (1-9), heights or clippings of plots, typed or from a sheet.

    A blank is not read and never 0. What cannot be taken is kept as typed and used for nothing.
    """
    from swardbook.book.plot_records import keep_readings, read_plot_sheet, typed_readings
    from swardbook.cli.parked import parked_lines, parked_payload
    from swardbook.foundation.errors import BadInputError

    if (sheet is None) == (not pairs) or (pairs and not trait):
        raise BadInputError("the readings", "", "--trait with PLOT=NUMBER, or --file")
    book, reader = door.book(), counter or who
    if sheet is not None:
        found = read_plot_sheet(book, zone, sheet, reader)
    else:
        found = typed_readings(book, zone, trait, pairs, reader, placement)
    kept = keep_readings(book, found, when, occasion, {"who": who, "note": note})
    lines = _kept_lines(kept.entries)
    lines += [part for row in found.rows for part in under("", _row_words(row))]
    lines += [part for each in kept.asked for part in under("?", each.text)]
    lines += parked_lines(kept.parked)
    payload = {**_kept(kept.entries), "understood": _rows(found),
               "parked": [parked_payload(each) for each in kept.parked]}  # fmt: skip
    door.show(payload, lines, book)


def _row_words(row: PlotRow) -> str:
    return f"{row.where}: {'; '.join(row.words)}"


def _show_plots(door: Door, book: Any, plots: tuple[Plot, ...], more: Any = ()) -> None:
    from swardbook.book.plots_happened import plot_words
    from swardbook.husbandry.codec import to_plain

    lines = [f"Kept: {plot.name}, {plot_words(plot)}." for plot in plots]
    door.show({"plots": [to_plain(plot) for plot in plots]}, [*lines, *more], book)


def _kept(kept: tuple[DiaryEntry, ...]) -> dict[str, Any]:
    from swardbook.cli.telling import short_id
    from swardbook.husbandry.codec import plain_entry

    return {"entries": [{**plain_entry(each), "short_id": short_id(each)} for each in kept]}


def _kept_lines(kept: tuple[DiaryEntry, ...]) -> list[str]:
    from swardbook.cli.telling import short_id, tell

    return [f"Kept {short_id(entry)}: {tell(entry)}" for entry in kept]


def _pairs(texts: tuple[str, ...], option: str, allowed: str) -> dict[str, str]:
    from swardbook.foundation.errors import BadInputError

    found = {}
    for text in texts:
        name, sign, held = text.partition("=")
        if not sign:
            raise BadInputError(option, text, allowed)
        found[name] = held
    return found


def _rows(found: PlotsRead) -> list[dict[str, Any]]:
    return [{"where": row.where, "understood": list(row.words)} for row in found.rows]


def _lines(found: PlotsShown) -> list[str]:
    from swardbook.book.plots_happened import plot_words
    from swardbook.cli.output import table
    from swardbook.foundation.dates import say

    sown = f"sown {say(found.sown_on)}" if found.sown_on else "not sown yet"
    lines = [f"{found.zone}: {len(found.plots)} plots, {sown}.", ""]
    treated = any(plot.treatment for plot in found.plots)
    rows = [
        (plot.name, plot.mixture, *((plot.treatment,) if treated else ()), plot_words(plot))
        for plot in found.plots
    ]
    lines += table(("plot", "mixture", *(("gets",) if treated else ()), "state"), rows)
    lines += ["", "Care since sowing:"]
    for job in found.care:
        lines += under("✓" if job.is_even else "✗", f"{job.words}.")
    if not found.care:
        lines += under("", "none in the diary.")
    for trait, day, read, missing in found.read:
        lost = f", {missing} not read" if missing else ""
        lines += under("-", f"{say(day)}: {trait} on {read} plots{lost}.")
    for each in found.readers:
        lines += under("-", f"{each.words}.")
    return lines


def _payload(found: PlotsShown) -> dict[str, Any]:
    from swardbook.husbandry.codec import to_plain

    return {
        "zone": found.zone,
        "sown_on": found.sown_on.isoformat() if found.sown_on else None,
        "plots": [{**to_plain(plot), "mixture": plot.mixture} for plot in found.plots],
        "care": [
            {"job": job.job, "even": job.is_even, "times": job.times, "words": job.words}
            for job in found.care
        ],
        "read": [
            {"trait": trait, "day": day.isoformat(), "plots": read, "not_read": missing}
            for trait, day, read, missing in found.read
        ],
        "two_readers": [
            {"trait": each.trait, "first": each.first, "second": each.second,
             "plots": each.change.n, "difference": round(each.change.mean, 3),
             "low": round(each.change.interval(0.95).low, 3),
             "high": round(each.change.interval(0.95).high, 3), "words": each.words}
            for each in found.readers
        ],
    }  # fmt: skip
