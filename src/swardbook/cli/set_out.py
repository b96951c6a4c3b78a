"""``swardbook set-out``: plan a side-by-side trial, or look again at the one there is."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from swardbook.cli.doors import Door, door_options, zone_told
from swardbook.cli.picturing import check_places, picture_option, with_picture
from swardbook.cli.progressing import at_once
from swardbook.cli.results import keep_options, show_answer
from swardbook.cli.trial_words import (
    check_papers_place,
    papers_option,
    trial_lines,
    trial_payload,
    with_papers,
)

DESIGNS = ("blocks", "latin", "split", "augmented", "row-column", "strips", "tubs", "single")


@click.command()
@click.argument("mixtures", nargs=-1, metavar="[MIXTURE[=RATE]]...")
@click.option("--design", default="blocks", show_default=True, type=click.Choice(DESIGNS),
              show_choices=False, metavar="WORD", help=f"{', '.join(DESIGNS)}.")  # fmt: skip
@click.option("--repeats", type=click.IntRange(1, 60), default=None,
              help="Blocks, or plots of each.  [default: 4]")  # fmt: skip
@click.option("--control/--no-control", default=True, help="An unsown plot in every block.")
@click.option("--within", multiple=True, metavar="WORDS",
              help="Split plot: a height or feed within each mixture, once for each.")  # fmt: skip
@click.option("--once", multiple=True, metavar="MIXTURE[=RATE]",
              help="Augmented: a mixture that stands once, beside the checks.")  # fmt: skip
@click.option("--rows", default=0, type=click.IntRange(0, 60),
              help="Rows of plots in a block; none: as square as can be.")  # fmt: skip
@click.option("--plot", default="", help="Width by length of a plot, such as 1.5x2; bare is m.")
@click.option("--passes", type=click.IntRange(1, 60), default=None,
              help="Mower passes across a plot.  [default: 3]")  # fmt: skip
@click.option("--path", default="", help="Path between blocks; bare is m.")
@click.option("--guard", default="", help="Guard all round, uncounted; bare is m.")
@click.option("--sides", default="", help="Sides of the ground, such as 20.25x9.5; bare is m.")
@click.option("--ends", default="", help="How it changes: 'wet south, dry north'; block 1 first.")
@click.option("--across", default="", help="Left and right from there: 'west, east'.")
@click.option("--along", "is_along", is_flag=True, help="Blocks lie along that change, not across.")
@click.option("--tap", default="", help="End or side where the tap is.")
@click.option("--sun", default="", help="End or side that is sunniest.")
@click.option("--favourite", default="", help="Mixture that somebody already likes best.")
@click.option("--height", default="", help="Height of cut; none: the zone's. Bare is mm.")
@click.option("--trait", default="",
              help="What it is to show: cover of a kind, plants, quality ..."
                   "  [default: annual meadow-grass]")  # fmt: skip
@click.option("--gap", type=float, default=None, help="Gap to be found, in the trait's unit.")
@click.option("--sd", type=float, default=None, help="Spread from plot to plot, in its unit.")
@click.option("--sd-whole", type=float, default=None,
              help="Split plot: spread of whole plots beyond that of their parts.")  # fmt: skip
@click.option("--level", type=float, default=None,
              help="Cover in % supposed for the lower of two; spreads go with it.")  # fmt: skip
@click.option("--seed", type=click.IntRange(0), default=None, help="Seed of the draw.")
@picture_option("the plan")
@papers_option
@zone_told("none: the one with a trial, or the only one")
@keep_options
@door_options
def command(
    door: Door,
    picture: Path | None,
    pdf: Path | None,
    zone: str,
    keeping: dict[str, str] | None,
    **said: Any,
) -> None:
    """Set out a trial: shuffled plots, what it can show, what would spoil it.

    MIXTURE is a mixture or lot of the book; one that it does not have needs its rate, such as
    'My mix=30'. Without any, the trial that is kept is looked at again. With --keep plots and plan
    go into the book.
    """
    at_once("the plan, and what it can show")
    from swardbook.book.set_out import TrialAsked, set_out_trial
    from swardbook.book.trial_kept import answer_of, keep_trial, kept_trial
    from swardbook.book.trial_pictures import draw_plan
    from swardbook.book.worked_out import Answer

    check_places(picture)
    check_papers_place(pdf)
    book = door.book()
    if said["mixtures"]:
        found = set_out_trial(book, zone, TrialAsked(**said))
        kept = answer_of(found) if keeping is None else keep_trial(book, found)
    else:
        found, kept, keeping = kept_trial(book, zone), Answer("", ""), None
    payload, lines = with_picture(
        picture, lambda: draw_plan(book, found), trial_payload(found), trial_lines(found)
    )
    payload, lines = with_papers(pdf, book, found, payload, lines)
    show_answer(door, book, kept, payload, lines, zone=found.zone, keeping=keeping)
