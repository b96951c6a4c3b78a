"""Mixtures of a trial as typed: a name or lot of the book, with a rate if another than usual."""

from __future__ import annotations

from collections.abc import Sequence

from swardbook.book.fields import rate_and_doubt
from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.husbandry.ground import Ground
from swardbook.seed.lot import SeedLot
from swardbook.seed.rates import usual_rate
from swardbook.trials.bags import Entry
from swardbook.trials.design import UNSOWN


def read_entries(ground: Ground, typed: Sequence[str], has_control: bool) -> tuple[Entry, ...]:
    """Read the mixtures of a trial.

    Parameters
    ----------
    ground : Ground
        The ground with its lots.
    typed : sequence of str
        ``Bobbin``, ``BB-0417`` or ``Bobbin=30``; a mixture that the book does not have needs its
        rate. A bare rate is g/m².
    has_control : bool
        Whether an unsown control is added.

    Returns
    -------
    tuple of Entry
        The entries, the control last.

    Raises
    ------
    BadInputError
        If a mixture stands twice or on several lots, or its rate only makes sense in grams.
    UnknownNameError
        If a name without a rate is none of the book's; offers the nearest.
    """
    entries = []
    for text in typed:
        name, _, rate = (part.strip() for part in text.partition("="))
        per_m2, doubts = rate_and_doubt(rate)
        if doubts:
            raise BadInputError(f"the rate of {name}", rate, "a rate in g/m2", doubts[0].text)
        entries.append(_entry(ground, name, per_m2))
    names = [entry.name.casefold() for entry in entries]
    for entry in entries:
        if names.count(entry.name.casefold()) > 1:
            entries = [_by_lot(each) if each.name == entry.name else each for each in entries]
    if has_control and UNSOWN.casefold() not in names:
        entries.append(Entry(UNSOWN))
    return tuple(entries)


def _entry(ground: Ground, name: str, rate: float | None) -> Entry:
    if name.casefold() == UNSOWN.casefold():
        return Entry(UNSOWN)
    lot = _lot(ground, name)
    if lot is None:
        if rate is None:
            known = [*(each.mixture for each in ground.lots), *(each.code for each in ground.lots)]
            raise UnknownNameError(
                "mixture of the book (one that is not in it needs its rate: NAME=30)", name, known
            )
        return Entry(name, rate_g_m2=rate)
    if rate is None:
        return Entry(lot.mixture, lot.code, usual_rate(lot.parts).middle, lot.parts, True)
    return Entry(lot.mixture, lot.code, rate, lot.parts)


def _lot(ground: Ground, name: str) -> SeedLot | None:
    folded = name.casefold()
    for lot in ground.lots:
        if lot.code.casefold() == folded:
            return lot
    of = [lot for lot in ground.lots if lot.mixture.casefold() == folded]
    if len(of) > 1:
        codes = ", ".join(lot.code for lot in of)
        raise BadInputError(
            "the mixture", name, f"one of its lots: {codes}",
            "Two lots of one name are two seeds until you say otherwise.",
        )  # fmt: skip
    return of[0] if of else None


def _by_lot(entry: Entry) -> Entry:
    """Two lots of one mixture side by side are told apart by their codes."""
    return Entry(
        f"{entry.name} {entry.lot}", entry.lot, entry.rate_g_m2, entry.parts, entry.rate_is_usual
    )
