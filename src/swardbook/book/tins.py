"""What tins on the lawn say of a sprinkler or hose, for a zone of the book."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from swardbook.book.fields import quantity
from swardbook.book.opening import Book
from swardbook.book.worked_out import Answer
from swardbook.foundation.errors import BadInputError
from swardbook.foundation.quantities import read_number, require
from swardbook.husbandry.happenings import Reading
from swardbook.husbandry.tins import Evenness, evenness, longest_run, rate_mm_h

ABOUT = "tins"


@dataclass(frozen=True, slots=True)
class TinsAnswer:
    """How evenly and how fast water falls, and whether the ground takes it.

    Parameters
    ----------
    even : Evenness
        How evenly it falls.
    falls_mm_h : float or None
        How fast it falls; None where the minutes are not known. [mm h⁻¹]
    sinks_mm_h : float or None
        How fast it sinks in where it sinks slowest; None where nobody measured. [mm h⁻¹]
    sinks_from : str
        Where that was measured: a number of readings in a zone, or as told.
    longest_run_min : float or None
        Longest run in one go; None where the ground keeps up, or it is not known. [min]
    wanted_mm : float or None
        Depth asked for. [mm]
    run_min : float or None
        Minutes that the depth takes. [min]
    turns : int or None
        In how many turns to give it, so that it does not puddle.
    """

    even: Evenness
    falls_mm_h: float | None
    sinks_mm_h: float | None
    sinks_from: str
    longest_run_min: float | None
    wanted_mm: float | None
    run_min: float | None
    turns: int | None


def read_infiltration(text: str, name: str = "--infiltration") -> float:
    """Read ``6`` or ``6 mm/h`` or ``25 mm in 22 min``.

    Parameters
    ----------
    text : str
        What was typed.
    name : str
        What it is, for the message.

    Returns
    -------
    float
        How fast water sinks in. [mm h⁻¹]

    Raises
    ------
    BadInputError
        If it is neither.
    """
    if timed := re.fullmatch(r"(.+)\s+in\s+(.+)", text.strip(), re.IGNORECASE):
        depth = quantity(timed[1], "mm", name)
        return rate_mm_h(depth, quantity(timed[2], "min", name))
    number = read_number(re.sub(r"\s*mm\s*/\s*h\s*$", "", text.strip()))
    hourly = re.fullmatch(r"(.+?)\s*/\s*h", text.strip(), re.IGNORECASE)
    if number is None and hourly:
        return rate_mm_h(quantity(hourly[1], "mm", name), 60.0)
    if number is None:
        raise BadInputError(name, text, "mm an hour, such as 6, or '25 mm in 22 min'")
    return require("infiltration", number, 0, 10_000, "mm/h")


def read_tins(
    caught: Sequence[str], minutes: float | None, wanted_mm: float | None, infiltration: str,
) -> TinsAnswer:  # fmt: skip
    """Work out what tins say, without a book; see `tins_of_zone`."""
    sinks = read_infiltration(infiltration) if infiltration else None
    return _answer(caught, minutes, wanted_mm, sinks, "as told" if infiltration else "")


def tins_of_zone(
    book: Book, zone: str, caught: Sequence[str], minutes: float | None,
    wanted_mm: float | None = None,
) -> TinsAnswer:  # fmt: skip
    """Work out what tins say where the ground takes water as its slowest reading in the diary.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        The zone by name.
    caught : sequence of str
        What each tin caught, as typed; bare numbers are mm.
    minutes : float or None
        How long the water ran. [min]
    wanted_mm : float or None
        Depth asked for. [mm]
    """
    ground = book.ground()
    name = ground.zone(zone).name
    sinks = [
        entry.what.value
        for entry in ground.entries(name, "reading")
        if isinstance(entry.what, Reading)
        and entry.zone
        and entry.what.quantity.casefold() == "infiltration"
    ]
    where = f"slowest of {len(sinks)} in {name}" if sinks else ""
    return _answer(caught, minutes, wanted_mm, min(sinks, default=None), where)


def kept_tins(found: TinsAnswer) -> Answer:
    """Give what tins say as an answer to keep."""
    even = found.even
    rate = {} if found.falls_mm_h is None else {"falls_mm_h": found.falls_mm_h}
    words = f"evenness {even.share:.2f}, lowest quarter ({even.lowest} of {even.tins}) over mean"
    return Answer(ABOUT, words, {}, {"evenness_share": even.share, **rate})


def _answer(
    caught: Sequence[str], minutes: float | None, wanted_mm: float | None,
    sinks: float | None, sinks_from: str,
) -> TinsAnswer:  # fmt: skip
    even = evenness([quantity(each, "mm", "a tin") for each in caught])
    falls = rate_mm_h(even.mean, minutes) if minutes is not None else None
    run = wanted_mm * 60 / falls if wanted_mm is not None and falls else None
    longest = longest_run(falls, sinks) if falls and sinks is not None else None
    turns = None
    if run is not None and sinks is not None:
        turns = 1 if longest is None else max(-(-run // longest), 1)
    return TinsAnswer(
        even, falls, sinks, sinks_from, longest, wanted_mm, run,
        None if turns is None else int(turns),
    )  # fmt: skip
