"""`swardbook mixture choose`, `compare` and `build`: mixtures held against a zone."""

from __future__ import annotations

from typing import Any

import click

from swardbook.cli.doors import Door, door_options, zone_told
from swardbook.cli.mixture import label_options, read_label, read_price
from swardbook.cli.mixture_words import choice_lines, choice_payload, read_wanted, wanted_options
from swardbook.cli.progressing import at_once, progress
from swardbook.cli.results import keep_options, show_answer


@click.command()
@wanted_options
@zone_told("needed")
@keep_options
@door_options
def choose(door: Door, zone: str, keeping: dict[str, str] | None, **given: Any) -> None:
    """Find two to four mixtures for a zone, from your lots and the trade's kinds.

    Each component is held against height of cut, shade, wear, drought and salt; the short list is
    grown on under the site's past years. What cannot be undone is said and never listed.
    """
    at_once("mixtures grown on under past weather")
    from swardbook.book.choosing import choice_answer
    from swardbook.book.choosing import choose as chosen

    book = door.book()
    wanted = read_wanted(given, zone, book.today)
    made = chosen(book, wanted, progress())
    show_answer(
        door, book, choice_answer(made), choice_payload(made), choice_lines(made, "Mixtures"),
        zone=made.zone.name, keeping=keeping,
    )  # fmt: skip


@click.command()
@click.argument("names", nargs=-1, required=True)
@wanted_options
@zone_told("needed")
@keep_options
@door_options
def compare(
    door: Door, names: tuple[str, ...], zone: str, keeping: dict[str, str] | None, **given: Any
) -> None:
    """Put mixtures side by side for a zone: lots, mixtures built and kept, or the trade's kinds."""
    at_once("mixtures grown on under past weather")
    from swardbook.book.choosing import choice_answer
    from swardbook.book.choosing import compare as compared

    book = door.book()
    wanted = read_wanted(given, zone, book.today)
    made = compared(book, wanted, names, progress())
    show_answer(
        door, book, choice_answer(made), choice_payload(made),
        choice_lines(made, "Mixtures side by side"), zone=made.zone.name, keeping=keeping,
    )  # fmt: skip


@click.command()
@label_options
@click.option("--from", "start", default="", metavar="LOT",
              help="Start from a lot's label, or a kept mixture; parts given replace its own, the"
                   " rest keep their proportions.")  # fmt: skip
@click.option("--take", multiple=True, metavar="LOT=KG", help="Blend lots; once for each.")
@click.option("--name", default="My mixture", show_default=True, help="What to call it.")
@click.option("--rate", default="", metavar="RATE", help="Rate, in g/m2 unless you give a unit.")
@click.option("--price", default="", metavar="MONEY", help="Price of one kg.")
@wanted_options
@zone_told("needed")
@keep_options
@door_options
def build(door: Door, zone: str, keeping: dict[str, str] | None, **given: Any) -> None:
    """Build a mixture, change a lot's, or blend lots, and hold it against a zone.

    Keep it with --keep; a bag of it becomes a lot only when it is bought, with `swardbook lot add`.
    """
    at_once("the mixture grown on under past weather")
    from dataclasses import replace

    from swardbook.book.building import build as built_from
    from swardbook.book.building import read_changes
    from swardbook.book.choosing import choice_answer, judge_parts
    from swardbook.cli.seed_words import told
    from swardbook.foundation.errors import BadInputError
    from swardbook.seed import read_parts, read_rate

    if not given["name"].strip():
        raise BadInputError("--name", "", "a name to call it by, or leave --name out")
    book = door.book()
    wanted = read_wanted(given, zone, book.today)
    if given["start"]:
        parts = read_changes(given["parts"])
    else:
        parts = read_parts(given["parts"]) if given["parts"] else ()
    built = built_from(book, parts, given["start"], given["take"])
    label, notes = read_label(
        built.question.parts, given["tsw"], given["purity"], given["germination"]
    )
    question = replace(built.question, parts=label)
    if given["rate"]:
        question = replace(question, rate_g_m2=read_rate(given["rate"]))
    if given["price"]:
        question = replace(question, price_per_kg=read_price(given["price"]))
    say = [*built.notes, *notes]
    made = judge_parts(book, wanted, given["name"], question, progress())
    lines = [*choice_lines(made, given["name"]), *(["", *told(*say)] if say else [])]
    show_answer(
        door, book, choice_answer(made), {**choice_payload(made), "notes": say}, lines,
        zone=made.zone.name, keeping=keeping,
    )  # fmt: skip
