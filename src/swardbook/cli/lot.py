"""`swardbook lot`: bags of seed, their labels, where they went and what is left."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.doors import Door, door_options
from swardbook.cli.mixture import STANDARDS, label_options, read_label, read_price

if TYPE_CHECKING:
    from collections.abc import Sequence

    from swardbook.book.lots import LotAdded, LotCard
    from swardbook.book.opening import Book
    from swardbook.seed.lot import LotPart


@click.group()
def command() -> None:
    """Record a bag of seed, show what is left of it, and check its label."""


@command.command()
@click.option("--code", default="", help="The lot number, near the bar code or stitched label.")
@click.option("--name", default="", help="The name the mixture is sold by.")
@label_options
@click.option("--cultivar", multiple=True, metavar="NAME=VARIETY", help="Variety of a component.")
@click.option("--weight", default="", metavar="KG", help="Weight bought, in kg.")
@click.option("--price", default="", metavar="MONEY", help="Price of one kg.")
@click.option("--tested", default="", metavar="DAY", help="Date of closing or test.")
@click.option("--standard", type=click.Choice(STANDARDS), default="statutory", show_default=True,
              help="What it is certified to.")  # fmt: skip
@click.option("--note", default="", help="Anything else; kept as typed.")
@click.option("--put-right", is_flag=True, help="Correct the lot of this number.")
@door_options
def add(door: Door, **given: Any) -> None:
    """Record a bag of seed from its label."""
    from swardbook.book.lots import add_lot

    book = door.book()
    lot, notes = _read_lot(given, book)
    added = add_lot(book, lot, given["put_right"])
    said = [*_added_sentences(added), *notes]
    payload = {"lot": _payload(added.card), "code": added.card.lot.code, "notes": said,
               "second_seed": [lot.code for lot in added.namesakes]}  # fmt: skip
    door.show(payload, _added_lines(added, said), book)


@command.command()
@click.argument("code", required=False, default="")
@door_options
def show(door: Door, code: str) -> None:
    """Show one lot in full, or all lots in a line each."""
    from swardbook.book.lots import lot_card, lot_cards

    book = door.book()
    if code:
        card = lot_card(book.ground(), code, book)
        door.show({"lot": _payload(card)}, _lines(card), book)
        return
    cards = lot_cards(book)
    lines = [line for card in cards for line in _short_lines(card)]
    payload = {"lots": [_payload(card) for card in cards]}
    door.show(payload, lines or ["No lot yet. Record one with `swardbook lot add`."], book)


@command.command()
@click.argument("code")
@door_options
def check(door: Door, code: str) -> None:
    """Check the label of a lot; ends with 1 if something is found."""
    from swardbook.book.lots import lot_card
    from swardbook.cli import seed_words as words

    book = door.book()
    card = lot_card(book.ground(), code, book)
    found = _findings(card)
    payload = {"code": card.lot.code, "gates": words.gates_payload(card.gates), "findings": found,
               "doubts": list(card.doubts), "germination_test": _test_payload(card),
               "label_germination": card.promised}  # fmt: skip
    lines = [_title(card), "", *words.gates_lines(card.gates)]
    if not any(gate.found is not None for gate in card.gates):
        lines += words.told("The label gives no purity or germination to hold against the limits.")
    if card.test is not None and not card.below_label:
        lines += ["", *words.told(f"{_test_sentence(card)} {_beside_label(card)}")]
    lines += ["", *(words.told(*found) if found else ["Nothing found."])]
    door.show(payload, words.tidy(lines), book)
    if found:
        raise SystemExit(1)


def _read_lot(given: dict[str, Any], book: Book) -> tuple[Any, list[str]]:
    from swardbook.foundation.dates import read_day
    from swardbook.foundation.quantities import read_quantity
    from swardbook.seed import OTHERS, LotPart, SeedLot, read_parts

    labelled = read_parts(given["parts"]) if given["parts"] else (LotPart(OTHERS, 1.0),)
    parts, notes = read_label(labelled, given["tsw"], given["purity"], given["germination"])
    weight = given["weight"]
    lot = SeedLot(
        code=given["code"],
        mixture=given["name"],
        parts=_with_cultivars(parts, given["cultivar"]),
        bought_g=read_quantity(weight, "kg", "the weight").value if weight else None,
        price_per_kg=str(read_price(given["price"])) if given["price"] else "",
        tested_on=read_day(given["tested"], book.today) if given["tested"] else None,
        statutory_only=given["standard"] == "statutory",
        note=given["note"],
    )
    return lot, notes


def _with_cultivars(parts: Sequence[LotPart], texts: Sequence[str]) -> tuple[LotPart, ...]:
    from dataclasses import replace

    from swardbook.foundation.errors import UnknownNameError
    from swardbook.handbook.species import find_species
    from swardbook.seed import read_pair

    named = {}
    for text in texts:
        name, variety = read_pair(text, "the variety")
        key = find_species(name).key
        if key not in {part.species for part in parts}:
            raise UnknownNameError("part of this lot", key, [part.species for part in parts])
        named[key] = variety
    return tuple(replace(part, cultivar=named.get(part.species, part.cultivar)) for part in parts)


def _added_sentences(added: LotAdded) -> list[str]:
    said = [added.told] if added.told else []
    changed = {lot.code for lot in added.changed}
    for other in added.namesakes:
        more = " Its components or varieties differ." if other.code in changed else ""
        said.append(
            f"Same name as lot {other.code}, other number: this counts as a second seed.{more}"
        )
    return said


def _added_lines(added: LotAdded, said: list[str]) -> list[str]:
    from swardbook.cli import seed_words as words

    kept = [f"Kept: {_title(added.card)}", *words.told(*said), "", *_lines(added.card)[1:]]
    return words.tidy(kept)


def _title(card: LotCard) -> str:
    return f"{card.lot.mixture}, lot {card.lot.code} ({card.state.value})"


def _findings(card: LotCard) -> list[str]:
    from swardbook.cli import seed_words as words

    found = [
        f"{words.english(gate.species)}: {gate.what} {100 * (gate.found or 0):g} % is below the"
        f" statutory {100 * gate.limit.value:g} %."
        for gate in card.failed
        if gate.limit is not None
    ]
    if card.below_label and card.promised is not None:
        found.append(
            f"{_test_sentence(card)} {_promised(card)} lies above that range: the test goes before"
            " the label in every number."
        )
    found += _doubt_sentences(card)
    if card.left_g is not None and card.left_g < 0:
        found.append(
            f"More went out than was bought: {-card.left_g / 1000:.3g} kg. Check which bag went"
            " where."
        )
    return found


def _doubt_sentences(card: LotCard) -> list[str]:
    if "old" in card.doubts:
        ages = [age for age in (card.age_days, card.test_age_days) if age is not None]
        return [
            f"Last tested {min(ages)} days ago, so its germination is doubtful: set 100 seeds to"
            " germinate."
        ]
    if "untested" in card.doubts:
        return [
            "No date of test is known: what comes up may be anything from nothing to the label's"
            " figure. Set 100 seeds to germinate."
        ]
    return []


def _short_lines(card: LotCard) -> list[str]:
    left = "" if card.left_g is None else f", {card.left_g / 1000:.3g} kg left"
    return [f"{_title(card)}{left}"]


def _lines(card: LotCard) -> list[str]:
    from swardbook.cli import seed_words as words
    from swardbook.foundation.dates import say

    lot = card.lot
    lines = [_title(card), "", *_seed_lines(card), ""]
    varieties = [f"{words.english(p.species)}: {p.cultivar}" for p in lot.parts if p.cultivar]
    lines += words.told(*varieties)
    lines += words.told(
        f"Tested or closed {say(lot.tested_on)}, {card.age_days} days ago."
        if lot.tested_on else "",
        _test_sentence(card),
        *_doubt_sentences(card),
    )  # fmt: skip
    lines += ["", *words.told(*_use_sentences(card))]
    lines += ["", *words.gates_summary(card.gates)]
    for each in card.weeds_per_kg:
        lines += words.told(
            f"At most {words.about(each.seeds_m2)} {words.in_text(each.species)} seeds in a kg"
            f" ({each.standard.value} limit)."
        )
    others = ", ".join(card.namesakes)
    lines += words.told(f"Other lots of this name, each a seed of its own: {others}."
                        if others else "")  # fmt: skip
    return words.tidy(lines)


def _seed_lines(card: LotCard) -> list[str]:
    from swardbook.cli import seed_words as words

    if card.mixture is None or card.viable_per_kg_by_label is None:
        return words.told(
            "Not enough data for seed numbers: needs the components by weight; the label gives"
            " none."
        )
    return [
        *words.shares_lines(card.mixture),
        "",
        *words.told(
            f"{words.about(card.viable_per_kg_by_label / 1000)} seeds a gram can come up, by the"
            " label.",
            words.quality_sentence(card.mixture),
        ),
    ]


def _test_sentence(card: LotCard) -> str:
    from swardbook.cli import seed_words as words
    from swardbook.foundation.dates import say

    tested = card.viable_per_kg_tested
    if card.test is None or card.tested_by is None:
        return ""
    test, seeds = card.test, ""
    if tested is not None:
        low, middle, high = (words.about(each / 1000) for each in tested)
        seeds = f"; so {middle} ({low} to {high}) seeds a gram can come up"
    return (
        f"Germination test {say(card.tested_by.day)}: {test.germinated} of {test.seeds},"
        f" {100 * test.share:.0f} % ({100 * test.low:.0f} to {100 * test.high:.0f}){seeds}."
    )


def _beside_label(card: LotCard) -> str:
    if card.promised is None:
        return ""
    where = "in" if _is_in(card) else "below"
    return f"{_promised(card)} lies {where} that range; the test is used."


def _is_in(card: LotCard) -> bool:
    return card.test is not None and card.test.low <= (card.promised or 0.0)


def _promised(card: LotCard) -> str:
    by = card.promised_by
    return f"{by[0].upper()}{by[1:]} {100 * (card.promised or 0.0):.0f} %"


def _test_payload(card: LotCard) -> dict[str, Any] | None:
    test, tested = card.test, card.viable_per_kg_tested
    if test is None:
        return None
    return {
        "seeds": test.seeds, "germinated": test.germinated, "share": test.share,
        "low": test.low, "high": test.high,
        "on": None if card.tested_by is None else card.tested_by.day.isoformat(),
        "is_below_label": card.below_label,
        "viable_seeds_per_kg": None if tested is None else {
            "low": round(tested[0]), "value": round(tested[1]), "high": round(tested[2]),
        },
    }  # fmt: skip


def _use_sentences(card: LotCard) -> list[str]:
    from swardbook.foundation.dates import say

    said = [
        f"{say(use.entry.day)}: {use.entry.what.kind} {use.entry.zone or 'whole site'},"
        f" {'weight not said' if use.grams is None else f'{use.grams:,.0f} g'}."
        for use in card.uses
    ]
    if card.left_g is not None and card.lot.bought_g is not None and card.used_g is not None:
        said.append(
            f"Bought {card.lot.bought_g / 1000:.4g} kg, used {card.used_g / 1000:.3g} kg, left"
            f" {card.left_g / 1000:.3g} kg."
        )
    elif card.lot.bought_g is not None:
        said.append(f"Bought {card.lot.bought_g / 1000:.4g} kg; what is left cannot be told.")
    return said


def _payload(card: LotCard) -> dict[str, Any]:
    from swardbook.cli import seed_words as words

    lot = card.lot
    return {
        "code": lot.code,
        "mixture": lot.mixture,
        "state": card.state.value,
        "doubts": list(card.doubts),
        **({} if card.mixture is None else words.shares_payload(card.mixture, None)),
        "bought_g": lot.bought_g,
        "used_g": card.used_g,
        "left_g": card.left_g,
        "price_per_kg": lot.price_per_kg,
        "tested_on": None if lot.tested_on is None else lot.tested_on.isoformat(),
        "age_days": card.age_days,
        "certified_to": "statutory" if lot.statutory_only else "higher voluntary",
        "viable_seeds_per_kg": None if card.viable_per_kg is None else round(card.viable_per_kg),
        "viable_seeds_per_kg_by_label": None if card.viable_per_kg_by_label is None
        else round(card.viable_per_kg_by_label),
        "viable_by": None if card.mixture is None else words.viable_by(card.mixture),
        "germination_test": _test_payload(card),
        "uses": [
            {"day": use.entry.day.isoformat(), "what": use.entry.what.kind, "zone": use.entry.zone,
             "used_g": use.grams}
            for use in card.uses
        ],
        "gates": words.gates_payload(card.gates),
        "weed_seeds_per_kg": words.weeds_payload(card.weeds_per_kg),
        "other_lots_of_this_name": list(card.namesakes),
        "note": lot.note,
    }  # fmt: skip
