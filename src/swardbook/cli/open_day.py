"""``swardbook open-day``: guesses of an audience, the reveal, and a shuffle to watch."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options
from swardbook.cli.output import table
from swardbook.cli.telling import short_id
from swardbook.cli.wrapping import heading, under

if TYPE_CHECKING:
    from swardbook.book.open_day import Reveal
    from swardbook.book.opening import Book

Answer = tuple[dict[str, Any], list[str]]


@click.command()
@click.option("--zone", "-z", default="", help="Zone of the trial; none: the only one.")
@click.option("--guess", default="", metavar="'QUESTION: NAME=NUMBER ...'",
              help="How many guessed what, such as 'darkest: Gatepost=31 other=33'.")  # fmt: skip
@click.option("--keep", is_flag=True, help="Keep the guesses, as numbers and nothing else.")
@click.option("--reveal", "question", default="", metavar="QUESTION",
              help="darkest, finest or 'fewest weeds': eyes beside counts.")  # fmt: skip
@click.option("--shuffle", "number", type=click.IntRange(1, 200), default=None,
              help="Shuffle the plots so often, to see what luck does.")  # fmt: skip
@click.option("--seed", type=click.IntRange(0), default=1, show_default=True,
              help="Seed of the shuffles.")  # fmt: skip
@click.option("--blocks", is_flag=True, help="How uneven the ground is, and what was done.")
@door_options
def command(
    door: Door, zone: str, guess: str, keep: bool, question: str, number: int | None, seed: int,
    blocks: bool,
) -> None:  # fmt: skip
    """Let an audience guess before the reveal; a reveal without guesses is refused.

    Without options it says what to ask. No visitor's name or word is kept.
    """
    book = door.book()
    if guess:
        payload, lines = _guess(book, zone, guess, keep)
    elif question:
        payload, lines = _reveal(book, zone, question)
    elif number is not None:
        payload, lines = _shuffle(book, zone, number, seed)
    elif blocks:
        payload, lines = _blocks(book, zone)
    else:
        payload, lines = _asked(book, zone)
    door.show(payload, lines, book)


def _asked(book: Book, zone: str) -> Answer:
    from swardbook.book.open_day import open_day

    found = open_day(book, zone)
    lines = heading(f"Open day: {found.zone}")
    for key, asks in found.asked:
        number = found.guessed.get(key)
        lines.append(f"- {asks} {f'{number} guesses.' if number else 'No guesses yet.'}")
    lines += ["", *under("", f"To guess: {', '.join(found.mixtures)}.", 0)]
    return {
        "zone": found.zone,
        "mixtures": list(found.mixtures),
        "questions": [{"key": key, "asks": asks, "guesses": found.guessed.get(key, 0)}
                      for key, asks in found.asked],
    }, lines  # fmt: skip


def _guess(book: Book, zone: str, said: str, keep: bool) -> Answer:
    from swardbook.book.open_day_guesses import check_guesses, keep_guesses
    from swardbook.foundation.errors import BadInputError

    question, mark, rest = said.partition(":")
    pairs = re.findall(r"([^=,]+?)\s*=\s*(\d+)", rest)
    if not mark or not pairs:
        raise BadInputError("--guess", said, "such as 'darkest: Gatepost=31 other=33'")
    guesses: dict[str, int] = {}
    for name, number in pairs:
        guesses[name.strip()] = guesses.get(name.strip(), 0) + int(number)
    checked = check_guesses(book, zone, question, guesses)
    total = sum(checked.values())
    payload: dict[str, Any] = {"question": question.strip().casefold(), "guesses": checked}
    lines = [f"{total} guesses."]
    if keep:
        payload["kept_as"] = short_id(keep_guesses(book, zone, question, guesses))
        lines.append(f"Kept {payload['kept_as']}, as numbers alone.")
    else:
        lines.append("Not kept: say --keep.")
    return payload, lines


def _reveal(book: Book, zone: str, question: str) -> Answer:
    from swardbook.book.open_day import reveal
    from swardbook.book.open_day_told import Tellings
    from swardbook.foundation.dates import say

    found = reveal(Tellings(book, zone), question)
    lines = [*heading(found.asks), f"Guessed on {say(found.guessed_on)}.", ""]
    rows = [(each.name, str(each.guesses), each.words) for each in found.rows]
    lines += table(("mixture", "guesses", "measured"), rows)
    lines += ["", *under("", found.sentence, 0)]
    lines += under("", found.weeds, 0) if found.weeds else []
    return _reveal_payload(found), lines


def _reveal_payload(found: Reveal) -> dict[str, Any]:
    return {
        "question": found.question,
        "asks": found.asks,
        "guessed_on": found.guessed_on.isoformat(),
        "guesses": found.guesses,
        "rows": [
            {"mixture": each.name, "guesses": each.guesses, "measured": each.measured,
             "words": each.words}
            for each in found.rows
        ],
        "eyes": list(found.eyes),
        "counts": list(found.counts),
        "sentence": found.sentence,
        "weeds": found.weeds or None,
    }  # fmt: skip


def _shuffle(book: Book, zone: str, number: int, seed: int) -> Answer:
    from swardbook.book.open_day import shuffle_shown
    from swardbook.book.open_day_told import Tellings

    found = shuffle_shown(Tellings(book, zone), number, seed)
    lines = under("", found.sentence, 0)
    rows = [
        (str(n), each.best, f"{each.gap:.0f}")
        for n, each in enumerate((found.real, *found.dealt[:10]))
    ]
    unit = "points" if found.unit == "%" else found.unit
    rows[0] = ("as sown", *rows[0][1:])
    lines += ["", *table(("shuffle", "fewest weeds", f"best to worst, {unit}"), rows)]
    dealt = [{"best": each.best, "gap": each.gap, "entries": list(each.entries)}
             for each in (found.real, *found.dealt)]  # fmt: skip
    payload = {"plots": list(found.plots), "unit": found.unit, "seed": seed,
               "sentence": found.sentence, "as_sown": dealt[0], "shuffles": dealt[1:]}  # fmt: skip
    return payload, lines


def _blocks(book: Book, zone: str) -> Answer:
    from swardbook.book.open_day import blocks_shown
    from swardbook.book.open_day_told import Tellings

    found = blocks_shown(Tellings(book, zone))
    rows = [(level, f"{mean:.0f} {found.unit}") for level, mean in found.means]
    payload = {
        "unit": found.unit,
        "sentence": found.sentence,
        "blocks": [{"block": level, "mean": mean} for level, mean in found.means],
    }
    return payload, [*under("", found.sentence, 0), "", *table(("block", "mean"), rows)]
