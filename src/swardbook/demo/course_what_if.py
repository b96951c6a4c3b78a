"""What if: one input changed in a copy of the book, and the same question asked of both."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from uuid import uuid4

from swardbook.book.comparing import compare_days, zone_review
from swardbook.book.fields import quantity
from swardbook.book.mixtures_beside import mixtures_beside
from swardbook.book.opening import Book
from swardbook.book.sandbox import Tried, tried
from swardbook.book.seed import question_of_lot, work_out
from swardbook.demo.course import course_of
from swardbook.demo.course_answers import AUGUST, compared_told, pair_in_trial, pair_told
from swardbook.demo.names import MAIN, MEADOW_GRASS, TRIAL
from swardbook.foundation.errors import (
    BadInputError,
    NotEnoughDataError,
    OutOfRangeError,
    UnknownNameError,
)
from swardbook.foundation.quantities import read_number
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.happenings import Count
from swardbook.observations.counts import PlaceCount
from swardbook.observations.samples import Smallest

OCTOBER = date(2011, 10, 8)
BENT = "browntop bent"
LOT = "BB-0417"
_SOWN = date(2010, 9, 1)
Told = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WhatIf:
    """One input that may be changed in a copy.

    Parameters
    ----------
    key, title : str
        Its name and title.
    says : str
        What is changed, and what is asked.
    label, unit : str
        What the value is, and its unit; empty for a plain number.
    low, high, step : float
        What it may be, and by what steps.
    change : callable
        Writes a value into the copy.
    question : callable
        Asks a book, in sentences.
    lesson : str
        What to see in it.
    """

    key: str
    title: str
    says: str
    label: str
    unit: str
    low: float
    high: float
    step: float
    change: Callable[[Book, float], None]
    question: Callable[[Book], Told]
    lesson: str


def what_ifs(book: Book) -> tuple[WhatIf, ...]:
    """Give what can be tried on a made-up ground.

    Raises
    ------
    NoCourseError
        If the ground is somebody's own.
    """
    course_of(book)
    return tuple(_WHAT_IFS.values())


def read_value(key: str, text: str) -> float:
    """Read what is changed, as it was typed, with or without a unit.

    Returns
    -------
    float
        The value. [the unit of what is changed]

    Raises
    ------
    UnknownNameError
        If nothing of that name can be changed.
    BadInputError
        If it is no number.
    """
    what = _what_if(key)
    if what.unit:
        return quantity(text, what.unit, what.label)
    number = read_number(text)
    if number is None or number != int(number):
        raise BadInputError(what.label, text, "a whole number")
    return number


def try_out(book: Book, key: str, number: float) -> Tried[Told]:
    """Change one input in a copy of the book, and give the answer before and after.

    Parameters
    ----------
    book : Book
        The opened book of the made-up ground; it is only read.
    key : str
        What is changed.
    number : float
        Its new value. [the unit of what is changed]

    Raises
    ------
    NoCourseError
        If the ground is somebody's own.
    UnknownNameError
        If nothing of that name can be changed.
    OutOfRangeError
        If the value is out of what may be tried.
    """
    course_of(book)
    what = _what_if(key)
    if not what.low <= number <= what.high:
        allowed = f"{what.low:g} to {what.high:g}"
        raise OutOfRangeError(what.label, number, allowed, what.unit)
    return tried(book, lambda copy: what.change(copy, number), what.question)


def _what_if(key: str) -> WhatIf:
    if key not in _WHAT_IFS:
        raise UnknownNameError("what-if", key, list(_WHAT_IFS))
    return _WHAT_IFS[key]


def _counted_anew(
    book: Book, day: date, anew: Callable[[tuple[PlaceCount, ...]], tuple[PlaceCount, ...]]
) -> None:
    """Put a count of the Main court right in the copy, as any entry is: the old one is kept."""
    for entry in book.ground().entries(MAIN, Count.kind):
        if entry.day == day and isinstance(entry.what, Count):
            book.store.add([_corrected(entry, replace(entry.what, places=anew(entry.what.places)))])


def _corrected(entry: DiaryEntry, what: Count) -> DiaryEntry:
    return replace(entry, id=uuid4(), what=what, corrects=entry.corrects or entry.id, note="Tried.")


def _more_hits(book: Book, number: float) -> None:
    def anew(places: tuple[PlaceCount, ...]) -> tuple[PlaceCount, ...]:
        made = []
        for place in places:
            found = dict(place.found)
            there = found.pop(MEADOW_GRASS, 0.0)
            hits = min(max(there + number, 0.0), place.looked)
            over = max(hits + sum(found.values()) - place.looked, 0.0)
            for kind in sorted(found, key=lambda kind: -found[kind]):
                taken = min(found[kind], over)
                found[kind], over = found[kind] - taken, over - taken
            made.append(replace(place, found={**found, MEADOW_GRASS: hits}))
        return tuple(made)

    _counted_anew(book, OCTOBER, anew)


def _fewer_places(book: Book, number: float) -> None:
    def anew(places: tuple[PlaceCount, ...]) -> tuple[PlaceCount, ...]:
        names = sorted({place.place for place in places})[: int(number)]
        return tuple(place for place in places if place.place in names)

    for day in AUGUST:
        _counted_anew(book, day, anew)


def _fewer_blocks(book: Book, number: float) -> None:
    for plot in book.store.ground().plots:
        if plot.zone == TRIAL and plot.block > number:
            book.store.save_plot(
                replace(plot, left_out_from=_SOWN, why_left_out="tried"), on=book.today
            )


def _other_height(book: Book, number: float) -> None:
    zone = book.store.ground().zone(TRIAL)
    if zone.height_of_cut_mm != number:
        book.store.save_zone(replace(zone, height_of_cut_mm=number), on=book.today)


def _other_seed_weight(book: Book, number: float) -> None:
    lot = book.store.ground().lot(LOT)
    parts = tuple(
        replace(part, thousand_seed_weight=number) if part.species == BENT else part
        for part in lot.parts
    )
    book.store.save_lot(replace(lot, parts=parts), on=book.today)


def _october(book: Book) -> Told:
    return (zone_review(book, MAIN, MEADOW_GRASS, Smallest.customary()).sentence,)


def _august(book: Book) -> Told:
    days = compare_days(book, MAIN, MEADOW_GRASS, Smallest.customary(), *AUGUST)
    return compared_told(days.compared)


def _pair(book: Book) -> Told:
    try:
        return (pair_told(pair_in_trial(book, "Bobbin", "Gatepost")),)
    except NotEnoughDataError as lack:
        return (str(lack),)


def _comfort(book: Book) -> Told:
    beside, _ = mixtures_beside(book.ground(), TRIAL, TRIAL, book.today)
    told = [
        f"{name}: {each.comfort.below[0].species} is cut {each.comfort.below[0].below_mm:.0f} mm"
        " below the range it is comfortable in."
        for name, each in beside.items()
        if each.comfort.below and each.comfort.below[0].below_mm >= 0.5
    ]
    return tuple(told) or ("No mixture is cut below the range it is comfortable in.",)


def _by_number(book: Book) -> Told:
    _, asked = question_of_lot(book, LOT)
    made = work_out(asked)
    bent = next(part for part in made.mixture.parts if part.component.species == BENT)
    return (
        f"{bent.share_of_viable:.0%} of Bobbin's seeds that can come up are {BENT};"
        f" at {made.rate_g_m2:g} g/m² about {made.viable_m2:,.0f} of all kinds a square metre.",
    )


_WHAT_IFS: Mapping[str, WhatIf] = {each.key: each for each in (
    WhatIf("places", "Fewer places",
           "The Main court from August 2010 to August 2011, had fewer places been counted.",
           "Places counted", "", 2, 24, 1, _fewer_places, _august,
           "Where does it stop being clear, and where is it no longer compared at all?"),
    WhatIf("hits", "A count that was read otherwise",
           "The Main court's year, had every frame of 8 October 2011 more or fewer crossings of"
           " annual meadow-grass.",
           "Crossings more in each frame", "", -5, 8, 1, _more_hits, _october,
           "How far off may a counter read before the word for the year changes?"),
    WhatIf("blocks", "Fewer repeats",
           "Bobbin beside Gatepost, had the trial fewer blocks.",
           "Blocks of the trial", "", 2, 4, 1, _fewer_blocks, _pair,
           "The same plots, fewer of them: what is only just clear does not stay so."),
    WhatIf("height", "Another height of cut",
           "Which mixtures of the trial are cut too low, were it cut at another height.",
           "Height of cut", "mm", 5, 60, 1, _other_height, _comfort,
           "A trial answers for its own height of cut."),
    WhatIf("seed-weight", "Another weight of seed",
           "Bobbin by number of seeds, had a thousand seeds of browntop bent another weight.",
           "Weight of a thousand seeds", "g", 0.04, 0.12, 0.01, _other_seed_weight, _by_number,
           "Varieties differ by a fifth in seed weight, so a share by number is no exact figure."),
)}  # fmt: skip
