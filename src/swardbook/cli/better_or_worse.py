"""``swardbook better-or-worse``: the whole ground's year, a sentence for each zone."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options
from swardbook.cli.picturing import check_places, picture_option, with_picture
from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from swardbook.book.better_or_worse import CountSeen, ZoneYear


@click.command()
@click.option("--zone", "-z", default="", help="Zone, by name; none: the whole ground.")
@click.option(
    "--species", default="annual meadow-grass", show_default=True, help="The weed to judge by."
)
@picture_option("one zone's counts over time, under the verdict on its year")
@door_options
def command(door: Door, zone: str, species: str, picture: Path | None) -> None:
    """Say of each zone in a sentence whether its year was better, holding or slipping.

    Same places, same season, same counter; what came before better or worse stands apart. With
    --zone every count is listed, and a change of counter breaks the line.
    """
    from swardbook.book.better_or_worse import NOTHING_PROMISED, ground_year
    from swardbook.book.count_sheet import read_kind
    from swardbook.book.pictures import draw_comparison
    from swardbook.foundation.errors import BadInputError
    from swardbook.observations.samples import Smallest

    if picture is not None and not zone:
        raise BadInputError("--picture", str(picture), "a picture of one zone's year, with --zone")
    check_places(picture)
    kind, least = read_kind(species), Smallest.customary()
    book = door.book()
    found = ground_year(book, kind, least, zone)
    lines: list[str] = []
    for each in found.zones:
        lines += [*_lines(each), *(_line_of_counts(each) if zone else []), ""]
    payload, lines = with_picture(
        picture,
        lambda: draw_comparison(book, zone, kind, least),
        {
            "species": kind,
            "zones": [_payload(each) for each in found.zones],
            "note": NOTHING_PROMISED,
        },
        [*lines, NOTHING_PROMISED],
    )
    door.show(payload, lines, book)


def _lines(each: ZoneYear) -> list[str]:
    from swardbook.foundation.dates import say

    review = each.review
    signs = "; ".join(f"{sign.words}, {say(sign.day)}" for sign in review.signs)
    told = (
        each.honest,
        each.earlier,
        f"Leading signs, apart from the verdict: {signs}." if signs else "",
        review.look_at,
        each.instead,
        *each.breaks,
    )
    return [
        *under(each.mark, each.sentence, 0),
        *(part for line in told if line for part in under("", line)),
    ]


def _line_of_counts(each: ZoneYear) -> list[str]:
    if not each.counts:
        return []
    told = ["  Counts, in order; only those of one season are compared:"]
    for count in each.counts:
        if count.broken:
            told.append("    - - -")
        told.append(f"    {_count_words(count)}")
    return told


def _count_words(count: CountSeen) -> str:
    from swardbook.foundation.dates import say

    who = f", by {', '.join(count.counters)}" if count.counters else ""
    where = "" if count.where == "zone" else f", {count.where}"
    return f"{say(count.day)}{where}: {count.words}{who}"


def _payload(each: ZoneYear) -> dict[str, Any]:
    from swardbook.cli.compare_payload import review_payload

    return {
        **review_payload(each.review),
        "sentence": each.sentence,
        "against_honest_squares": each.honest or None,
        "pair_before": each.earlier or None,
        "instead": each.instead or None,
        "counts": [
            {
                "day": count.day.isoformat(),
                "where": count.where,
                "counted_by": str(count.method),
                "counters": list(count.counters),
                "value": count.estimate.value,
                "interval_95": [count.estimate.interval.low, count.estimate.interval.high],
                "unit": count.estimate.unit,
                "line_broken": count.broken or None,
            }
            for count in each.counts
        ],
    }
