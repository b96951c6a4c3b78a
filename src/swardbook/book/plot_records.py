"""Ratings, heights and clippings of plots, as typed or from a sheet, with what was understood."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from swardbook.book.diary import read_past, write
from swardbook.book.fields import quantity
from swardbook.book.opening import Book
from swardbook.book.parking import park
from swardbook.book.plots_odd import odd_readings
from swardbook.book.plots_parked import parked_cell
from swardbook.book.trial_care import SET_OUT
from swardbook.book.trial_kept import trial_zone
from swardbook.book.trial_traits import read_trait
from swardbook.book.worked_out import last_answer
from swardbook.feeds.csv_rows import read_rows
from swardbook.foundation.errors import (
    BadInputError,
    NotEnoughDataError,
    OutOfRangeError,
    UnknownNameError,
)
from swardbook.foundation.quantities import read_number
from swardbook.handbook.parameters import value
from swardbook.handbook.species import in_words
from swardbook.handbook.traits import Trait, all_traits, find_trait
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.doubt import Doubt
from swardbook.husbandry.ground import Ground, Plot
from swardbook.husbandry.happenings import PlotReadings
from swardbook.husbandry.parked import Parked
from swardbook.husbandry.plot_records import PlotReading

_NOT_READ = {"", "n/a", "na", "-", "–", "not read", "missing", "."}
_TRACE = {"<1", "< 1", "tr", "trace", "+"}
_PLOT = ("plot", "place")
_HEAD_UNIT = re.compile(r"\s*[(\[]?\b(mm|cm|in|inch|inches|g/m2|g/m²|1-9|1 to 9)[)\]]?$")
_BESIDE = {"counter", "who", "rater", "note", "notes", "remark", "placement"}


@dataclass(frozen=True, slots=True)
class PlotRow:
    """What was understood of one row, or of one plot as typed.

    Parameters
    ----------
    where : str
        Line of the sheet, or the plot.
    words : tuple of str
        Cell by cell, in words.
    """

    where: str
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PlotsRead:
    """What was read of plots.

    Parameters
    ----------
    zone : str
        Zone of the trial.
    readings : dict of str to list of PlotReading
        Trait to its readings.
    rows : tuple of PlotRow
        Row by row what was understood.
    parked : tuple of Parked
        Cells that could not be taken.
    """

    zone: str
    readings: Mapping[str, tuple[PlotReading, ...]]
    rows: tuple[PlotRow, ...]
    parked: tuple[Parked, ...] = ()


@dataclass(frozen=True, slots=True)
class PlotsKept:
    """What was kept of readings: an entry for each trait, what looks odd, what is parked."""

    entries: tuple[DiaryEntry, ...]
    asked: tuple[Doubt, ...]
    parked: tuple[DiaryEntry, ...]


@dataclass(frozen=True, slots=True)
class PlotReader:
    """What cells are read with."""

    plots: Mapping[str, Plot]
    area_m2: float | None
    counter: str

    def cell(self, plot: str, trait: Trait, text: str, row: Mapping[str, str]
             ) -> tuple[PlotReading, str]:  # fmt: skip
        """Read a cell; what cannot be taken is kept as typed and used for nothing."""
        counter = next((row[n] for n in ("counter", "who", "rater") if row.get(n)), self.counter)
        note = next((row[n] for n in ("note", "notes", "remark") if row.get(n)), "")
        made = PlotReading(plot, None, counter, note, placement=int(row.get("placement") or 1))
        known = self.plots.get(plot.casefold())
        if known is None:
            told = f"no plot {plot!r} in this trial"
            return replace(made, why_not=told, as_typed=text), f"kept aside: {told}"
        made = replace(made, plot=known.name)
        word = text.strip().casefold()
        if word in _NOT_READ:
            told = "blank, kept as not read" if not word else f"{text}, not read"
            return replace(made, as_typed=text.strip()), told
        if word in _TRACE and not trait.is_rating:
            trace = value("trace_found")
            return replace(made, value=trace, as_typed=text), f"{text}, neither 0 nor 1"
        try:
            number = self._number(trait, text)
        except (BadInputError, OutOfRangeError) as slip:
            told = f"kept aside: {str(slip).rstrip('.')}"
            return replace(made, why_not=str(slip), as_typed=text), told
        return replace(made, value=number), f"{number:g}"

    def _number(self, trait: Trait, text: str) -> float:
        number = read_number(text)
        if number is None and trait.unit == "mm":
            number = quantity(text, "mm", trait.english)
        elif number is None and trait.key == "clippings":
            number = self._clippings(text)
        if number is None:
            raise BadInputError(trait.english, text, f"{trait.lowest:g} to {trait.highest:g}")
        if not trait.lowest <= number <= trait.highest:
            likely = f"{number / 10:g}?" if trait.lowest <= number / 10 <= trait.highest else ""
            raise BadInputError(
                trait.english, text, f"{trait.lowest:g} to {trait.highest:g}", likely
            )
        return number

    def _clippings(self, text: str) -> float:
        if re.fullmatch(r".*/\s*(m2|m²|yd2|yd²|1000\s*ft2)", text.strip(), re.IGNORECASE):
            return quantity(text, "g/m2", "clippings")
        if self.area_m2 is None:
            raise BadInputError("clippings", text, "g/m2; the size of a plot is not in the book")
        return quantity(text, "g", "clippings") / self.area_m2


def typed_readings(
    book: Book, zone: str, trait: str, pairs: Iterable[str], counter: str, placement: int = 1
) -> PlotsRead:
    """Read ``1-01=6`` pairs of one trait.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        Zone of the trial; none where there is only one.
    trait : str
        The trait.
    pairs : iterable of str
        Plot and reading.
    counter : str
        Who read it.
    placement : int
        Which of several readings of a plot.

    Raises
    ------
    BadInputError
        If a pair has no reading, or the zone has no plots.
    UnknownNameError
        If there is no such trait.
    """
    ground = book.ground()
    name = trial_zone(book, zone)
    found = _trait_read(trait)
    reader = reader_of(ground, name, counter)
    rows, readings, parked = [], [], []
    for pair in pairs:
        plot, sign, text = pair.partition("=")
        if not sign:
            raise BadInputError("the reading", pair, "PLOT=NUMBER, such as 1-01=6")
        beside = {"placement": f"{placement}"}
        made, told = reader.cell(plot.strip(), found, text, beside)
        readings.append(made)
        rows.append(PlotRow(plot.strip(), (f"{found.english}: {told}",)))
        parked.append(parked_cell("typed", None, found, made, beside, reader.plots))
    held = {found.key: tuple(readings)} if readings else {}
    return PlotsRead(name, held, tuple(rows), tuple(each for each in parked if each is not None))


def read_plot_sheet(book: Book, zone: str, path: Path, counter: str) -> PlotsRead:
    """Read a sheet with a row for each plot and a column for each trait, row by row.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        Zone of the trial; none where there is only one.
    path : Path
        A CSV file, with commas or semicolons. Lines above the heading are passed over; a cell of
        the heading left empty goes on with the one before it (merged heads).
    counter : str
        Who read where the row does not say.

    Raises
    ------
    BadInputError
        If the file cannot be read, or has no column of plots or of a trait.
    """
    ground = book.ground()
    name = trial_zone(book, zone)
    lines = _lines(path)
    at = next((n for n, row in enumerate(lines) if _heads(row)), None)
    if at is None:
        raise BadInputError(
            f"the heading of {path.name}", ", ".join(lines[0]) if lines else "nothing",
            "a column called plot, and one for each trait",
        )  # fmt: skip
    heads = [head.strip().casefold() for head in lines[at]]
    traits = {n: trait for n, head in enumerate(heads) if (trait := _trait(head)) is not None}
    if not traits:
        known = ", ".join(each.english for each in all_traits().values() if each.key != "cover")
        raise BadInputError(
            f"the heading of {path.name}", ", ".join(heads), f"one or more of {known}",
            "Counts of frames go in with `swardbook count add --file`.",
        )  # fmt: skip
    reader = reader_of(ground, name, counter)
    parked: list[Parked] = []
    readings: dict[str, list[PlotReading]] = {trait.key: [] for trait in traits.values()}
    rows = [
        _read_row(reader, heads, traits, row, (path.name, number), readings, parked)
        for number, row in enumerate(lines[at + 1 :], at + 2) if any(c.strip() for c in row)
    ]  # fmt: skip
    kept = {key: tuple(found) for key, found in readings.items() if found}
    return PlotsRead(name, kept, tuple(rows), tuple(parked))


def keep_readings(
    book: Book, read: PlotsRead, when: str, occasion: str, about: Mapping[str, Any]
) -> PlotsKept:
    """Keep what was read in the diary, one entry for each trait, all or none; park the rest.

    Parameters
    ----------
    book : Book
        The opened book.
    read : PlotsRead
        What was read.
    when, occasion : str
        The day as typed, and what the occasion is called.
    about : mapping
        What any entry can carry: who, hours, money, note.

    Raises
    ------
    NotEnoughDataError
        If nothing was read.
    """
    if not any(each.value is not None or each.why_not for found in read.readings.values()
               for each in found):  # fmt: skip
        raise NotEnoughDataError("what was read on plots", "one reading or more", "none")
    day = read_past(when, book.today)
    plots = {plot.name: plot for plot in book.ground().plots if plot.zone == read.zone}
    entries, asked = [], list[Doubt]()
    with book.store.together():
        for key, found in read.readings.items():
            odd = odd_readings(found, plots)
            what = PlotReadings(key, all_traits()[key].unit, occasion, found)
            entries.append(write(book, what, day, zone=read.zone, asked=odd, **about))
            asked += [each for each in odd if each not in asked]
        rows = [replace(row, about={**row.about, "occasion": occasion}) for row in read.parked]
        kept = park(book, rows, day, read.zone, about.get("who", ""))
    return PlotsKept(tuple(entries), tuple(asked), kept)


def reader_of(ground: Ground, zone: str, counter: str) -> PlotReader:
    """Give what reads the cells of a trial's plots."""
    plots = {plot.name.casefold(): plot for plot in ground.plots if plot.zone == zone}
    kept = last_answer(ground, SET_OUT, zone)
    sides = kept.answer.found if kept is not None else {}
    area = sides["plot_width_m"] * sides["plot_length_m"] if "plot_width_m" in sides else None
    return PlotReader(plots, area, counter)


def _lines(path: Path) -> list[list[str]]:
    try:
        text = path.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError as slip:
        raise BadInputError(str(path), "bytes that are no text", "a CSV file in UTF-8",
                            "Save it as CSV first.") from slip  # fmt: skip
    except OSError as slip:
        raise BadInputError("the sheet", str(path), "a file that can be read",
                            f"{slip.strerror}.") from slip  # fmt: skip
    semicolons = text.count(";") > text.count(",")
    return read_rows(text.splitlines(), ";" if semicolons else ",", path.name)


def _heads(row: Sequence[str]) -> bool:
    return any(cell.strip().casefold() in _PLOT for cell in row)


def _trait_read(name: str) -> Trait:
    """Find a trait; a kind of plant is counted, and the message says how."""
    try:
        return find_trait(name)
    except UnknownNameError:
        _, kind = read_trait(name)
    raise BadInputError(
        "--trait", name, "what is rated or measured, such as quality",
        "A kind of plant is counted: `swardbook count add --place PLOT --points 25 --found"
        f" '{in_words(kind)}=6'`.",
    )  # fmt: skip


def _trait(head: str) -> Trait | None:
    plain = _HEAD_UNIT.sub("", head).strip()
    for word in (head, plain):
        try:
            found = find_trait(word)
        except UnknownNameError:
            continue
        return None if found.key in {"cover", "plants"} else found
    return None


def with_unit(text: str, head: str, trait: Trait) -> str:
    """Put the unit of a column's head behind a bare length, such as ``3`` under ``height cm``."""
    found = _HEAD_UNIT.search(head)
    if found is None or trait.unit != "mm" or read_number(text) is None:
        return text
    unit = {"inch": "in", "inches": "in"}.get(found[1], found[1])
    return f"{text} {unit}" if unit in {"cm", "in"} else text


def _read_row(
    reader: PlotReader, heads: Sequence[str], traits: Mapping[int, Trait], row: Sequence[str],
    where: tuple[str, int], readings: dict[str, list[PlotReading]], parked: list[Parked],
) -> PlotRow:  # fmt: skip
    cells = {head: cell.strip() for head, cell in zip(heads, row, strict=False) if head}
    plot = next((cells[name] for name in _PLOT if cells.get(name)), "")
    if not cells.get("placement", "1").isdigit():
        cells.pop("placement", None)
    words = []
    for place, trait in traits.items():
        text = with_unit(row[place] if place < len(row) else "", heads[place], trait)
        made, told = reader.cell(plot, trait, text, cells)
        readings[trait.key].append(made)
        words.append(f"{trait.english}: {told}")
        held = parked_cell(*where, trait, made, cells, reader.plots)
        parked += [] if held is None else [held]
    known = {*_PLOT, *_BESIDE}
    passed = [head for n, head in enumerate(heads) if head and n not in traits and
              head not in known and cells.get(head)]  # fmt: skip
    if passed:
        words.append(f"not read: {', '.join(passed)}")
    return PlotRow(f"line {where[1]}, {plot or 'no plot'}", tuple(words))
