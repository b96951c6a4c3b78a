"""``swardbook side-by-side``: mixtures of a trial compared, or described where they may not be."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options, zone_told
from swardbook.cli.picturing import check_places, picture_option, with_picture
from swardbook.cli.progressing import at_once
from swardbook.cli.results import keep_options, show_answer

if TYPE_CHECKING:
    from pathlib import Path

    from swardbook.book.side_by_side import SideAsked


@click.command()
@click.option("--trait", "-t", default="annual meadow-grass", show_default=True,
              help="What to compare: a kind of plant, or a trait that was read.")  # fmt: skip
@click.option("--day", default="", metavar="DAY", help="Day of the count; none: the last one.")
@click.option("--over-time", is_flag=True, help="Compare the mean over all counts.")
@click.option("--plots", "how", default="planned", show_default=True,
              type=click.Choice(["planned", "sown", "every"]),
              help="Plots that count: sown as planned; as really sown; left out too.")  # fmt: skip
@click.option("--better", type=click.Choice(["low", "high"]), default=None,
              help="Whether less or more is better; none: as the trait has it.")  # fmt: skip
@click.option("--smallest", type=float, default=None, metavar="FIGURE",
              help="Smallest difference worth acting on; a ratio for plants.")  # fmt: skip
@click.option("--pair", "pairs", multiple=True, metavar="ONE=OTHER",
              help="A pair named before anything was looked at, once for each.")  # fmt: skip
@click.option("--all-pairs", is_flag=True, help="Show every pair.")
@click.option("--weigh", multiple=True, metavar="TRAIT=WEIGHT",
              help="Choose over several traits by your weights, once for each.")  # fmt: skip
@click.option("--with", "others", multiple=True, metavar="ZONE",
              help="Another trial to take together with it, once for each.")  # fmt: skip
@click.option("--for", "for_zone", default="", metavar="ZONE",
              help="Zone a mixture is wanted for; none: the largest.")  # fmt: skip
@picture_option("the means with their ranges and group marks")
@picture_option("the means over time with what was done", "paths_picture")
@picture_option("the plan, each plot by its figure", "plan_picture")
@zone_told("of the trial; none: the only trial there is")
@keep_options
@door_options
def command(
    door: Door, zone: str, keeping: dict[str, str] | None, trait: str, day: str,
    over_time: bool, how: str, better: str | None,
    smallest: float | None, pairs: tuple[str, ...], all_pairs: bool, weigh: tuple[str, ...],
    others: tuple[str, ...],
    for_zone: str, picture: Path | None, paths_picture: Path | None, plan_picture: Path | None,
) -> None:  # fmt: skip
    """Set the mixtures of a trial side by side: what is clear, and what is too close to call.

    The plot is the unit: frames and photographs of one plot are one figure.
    """
    at_once("the plots, and what luck alone would show")
    from swardbook.book.side_by_side import SideAsked, side_by_side
    from swardbook.book.side_pictures import draw_means, draw_paths, draw_values
    from swardbook.cli.side_payload import side_payload
    from swardbook.cli.side_words import side_lines
    from swardbook.foundation.dates import read_day
    from swardbook.trials.readings import Taken

    check_places(picture, paths_picture, plan_picture)
    book = door.book()
    taken = {"planned": Taken.AS_PLANNED, "sown": Taken.AS_SOWN, "every": Taken.EVERY}[how]
    asked = SideAsked(
        zone, trait, read_day(day, book.today) if day else None, taken,
        None if better is None else better == "low", smallest, tuple(map(_pair, pairs)), for_zone,
        over_time,
    )  # fmt: skip
    found = side_by_side(book, asked)
    payload, lines = side_payload(found), side_lines(found, all_pairs)
    if weigh:
        payload, lines = _with_choice(door, asked, weigh, payload, lines)
    if others:
        from swardbook.book.trials_together import trials_together
        from swardbook.cli.side_together import together_payload
        from swardbook.cli.side_words import together_lines

        several = trials_together(book, asked, others)
        payload["together"] = together_payload(several)
        lines += together_lines(several)
    pictures = (
        (picture, draw_means, "picture"), (paths_picture, draw_paths, "paths_picture"),
        (plan_picture, draw_values, "plan_picture"),
    )  # fmt: skip
    for path, draw, name in pictures:
        payload, lines = with_picture(path, partial(draw, book, found), payload, lines, name)
    if keeping is None:
        door.show(payload, lines, book)
        return
    from swardbook.book.side_kept import side_answer

    show_answer(door, book, side_answer(found), payload, lines, zone=found.zone, keeping=keeping)


def _with_choice(
    door: Door, asked: SideAsked, weigh: tuple[str, ...], payload: dict[str, Any],
    lines: list[str],
) -> tuple[dict[str, Any], list[str]]:  # fmt: skip
    from swardbook.book.trial_choice import choose_in_trial
    from swardbook.cli.side_payload import choice_payload
    from swardbook.cli.side_words import choice_lines

    made = choose_in_trial(door.book(), asked, dict(map(_weight, weigh)))
    return {**payload, "choice": choice_payload(made)}, [*lines, *choice_lines(made)]


def _pair(text: str) -> tuple[str, str]:
    from swardbook.foundation.errors import BadInputError

    one, sign, other = (part.strip() for part in text.partition("="))
    if not (sign and one and other):
        raise BadInputError("--pair", text, "two mixtures, such as Bobbin=Thimble")
    return one, other


def _weight(text: str) -> tuple[str, float]:
    from swardbook.foundation.errors import BadInputError
    from swardbook.foundation.quantities import read_number

    name, sign, number = (part.strip() for part in text.rpartition("="))
    weight = read_number(number) if sign and name else None
    if weight is None:
        raise BadInputError("--weigh", text, "a trait and its weight, such as sown=2")
    return name, weight
