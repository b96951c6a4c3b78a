"""The rota sheet: who pulls where, on one sheet with tally boxes."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from swardbook.book.opening import Book, for_others
from swardbook.book.pictures import note_of
from swardbook.book.plan import situations
from swardbook.feeds.picture_file import check_paper_path, save_pdf
from swardbook.figures.rota_sheet import RotaSheet, StripRow, rota_pdf
from swardbook.foundation.dates import say
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.handbook.cautions import cautions_for
from swardbook.planning.pulling_strips import PullingStrip, PullingStrips, pulling_strips
from swardbook.planning.tasks import HoursRange
from swardbook.review.words import figure

MOST_STRIPS = 16


@dataclass(frozen=True, slots=True)
class Rota:
    """Strips of a zone to share out.

    Parameters
    ----------
    zone : str
        The zone.
    day : date
        The day it is for.
    found : PullingStrips
        The strips, those with most plants an hour first.
    sheet : RotaSheet
        The same in words, to print.
    """

    zone: str
    day: date
    found: PullingStrips
    sheet: RotaSheet


@for_others()
def rota(book: Book, zone: str, strips: int = 4) -> Rota:
    """Cut a zone into strips for pulling, with plants and hours of each.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        Name of the zone.
    strips : int
        How many strips.

    Raises
    ------
    UnknownNameError
        If there is no such zone.
    NotEnoughDataError
        If plants were never counted there.
    """
    [sit] = situations(book, zone)
    found = pulling_strips(sit, strips)
    if found is None:
        raise NotEnoughDataError(
            f"a rota for {sit.zone.name}", "a count of plants in frames of 1 m²", "none"
        )
    total = HoursRange(found.hours.low, found.hours.high)
    about = (
        f"Strips of one width{', numbered ' + found.along if found.along else ''}. Plants by the"
        f" count of {say(found.counted_on)}; those where an hour takes most come first. One pass"
        f" over all of it: {total.words}, all people together."
    )
    sheet = RotaSheet(
        sit.zone.name, about, tuple(_row(each) for each in found.strips),
        tuple(each.text for each in cautions_for("pull")), note_of(book),
    )  # fmt: skip
    return Rota(sit.zone.name, book.today, found, sheet)


def rota_paper(made: Rota) -> bytes:
    """Set the rota as a tagged PDF of one A4 page."""
    return rota_pdf(made.sheet)


def check_rota_place(path: Path) -> None:
    """Refuse a place where no paper should go, before it is set."""
    check_paper_path(path)


def save_rota(path: Path, made: Rota) -> None:
    """Write the rota to a file.

    Raises
    ------
    BadInputError
        If no PDF should go there.
    StorageError
        If the disk would not take it.
    """
    save_pdf(path, rota_paper(made))


def _row(each: PullingStrip) -> StripRow:
    where = f"strip {each.number}"
    if each.begins_m is not None and each.ends_m is not None:
        where += f", {each.begins_m:.1f} to {each.ends_m:.1f} m"
    if each.low is None or each.high is None:
        thick = f"{figure(each.per_m2, 1)} (the zone's)"
    else:
        thick = f"{figure(each.per_m2, 1)} ({figure(each.low, 1)} to {figure(each.high, 1)})"
    hours = HoursRange(each.hours.low, each.hours.high).words
    return StripRow(where, f"{each.area_m2:.0f}", thick, f"{each.plants:,.0f}", hours)
