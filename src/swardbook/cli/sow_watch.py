"""`swardbook sow watch`: when seedlings are due, how many are up, whose, and what takes them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options, zone_told
from swardbook.cli.minding import with_cautions
from swardbook.cli.output import table
from swardbook.cli.own_sowings import own_lines, own_payload
from swardbook.cli.results import keep_options, show_answer
from swardbook.cli.wrapping import heading, under

if TYPE_CHECKING:
    from datetime import date

    from swardbook.book.seedling_watch import Sown, Watch
    from swardbook.evidence.estimates import Interval
    from swardbook.seed.seedlings import Seedlings, Whose

SHAPES = {
    "not due yet": "◷", "due now": "◧", "window shut": "■", "seen up": "✓", "cannot tell": "?",
}  # fmt: skip


@click.command()
@click.option("--frames", default="", metavar="N,N,...",
              help="Seedlings in each frame on sown ground; 0 is looked and none.")  # fmt: skip
@click.option("--unsown", default="", metavar="N,N,...", help="The same on ground left unsown.")
@click.option("--side", default="", metavar="MM", help="Side of a frame.  [default: 100 mm]")
@click.option("--sown", type=click.IntRange(0), default=None, help="Named with a lens: sown kinds.")
@click.option("--weed", type=click.IntRange(0), default=None, help="... annual meadow-grass.")
@click.option("--cannot-tell", type=click.IntRange(0), default=None, help="... cannot tell.")
@click.option("--leaves", type=float, default=0.0, help="Leaves that most seedlings have.")
@click.option("--seen", "-s", multiple=True, metavar="SIGN", help="A sign of loss; repeat it.")
@click.option("--not-seen", multiple=True, metavar="SIGN", help="A sign looked for in vain.")
@zone_told("needed")
@keep_options
@door_options
def watch(door: Door, zone: str, keeping: dict[str, str] | None, **given: Any) -> None:
    """Watch the last sowing of a zone come up.

    Tells when each component is due by the warmth and water it had, seedlings a square metre and
    as a share of viable seed, whose they are as far as that can be told, and what may take them.
    Nothing is called failed before the slowest window has shut.
    """
    from swardbook.book.fields import quantity
    from swardbook.book.seedling_watch import Watched, watch_answer
    from swardbook.book.seedling_watch import watch as watched
    from swardbook.foundation.errors import BadInputError

    if not zone:
        raise BadInputError("--zone", "", "the name of a zone")
    book = door.book()
    seen = Watched(
        _numbers(given["frames"], "--frames"),
        _numbers(given["unsown"], "--unsown"),
        quantity(given["side"], "mm", "--side") if given["side"] else None,
        _named(given["sown"], given["weed"], given["cannot_tell"]),
        given["leaves"], given["seen"], given["not_seen"],
    )  # fmt: skip
    made = watched(book, zone, seen, lambda words: click.echo(words, err=True))
    payload, lines = with_cautions(_payload(made), _lines(made), "birds", "pests")
    show_answer(door, book, watch_answer(made), payload, lines, zone=made.zone, keeping=keeping)


def _numbers(text: str, name: str) -> tuple[float, ...]:
    from swardbook.foundation.errors import BadInputError

    words = text.replace(";", " ").replace(",", " ").split()
    if any(not word.isdigit() for word in words):
        raise BadInputError(name, text, "whole numbers such as 84,90,51")
    return tuple(float(word) for word in words)


def _named(
    sown: int | None, weed: int | None, cannot_tell: int | None
) -> tuple[int, int, int] | None:
    from swardbook.foundation.errors import BadInputError

    if sown is None and weed is None and cannot_tell is None:
        return None
    if sown is None or weed is None or cannot_tell is None:
        raise BadInputError(
            "the seedlings named", "a part of them", "--sown, --weed and --cannot-tell together",
            "0 is an answer.",
        )  # fmt: skip
    return sown, weed, cannot_tell


def _payload(made: Watch) -> dict[str, Any]:
    from swardbook.evidence.estimates import Interval

    return {
        "zone": made.zone,
        "sown_on": made.sown_on.isoformat(),
        "sown": made.title,
        "days_since": made.days,
        "windows": [
            {"species": each.species, "opens": _iso(each.opens), "shuts": _iso(each.shuts),
             "state": each.state, "seen_on": _iso(each.seen)}
            for each in made.windows
        ],
        "viable_sown": None if made.sown is None else {
            "per_m2": _range(made.sown.per_m2, made.sown.range_ or Interval(
                made.sown.per_m2, made.sown.per_m2)),
            "by": made.sown.by,
        },
        "seedlings": None if made.seedlings is None else _seedlings(made.seedlings),
        "whose": None if made.whose is None else _whose(made.whose),
        "verdict": made.verdict,
        "because": made.because,
        "losses": [
            {"loss": each.english, "signs": list(each.usual), "check": each.check,
             "do": each.do, "not_do": each.not_do, "source": each.source,
             "grade": each.grade.value}
            for each in made.losses
        ],
        "likeliest": None if made.diagnosis is None else made.diagnosis.sentence,
        "own_sowings": own_payload(made.own),
        "weighed_by_own_sowings": made.own.is_used,
        "notes": list(made.notes),
    }  # fmt: skip


def _iso(day: date | None) -> str | None:
    return None if day is None else day.isoformat()


def _seedlings(found: Seedlings) -> dict[str, Any]:
    share = found.share
    return {
        "frames": found.sown.frames,
        "unsown_frames": 0 if found.unsown is None else found.unsown.frames,
        "per_m2": _range(found.sown.per_m2, found.interval),
        "net_per_m2": _range(found.net, found.net_interval),
        "viable_sown_per_m2": None if found.viable_m2 is None else round(found.viable_m2),
        "share_of_viable": None if share is None else _range(*share, places=4),
        "self_sown_share": found.self_sown_share,
    }


def _range(
    middle: float | None, interval: Interval | None, places: int = 0
) -> dict[str, float] | None:
    if middle is None or interval is None:
        return None
    return {"low": round(interval.low, places), "value": round(middle, places),
            "high": round(interval.high, places)}  # fmt: skip


def _whose(found: Whose) -> dict[str, Any]:
    return {
        "sown": found.sown, "weed": found.weed, "cannot_tell": found.cannot_tell,
        "weed_share_least": round(found.least, 4), "weed_share_most": round(found.most, 4),
        "low": round(found.interval.low, 4), "high": round(found.interval.high, 4),
    }  # fmt: skip


def _lines(made: Watch) -> list[str]:
    from swardbook.foundation.dates import say

    lines = heading(f"Germination watch, {made.zone}")
    lines += under("", f"{made.title}, sown {say(made.sown_on)}, {made.days} days ago.", 0)
    rows = [
        (_english(each.species), f"{SHAPES[each.state]} {each.state}", _day(each.opens),
         _day(each.shuts), "" if each.seen is None else _day(each.seen))
        for each in made.windows
    ]  # fmt: skip
    lines += ["", *table(("", "", "first from", "at the latest", "seen"), rows)]
    if made.verdict:
        lines += ["", *under("", f"{made.verdict.capitalize()}: {made.because}.", 0)]
    else:
        lines += ["", *under("", f"Not counted: {made.because}.", 0)]
    lines += _counted(made)
    lines += _shared(made)
    lines += own_lines(made.own, "windows")
    lines += _lost(made)
    lines += [line for note in made.notes for line in under("?", note, 0)]
    return lines


def _day(day: date | None) -> str:
    return "not within the days followed" if day is None else f"{day.day} {day:%b %Y}"


def _english(species: str) -> str:
    from swardbook.handbook.species import find_species

    return find_species(species).english


def _about(number: float) -> str:
    return f"{float(f'{max(number, 0.0):.2g}'):,.0f}"


def _counted(made: Watch) -> list[str]:
    found = made.seedlings
    if found is None:
        return []
    range_ = found.interval
    told = f"{_about(found.sown.per_m2)} seedlings/m² ({_about(range_.low)} to" \
           f" {_about(range_.high)}) from {found.sown.frames} frames"  # fmt: skip
    share, net = found.share, found.net
    if share is not None and net is not None and made.sown is not None:
        told += (
            f"; less what came by itself {_about(net)}, against {_seed(made.sown)} viable"
            f" seeds/m² {100 * share[0]:.0f} % ({100 * share[1].low:.0f} to"
            f" {100 * share[1].high:.0f}). Viable seed is {made.sown.by}"
        )
    return under("", f"{told}.", 0)


def _seed(sown: Sown) -> str:
    range_ = sown.range_
    if range_ is None:
        return _about(sown.per_m2)
    return f"{_about(sown.per_m2)} ({_about(range_.low)} to {_about(range_.high)})"


def _shared(made: Watch) -> list[str]:
    found = made.whose
    if found is None:
        return []
    n = found.sown + found.weed + found.cannot_tell
    told = (
        f"Of {n} looked at with a lens: {found.sown} sown kinds, {found.weed} annual meadow-grass,"
        f" {found.cannot_tell} cannot tell. So annual meadow-grass is somewhere between"
        f" {100 * found.least:.0f} and {100 * found.most:.0f} % of seedlings, by what cannot be"
        f" told; with chance {100 * found.interval.low:.0f} to {100 * found.interval.high:.0f} %."
    )
    self_sown = None if made.seedlings is None else made.seedlings.self_sown_share
    if self_sown is not None:
        told += f" The unsown frames hold {100 * self_sown:.0f} % as many as the sown ones."
    return under("", told, 0)


def _lost(made: Watch) -> list[str]:
    if made.diagnosis is None:
        from swardbook.book.seedling_watch import loss_signs

        names = ", ".join(f"'{name}'" for name in loss_signs())
        return ["", *under("", f"If seedlings go missing, say what is seen with --seen: {names}.",
                           0)]  # fmt: skip
    lines = ["", *under("", made.diagnosis.sentence, 0)]
    for cause in made.diagnosis.causes[:3]:
        trouble = cause.trouble
        told = f"{trouble.english}, {cause.likelihood}. Check: {trouble.check} {trouble.do}"
        lines += under("·", f"{told} {trouble.not_do}")
    return lines
