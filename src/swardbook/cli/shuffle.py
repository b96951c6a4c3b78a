"""``swardbook shuffle``: draw a trial's plan again before it is sown, or move a plot by hand."""

from __future__ import annotations

from pathlib import Path

import click

from swardbook.cli.doors import Door, door_options
from swardbook.cli.picturing import check_places, picture_option, with_picture
from swardbook.cli.trial_words import (
    check_papers_place,
    papers_option,
    trial_lines,
    trial_payload,
    with_papers,
)


@click.command()
@click.option("--zone", "-z", default="", help="Zone of the trial; none: the only one.")
@click.option("--seed", type=click.IntRange(0), default=None, help="New seed; none: the next.")
@click.option("--move", multiple=True, metavar="PLOT=PLOT",
              help="Exchange two plots by hand: 1-02=1-07. The plan is marked.")  # fmt: skip
@click.option("--reason", default="", help="Why; needed for a move by hand.")
@click.option("--who", default="", help="Who asked for it.")
@picture_option("the new plan")
@papers_option
@door_options
def command(
    door: Door, zone: str, seed: int | None, move: tuple[str, ...], reason: str, who: str,
    picture: Path | None, pdf: Path | None,
) -> None:  # fmt: skip
    """Shuffle the plots of a kept trial again, with a new seed; once sown, it is refused.

    A plot moved by hand (--move) marks the plan “chosen, not shuffled”: nothing is ranked.
    """
    from swardbook.book.trial_kept import move_by_hand, shuffle_trial
    from swardbook.book.trial_pictures import draw_plan

    check_places(picture)
    check_papers_place(pdf)
    if move and seed is not None:
        raise click.UsageError("give --seed or --move, not both")
    book = door.book()
    if move:
        found = move_by_hand(book, zone, move, reason, who)
    else:
        found = shuffle_trial(book, zone, seed, who, reason)
    payload, lines = with_picture(
        picture, lambda: draw_plan(book, found), trial_payload(found), trial_lines(found)
    )
    payload, lines = with_papers(pdf, book, found, payload, lines)
    door.show(payload, [*lines, "", "Kept in the place of the plan before."], book)
