"""Compare two seasons, treated ground with the honest strip, strips, refills and pull passes."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.compare_payload import (
    compared_payload,
    pulls_payload,
    review_payload,
    shares_payload,
)
from swardbook.cli.doors import Door, door_options
from swardbook.cli.picturing import check_places, picture_option, with_picture

if TYPE_CHECKING:
    from pathlib import Path

    from swardbook.book.comparing import SharesCompared, StripsCompared
    from swardbook.book.opening import Book
    from swardbook.evidence import Comparison
    from swardbook.figures.picture import Picture
    from swardbook.observations.comparing import Compared
    from swardbook.observations.samples import Smallest
    from swardbook.review.better_or_worse import HonestContrast, ZoneReview
    from swardbook.review.pulling import Removal
    from swardbook.review.seasons import SeasonPair

Answer = tuple[dict[str, Any], list[str]]


@click.command()
@click.option("--zone", "-z", default="", help="Zone, by name; none: every zone's year.")
@click.option(
    "--species", default="annual meadow-grass", show_default=True, help="What to compare."
)
@click.option("--from", "first", default="", metavar="DAY", help="Day of the earlier count.")
@click.option("--to", "last", default="", metavar="DAY", help="Day of the later count.")
@click.option("--honest", is_flag=True, help="Only against the honest squares.")
@click.option("--pull", is_flag=True, help="Pull passes: how many there were, and are left.")
@click.option("--treated", default="", metavar="NAMES", help="Treated strips, with commas.")
@click.option(
    "--untreated", default="", metavar="NAMES", help="Untreated strips, in the same order."
)
@click.option("--refills", is_flag=True, help="Refills taken, autumn and spring.")
@click.option(
    "--margin",
    "margin_mm",
    type=float,
    default=None,
    metavar="MM",
    help="Clumps that regrew, dug with this margin and with less.",
)
@click.option(
    "--smallest",
    type=float,
    default=None,
    metavar="POINTS",
    help="Smallest change of cover worth acting on; 5 points if not said.",
)
@click.option(
    "--smallest-ratio",
    type=float,
    default=None,
    help="Smallest ratio of densities worth acting on; 1.5 if not said.",
)
@picture_option("one zone's counts over time, under the verdict on its year")
@door_options
def command(
    door: Door, zone: str, species: str, first: str, last: str, honest: bool, pull: bool,
    treated: str, untreated: str, refills: bool, margin_mm: float | None,
    smallest: float | None, smallest_ratio: float | None, picture: Path | None,
) -> None:  # fmt: skip
    """Compare like with like: same places, same season, same counter, or refuse with the reason."""
    from swardbook.book.comparing import zone_name
    from swardbook.book.count_sheet import read_kind
    from swardbook.foundation.errors import BadInputError

    another = refills or margin_mm is not None or pull or treated or untreated or first or last
    if picture is not None and (another or not zone):
        raise BadInputError("--picture", str(picture), "a picture of one zone's year, with --zone")
    check_places(picture)
    least = smallest_of(smallest, smallest_ratio)
    kind = read_kind(species)
    book = door.book()
    if refills or margin_mm is not None:
        door.show(*_of_shares(book, refills, margin_mm, least), book)
        return
    if not zone and (first or last or honest or pull or treated or untreated):
        raise BadInputError("--zone", zone, "the name of a zone")
    zone = zone_name(book, zone)
    if pull:
        payload, lines = _of_pulls(book, zone, kind)
    elif treated or untreated:
        payload, lines = _of_strips(book, zone, kind, least, treated, untreated)
    elif first or last:
        payload, lines = _of_days(book, zone, kind, least, first, last)
    else:
        payload, lines = with_picture(
            picture,
            lambda: _drawn(book, zone, kind, least),
            *_of_years(book, zone, kind, least, honest),
        )
    door.show({"species": kind, **payload}, lines, book)


def smallest_of(points: float | None, ratio: float | None = None) -> Smallest:
    """Give the smallest differences worth acting on: as said, else the customary ones."""
    from swardbook.foundation.errors import OutOfRangeError
    from swardbook.observations.samples import Smallest

    customary = Smallest.customary()
    cover = customary.cover_points if points is None else points
    times = customary.count_ratio if ratio is None else ratio
    if not cover > 0:
        raise OutOfRangeError("--smallest", cover, "above 0", "points")
    if not times > 1:
        raise OutOfRangeError("--smallest-ratio", times, "above 1", "-")
    return Smallest(cover, times)


def _of_years(book: Book, zone: str, kind: str, least: Smallest, honest: bool) -> Answer:
    from swardbook.book.comparing import zone_review

    names = [zone] if zone else [each.name for each in book.ground().zones]
    reviews = [zone_review(book, name, kind, least) for name in names]
    lines: list[str] = []
    for review in reviews:
        lines += [*(_honest_lines(review) if honest else _review_lines(review)), ""]
    return {"zones": [review_payload(each) for each in reviews]}, lines[:-1]


def _drawn(book: Book, zone: str, kind: str, least: Smallest) -> Picture:
    from swardbook.book.pictures import draw_comparison

    return draw_comparison(book, zone, kind, least)


def _of_days(book: Book, zone: str, kind: str, least: Smallest, first: str, last: str) -> Answer:
    from swardbook.book.comparing import compare_days
    from swardbook.foundation.dates import read_day, say
    from swardbook.foundation.errors import BadInputError

    if not (first and last):
        raise BadInputError("the days", first or last, "both --from DAY and --to DAY")
    one, two = read_day(first, book.today), read_day(last, book.today)
    made = compare_days(book, zone, kind, least, min(one, two), max(one, two))
    lines = [f"{zone}, {kind}: {say(made.before)} and {say(made.after)}"]
    lines += _compared_lines(made.compared)
    if made.compared.refusals and made.instead:
        lines.append("Same-season pairs there are:")
        lines += [f"  {say(a)} and {say(b)}" for a, b in made.instead]
    payload = {
        "zone": zone, "before": made.before.isoformat(), "after": made.after.isoformat(),
        **compared_payload(made.compared),
        "same_season_pairs": [[a.isoformat(), b.isoformat()] for a, b in made.instead],
    }  # fmt: skip
    return payload, lines


def _of_strips(
    book: Book, zone: str, kind: str, least: Smallest, treated: str, untreated: str
) -> Answer:
    from swardbook.book.comparing import compare_strips

    made = compare_strips(book, zone, kind, least, _names(treated), _names(untreated))
    return strips_told(made, zone, kind)


def strips_told(made: StripsCompared, zone: str, kind: str) -> Answer:
    """Tell how treated strips stand against untreated ones."""
    from swardbook.foundation.dates import say

    lines = [f"{zone}, {kind}, {say(made.day)}: untreated, then treated, in pairs"]
    lines += [
        *_compared_lines(made.compared, in_pairs=True),
        *(f"Beside this: {each}" for each in made.beside),
    ]
    payload = {
        "zone": zone, "day": made.day.isoformat(), **compared_payload(made.compared),
        "beside": list(made.beside),
    }  # fmt: skip
    return payload, lines


def _of_shares(book: Book, refills: bool, margin_mm: float | None, least: Smallest) -> Answer:
    from swardbook.book.comparing import compare_margins, compare_refills

    made = compare_refills(book, least) if refills or margin_mm is None else compare_margins(
        book, margin_mm, least
    )  # fmt: skip
    return shares_payload(made), _share_lines(made)


def _of_pulls(book: Book, zone: str, kind: str) -> Answer:
    from swardbook.book.comparing import pulling

    made = pulling(book, zone, kind)
    lines = [line for each in made.removals for line in _removal_lines(each)]
    return pulls_payload(zone, made), [
        f"{zone}, {kind}: pull passes", *(lines or ["No passes yet."]), made.pace_words
    ]  # fmt: skip


def _names(text: str) -> tuple[str, ...]:
    return tuple(name.strip() for name in text.split(",") if name.strip())


def _review_lines(review: ZoneReview) -> list[str]:
    from swardbook.review.better_or_worse import MARKS

    lines = [f"{MARKS[review.word]} {review.zone}. {review.sentence}"]
    for pair in review.pairs:
        lines += _pair_lines(pair)
    if review.honest is not None:
        lines += _contrast_lines(review.honest)
    if review.signs:
        from swardbook.foundation.dates import say

        lines.append("  Leading signs, apart from what was measured:")
        lines += [f"    {sign.words}, {say(sign.day)}" for sign in review.signs]
    return [*lines, *(f"  {each}" for each in (review.tolerance, review.look_at) if each)]


def _honest_lines(review: ZoneReview) -> list[str]:
    if review.honest is None:
        return [f"{review.zone}: not enough data: no day on which honest squares were counted."]
    return [f"{review.zone}:", *_contrast_lines(review.honest)]


def _pair_lines(pair: SeasonPair) -> list[str]:
    from swardbook.foundation.dates import say

    lines = [f"  {say(pair.before)} and {say(pair.after)}:"]
    lines += [f"    {each}" for each in _compared_lines(pair.compared)]
    if pair.renovated:
        lines.append("    The zone was renovated in between.")
    return [*lines, *(f"    {each}" for each in pair.context)]


def _contrast_lines(honest: HonestContrast) -> list[str]:
    from swardbook.foundation.dates import say

    lines = [f"  Against the honest squares, {say(honest.day)} (squares, then the zone):"]
    return lines + [f"    {each}" for each in _compared_lines(honest.compared)]


def _compared_lines(compared: Compared, in_pairs: bool = False) -> list[str]:
    from swardbook.review.words import change_words, places_to_settle, places_words

    made = compared.comparison
    if made is None:
        return ["Not enough data.", *(each.words for each in compared.refusals)]
    lines = [f"{made.verdict.capitalize()}: {change_words(made)}."]
    if compared.fell or compared.rose:
        fell, rose, alike = places_words(compared.fell), compared.rose, compared.unchanged
        told = f"{fell} fell, {rose} rose, {alike} unchanged."
        lines.append(f"Pairs: {compared.fell} lower, {rose} higher, {alike} alike where treated."
                     if in_pairs else told)  # fmt: skip
    enough = places_to_settle(made)
    if enough:
        lines.append(f"If the true change is about that, {enough} places would usually show it.")
    if compared.left_out:
        lines.append(
            f"Left out, not counted both times by one person: {', '.join(compared.left_out)}."
        )
    lines.append(f"Smallest worth acting on: {_bound(made)}. {made.n} places; {made.method}.")
    return [*lines, *made.cautions]


def _bound(made: Comparison) -> str:
    if made.is_log_ratio:
        from math import exp

        return f"a ratio of {exp(made.smallest):.3g}"
    return f"{made.smallest:g} points"


def _removal_lines(removal: Removal) -> list[str]:
    from swardbook.book.pull_words import removal_words

    taken, *more = removal_words(removal)
    return [f"  {taken}", *(f"    {each}" for each in more)]


def _share_lines(made: SharesCompared) -> list[str]:
    from swardbook.review.words import points_words

    told = made.comparison
    return [
        f"{made.first_name}: {made.first[0]} of {made.first[1]}, {told.before:.0f} %",
        f"{made.second_name}: {made.second[0]} of {made.second[1]}, {told.after:.0f} %",
        f"{told.verdict.capitalize()}: {points_words(told)}, the second against the first.",
        *told.cautions,
    ]
