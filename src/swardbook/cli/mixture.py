"""`swardbook mixture`: a mixture by weight and by number, and what it brings and costs."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options
from swardbook.cli.picturing import check_places, picture_option, with_picture
from swardbook.cli.recording import Recording, is_recording

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from swardbook.book.opening import Book
    from swardbook.book.seed import MixtureAnswer
    from swardbook.figures.picture import Picture
    from swardbook.seed.lot import LotPart

STANDARDS = ("statutory", "voluntary")


def label_options(command: Any) -> Any:
    """Give a command ``--part`` and the figures of a label."""
    for option in reversed(
        (
            click.option("--part", "-p", "parts", multiple=True, metavar="NAME=PERCENT",
                         help="A component by weight, English or Latin; once for each."),
            click.option("--tsw", multiple=True, metavar="NAME=G",
                         help="Grams of a thousand seeds: 0.9, or 'browntop bent=0.06' for one."),
            click.option("--purity", multiple=True, metavar="NAME=SHARE",
                         help="Purity of the label: 97 for all, or 'browntop bent=97' for one."),
            click.option("--germination", multiple=True, metavar="NAME=SHARE",
                         help="Germination: 85 for all, or 'browntop bent=85' for one."),
        )
    ):  # fmt: skip
        command = option(command)
    return command


def read_label(
    parts: Sequence[LotPart], tsw: Sequence[str], purity: Sequence[str], germination: Sequence[str]
) -> tuple[tuple[LotPart, ...], list[str]]:
    """Put the figures of a label to its parts; gives also how they were read."""
    from swardbook.seed import read_seed_weight, read_share, with_label

    notes: list[str] = []
    shares: dict[str, dict[str, float]] = {"purity": {}, "germination": {}}
    for what, texts in (("purity", purity), ("germination", germination)):
        for key, given in _of_each(parts, texts, f"the {what}"):
            read = read_share(what, key, given)
            shares[what][key] = read.value
            notes += [read.note] if read.note else []
    weights = {}
    for key, given in _of_each(parts, tsw, "the thousand-seed weight"):
        weights[key] = read_seed_weight(key, given)
    return with_label(parts, shares["purity"], shares["germination"], weights), notes


def _of_each(
    parts: Sequence[LotPart], texts: Sequence[str], what: str
) -> Iterator[tuple[str, str]]:
    """Give each part what the label says of it; a figure alone is said of all."""
    from swardbook.handbook.species import find_species
    from swardbook.seed import read_pair

    for text in texts:
        if "=" not in text and any(map(str.isdigit, text)):
            yield from ((part.species, text.strip()) for part in parts)
            continue
        name, given = read_pair(text, what)
        yield find_species(name).key, given


class MixtureVerb(Recording):
    """Works one mixture out when called alone."""

    module = "swardbook.cli.mixture_for_zone"
    plans = ("choose", "compare", "build")


@click.group(cls=MixtureVerb, invoke_without_command=True)
@label_options
@click.option("--lot", default="", metavar="CODE", help="Take the label of a lot of the book.")
@click.option("--rate", default="", metavar="RATE", help="Rate, in g/m2 unless you give a unit.")
@click.option("--area", default="", metavar="AREA", help="Area to sow, in m2; gives the order.")
@click.option("--height", default="", metavar="MM", help="Height of cut wanted, in mm.")
@click.option("--standard", type=click.Choice(STANDARDS), default=None,
              help="What the seed is certified to.  [default: statutory]")  # fmt: skip
@click.option("--method", default="seedbed", show_default=True,
              help="seedbed, slit, 'broadcast on scarified' or 'broadcast on sward'.")  # fmt: skip
@click.option("--spare", default="", metavar="SHARE", help="Kept of the same lot: 15 or 0.15.")
@click.option("--bag", default="", metavar="KG", help="Weight of one bag, in kg.")
@click.option("--price", default="", metavar="MONEY", help="Price of one kg.")
@picture_option("weight and number side by side")
@picture_option("its seeds on 5 by 5 cm, true to size", "seeds_picture")
@door_options
def command(door: Door, **given: Any) -> None:
    """Work out a mixture by weight and by number.

    Gives seeds and viable seeds, the plants to expect, the weed-grass seeds the bag may bring,
    what height of cut it lives with, and how much to buy. Needs no book. With a book, choose,
    compare or build one for a zone.
    """
    if not is_recording():
        return
    from swardbook.book.seed import work_out

    check_places(given["picture"], given["seeds_picture"])
    question, notes, book, name = _question(door, given)
    answer = work_out(question)
    payload, lines = with_picture(
        given["picture"], lambda: _drawn(answer, name, book),
        _payload(answer, notes, name), _lines(answer, notes, name),
    )  # fmt: skip
    payload, lines = with_picture(
        given["seeds_picture"], lambda: _seeds(answer, name, book), payload, lines, "seeds_picture"
    )
    door.show(payload, lines, book)


def _drawn(answer: MixtureAnswer, name: str, book: Book | None) -> Picture:
    from swardbook.book.pictures import draw_mixture

    return draw_mixture(answer, name, book)


def _seeds(answer: MixtureAnswer, name: str, book: Book | None) -> Picture:
    from swardbook.book.pictures import draw_seeds

    return draw_seeds(answer, name, book)


def _question(door: Door, given: dict[str, Any]) -> tuple[Any, list[str], Any, str]:
    from dataclasses import replace

    from swardbook.book.seed import MixtureQuestion, question_of_lot
    from swardbook.foundation.errors import BadInputError
    from swardbook.seed import Standard, read_parts

    if bool(given["parts"]) == bool(given["lot"]):
        raise BadInputError(
            "the mixture", "both" if given["lot"] else "nothing",
            "either parts, such as --part 'browntop bent=20', or one --lot",
        )  # fmt: skip
    if given["lot"]:
        book = door.book()
        lot, question = question_of_lot(book, given["lot"])
        name = f"{lot.mixture}, lot {lot.code}"
    else:
        book, name, question = None, "", MixtureQuestion(read_parts(given["parts"]))
    parts, notes = read_label(question.parts, given["tsw"], given["purity"], given["germination"])
    standards = {None: question.standard, "statutory": Standard.STATUTORY,
                 "voluntary": Standard.VOLUNTARY}  # fmt: skip
    asked = replace(question, parts=parts, standard=standards[given["standard"]])
    if given["germination"] and question.test is not None:
        asked = replace(asked, test=None)
        notes.append("The germination given here goes before the test in the diary.")
    return replace(asked, **_amounts(given)), notes, book, name


def _amounts(given: dict[str, Any]) -> dict[str, Any]:
    from swardbook.foundation.quantities import read_quantity
    from swardbook.seed import read_method, read_rate

    found: dict[str, Any] = {"method": read_method(given["method"])}
    if given["rate"]:
        found["rate_g_m2"] = read_rate(given["rate"])
    if given["area"]:
        found["area_m2"] = read_quantity(given["area"], "m2", "the area").value
    if given["height"]:
        found["height_mm"] = read_quantity(given["height"], "mm", "the height of cut").value
    if given["bag"]:
        found["bag_g"] = read_quantity(given["bag"], "kg", "the bag").value
    if given["spare"]:
        found["spare"] = _spare(given["spare"])
    if given["price"]:
        found["price_per_kg"] = read_price(given["price"])
    return found


def read_price(text: str) -> Any:
    """Read a price of one kilogram as a decimal.

    Raises
    ------
    BadInputError
        If it is none.
    """
    from decimal import Decimal

    from swardbook.foundation.errors import BadInputError
    from swardbook.foundation.quantities import read_number

    number = read_number(text.strip().lstrip("£$€"))
    if number is None or number < 0:
        raise BadInputError("the price", text, "money for one kg, such as 9.40")
    return Decimal(repr(number))


def _spare(text: str) -> float:
    from swardbook.foundation.errors import BadInputError
    from swardbook.foundation.quantities import read_number

    number = read_number(text.replace("%", ""))
    if number is None or not 0 <= number <= 100:
        raise BadInputError("the spare", text, "a share such as 0.15, or a percentage such as 15")
    return number / 100 if number > 1 or "%" in text else number


def _payload(answer: MixtureAnswer, notes: list[str], name: str) -> dict[str, Any]:
    from swardbook.book.seed import mixture_workings
    from swardbook.cli import seed_words as words

    shown = mixture_workings(answer)
    order = answer.order
    return {
        "mixture": name,
        **words.shares_payload(answer.mixture, answer.rate_g_m2),
        "rate_g_m2": answer.rate_g_m2,
        "rate_is": "usual" if answer.rate_is_usual else "asked",
        "usual_rate_g_m2": {
            "low": round(answer.usual.low, 3), "value": answer.usual.middle,
            "high": round(answer.usual.high, 3), "reason": answer.usual.reason,
        },
        "method": answer.question.method.value,
        "seeds_per_m2": round(answer.seeds_m2, 1),
        "viable_seeds_per_m2": round(answer.viable_m2, 1),
        "plants_per_m2": {
            "low": round(answer.plants.low), "value": round(answer.plants.middle),
            "high": round(answer.plants.high), "grade": "judged", "reason": answer.plants.reason,
        },
        "weed_seeds_per_m2": words.weeds_payload(answer.weeds),
        "gates": words.gates_payload(answer.gates),
        "comfort": None if answer.comfort is None else words.comfort_payload(answer.comfort),
        "order_kg": None if order is None else round(order.bought_g / 1000, 4),
        "order": None if order is None else words.order_payload(order),
        "hard_to_undo": answer.hard_to_undo,
        "quality_from": words.quality_sentence(answer.mixture),
        "viable_by": words.viable_by(answer.mixture),
        "viable_seeds_per_m2_low": round(answer.rate_g_m2 * answer.mixture.viable_range[0], 1),
        "viable_seeds_per_m2_high": round(answer.rate_g_m2 * answer.mixture.viable_range[1], 1),
        "notes": notes,
        "workings": {"formula": shown.formula, "arithmetic": list(shown.arithmetic),
                     "assumptions": list(shown.assumptions)},
    }  # fmt: skip


def _lines(answer: MixtureAnswer, notes: list[str], name: str) -> list[str]:
    from swardbook.cli import seed_words as words

    usual = answer.usual
    rate = f"{answer.rate_g_m2:g} g/m²"
    chosen = f"Rate {rate}."
    if answer.rate_is_usual:
        chosen = f"Rate {rate}, the usual one ({usual.low:.0f} to {usual.high:.0f}) for" \
                 f" {usual.reason}. Give --rate for another."  # fmt: skip
    lines = [*([name, ""] if name else []), *words.shares_lines(answer.mixture), ""]
    lines += words.told(
        chosen,
        words.seeds_sentence(answer.mixture),
        f"{words.about(answer.seeds_m2)} seeds/m², of which"
        f" {words.viable_words(answer.mixture, answer.rate_g_m2)} can come up:",
    )
    lines += [
        f"  {words.english(part.component.species)}"
        f" {words.about(answer.rate_g_m2 * part.viable_seeds_per_g)}"
        for part in answer.mixture.parts
    ]
    plants = answer.plants
    lines += words.told(
        words.quality_sentence(answer.mixture),
        f"Plants to expect: {float(f'{plants.low:.2g}'):,.0f} to"
        f" {float(f'{plants.high:.2g}'):,.0f}/m², {answer.question.method.value} (judged).",
        "Ryegrass does several times better than its seed number in the first year, and cannot"
        " easily be undone in a fine lawn." if answer.hard_to_undo else "",
    )  # fmt: skip
    lines += ["", *words.weeds_lines(answer.weeds)]
    for more in (
        words.gates_summary(answer.gates),
        words.comfort_lines(answer.comfort) if answer.comfort else [],
        words.order_lines(answer),
        words.told(*notes),
    ):
        lines += ["", *more]
    return words.tidy(lines)
