"""Build a mixture: from parts, from a lot's label with other shares, or by blending lots."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from math import fsum

from swardbook.book.kept_mixtures import kept_mixture
from swardbook.book.lots import lot_card
from swardbook.book.opening import Book
from swardbook.book.seed import MixtureQuestion, question_of_lot
from swardbook.foundation.errors import BadInputError
from swardbook.foundation.quantities import read_number, read_quantity
from swardbook.handbook.species import find_species
from swardbook.seed import LotPart, blend, check_sum, read_pair


@dataclass(frozen=True, slots=True)
class Built:
    """A mixture as built.

    Parameters
    ----------
    question : MixtureQuestion
        Its label and price.
    notes : tuple of str
        What was done to reach it.
    """

    question: MixtureQuestion
    notes: tuple[str, ...]


def build(
    book: Book, parts: Sequence[LotPart] = (), start: str = "", take: Sequence[str] = ()
) -> Built:
    """Build a mixture in one of three ways.

    Parameters
    ----------
    book : Book
        The opened book.
    parts : sequence of LotPart
        Parts by weight: all of it, or those that replace a part of `start`.
    start : str
        A lot whose label is changed, or a mixture that was built and kept.
    take : sequence of str
        Lots to blend, each as ``LOT=KG``.

    Raises
    ------
    BadInputError
        If none or several ways are asked, or the shares cannot add up.
    UnknownNameError
        If there is no such lot.
    """
    ways = [bool(take), bool(start), bool(parts) and not start]
    if sum(ways) != 1:
        raise BadInputError(
            "the mixture", "nothing" if not any(ways) else "several ways at once",
            "--part for each component, or --from a lot with changed parts, or --take LOT=KG",
        )  # fmt: skip
    if take:
        return _blended(book, take)
    if start:
        return _changed(book, start, parts)
    check_sum(parts)
    return Built(MixtureQuestion(tuple(parts)), ())


def read_changes(texts: Sequence[str]) -> tuple[LotPart, ...]:
    """Read parts that replace some of a label, such as ``browntop bent=10``; they need not add up.

    Raises
    ------
    BadInputError
        If one is no share.
    UnknownNameError
        If there is no such species.
    """
    found = []
    for text in texts:
        name, given = read_pair(text, "a part")
        number = read_number(given.replace("%", ""))
        if number is None or not 0 <= number <= 100:
            raise BadInputError("a part", text, "a percentage by weight, such as 20")
        found.append(LotPart(find_species(name).key, number / 100))
    return tuple(found)


def _blended(book: Book, take: Sequence[str]) -> Built:
    lots, money, told, notes = [], Decimal(0), [], list[str]()
    for text in take:
        code, found, weight = text.partition("=")
        if not found or not weight.strip():
            raise BadInputError("a lot to blend", text, "LOT=KG, such as BB-0417=4")
        lot, question = question_of_lot(book, code.strip())
        grams = read_quantity(weight.strip(), "kg", f"the weight of {lot.code}").value
        if grams <= 0:
            raise BadInputError(
                "a lot to blend", text, "a weight above 0", "Leave it out for none."
            )
        notes += _left(book, lot.code, grams)
        lots.append((question.known_parts, grams))
        told.append(f"{lot.mixture}, lot {lot.code}: {grams / 1000:g} kg")
        if question.price_per_kg is None:
            money = Decimal("NaN")
        else:
            money += question.price_per_kg * Decimal(repr(grams))
    total = Decimal(repr(fsum(grams for _, grams in lots)))
    label = blend(lots)
    price = None if money.is_nan() or not total else money / total
    told_first = (
        f"Blended: {'; '.join(told)}.",
        "Small seed settles in a blend: mix it again before each bay.",
    )
    return Built(MixtureQuestion(label, price_per_kg=price), (*told_first, *notes))


def _left(book: Book, code: str, grams: float) -> list[str]:
    """Say where more is taken of a lot than the book says is left."""
    left = lot_card(book.ground(), code, book).left_g
    if left is None or grams <= left:
        return []
    return [f"{code}: {max(left, 0.0) / 1000:.3g} kg left by the book, {grams / 1000:g} kg taken."]


def _start(book: Book, name: str) -> tuple[str, MixtureQuestion]:
    """Find what is changed: a lot, else a kept mixture."""
    ground = book.ground()
    built = kept_mixture(ground, name)
    if built is not None and name.strip().casefold() not in {
        lot.code.casefold() for lot in ground.lots
    }:
        return built[0], MixtureQuestion(built[1])
    lot, question = question_of_lot(book, name)
    return f"{lot.mixture}, lot {lot.code}", question


def _changed(book: Book, start: str, parts: Sequence[LotPart]) -> Built:
    title, question = _start(book, start)
    replaced = {part.species for part in parts}
    kept = [part for part in question.known_parts if part.species not in replaced]
    left = 1.0 - fsum(part.share_by_weight for part in parts)
    there = fsum(part.share_by_weight for part in kept)
    if left < 0 or (left > 0 and not there):
        raise BadInputError(
            "the changed parts", f"{100 * (1 - left):g} %", "parts that leave room for the rest"
        )
    scaled = [
        replace(part, share_by_weight=part.share_by_weight * left / there) for part in kept if left
    ]
    label = (*(part for part in parts if part.share_by_weight > 0), *scaled)
    check_sum(label)
    notes = (
        f"Changed from {title}; the other parts keep their proportions. It stays as it is itself;"
        " its price is not taken over.",
    )
    return Built(replace(question, parts=label, price_per_kg=None, test=None), notes)
