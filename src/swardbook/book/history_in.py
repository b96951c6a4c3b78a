"""History in: an old spreadsheet or notebook read row by row, shown, and kept when told to."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from pathlib import Path
from uuid import UUID, uuid5

from swardbook.book.count_sheet import OTHER_KINDS, read_kind
from swardbook.book.history_rows import RowRead, read_old_row
from swardbook.book.opening import Book
from swardbook.book.parking import park
from swardbook.feeds.history_notebook import Names, read_notebook
from swardbook.feeds.history_sheet import OldFile, OldRow, read_old_sheet
from swardbook.feeds.old_text import read_old_text
from swardbook.foundation.dates import When
from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.handbook.species import all_species
from swardbook.husbandry.codec import plain_happening
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground, HonestSquare, Peg, Plot
from swardbook.husbandry.happenings import Count
from swardbook.husbandry.looks import doubts
from swardbook.review.places_here import places_not_here

_OURS = UUID("0d0a77b4-6f6d-4c9e-8f0f-3a3d5b1c9c42")
"""Namespace of the ids made here, so that the same row twice is kept once."""
_SEASON = timedelta(days=120)
_RARE = {"sow", "feed", "closure"}
"""Kinds that an entry is held against however long ago they were."""


@dataclass(frozen=True, slots=True)
class HistoryRow:
    """What became of one row of an old file.

    Parameters
    ----------
    line : int
        Line of the file.
    as_it_came : str
        The row.
    entry : DiaryEntry or None
        The diary entry it makes, or the parked row; None only where it stood there before.
    state : str
        ``understood``, ``guessed``, ``parked`` or ``in the diary already``.
    guessed : tuple of str
        What was settled without being said.
    """

    line: int
    as_it_came: str
    entry: DiaryEntry | None
    state: str
    guessed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class HistoryIn:
    """An old file read.

    Parameters
    ----------
    name : str
        The file.
    notes : tuple of str
        How the whole was read.
    rows : tuple of HistoryRow
        Row by row.
    is_kept : bool
        Whether it was written in the diary.
    """

    name: str
    notes: tuple[str, ...]
    rows: tuple[HistoryRow, ...]
    is_kept: bool

    def of(self, state: str) -> tuple[HistoryRow, ...]:
        """Give the rows of one state."""
        return tuple(row for row in self.rows if row.state == state)


def history_in(book: Book, path: Path, zone: str = "", keep: bool = False) -> HistoryIn:
    """Read an old spreadsheet or notebook; nothing is written unless it is to be kept.

    Parameters
    ----------
    book : Book
        The opened book.
    path : Path
        A CSV file with a heading, or plain text with a line for each thing done.
    zone : str
        The zone of rows that name none.
    keep : bool
        Whether to write it in the diary: good rows as entries, bad ones parked, all or none.

    Raises
    ------
    BadInputError
        If the file cannot be read or holds no row.
    UnknownNameError
        If there is no such zone.
    """
    ground = book.ground()
    fallback = ground.zone(zone).name if zone else ""
    file = _read(path, ground)
    if not file.rows:
        raise BadInputError(path.name, "no row", "a heading and rows, or lines that begin by a day")
    read = [read_old_row(row, file.name, ground, book.today, fallback) for row in file.rows]
    entries = _entries(book, file.name, read)
    there = {each.id for each in book.store.whole_diary()}
    everything = Ground(
        ground.site, ground.zones, ground.pegs, ground.squares, ground.plots, ground.lots,
        tuple(sorted([*ground.diary, *(e for e in entries if e and e.id not in there)],
                     key=lambda each: each.when.first)),
    )  # fmt: skip
    around = _Around(everything)
    looked = [each and _looked_at(each, row, around.day(each))
              for each, row in zip(entries, read, strict=True)]  # fmt: skip
    fresh = [each for each in looked if each is not None and each.id not in there]
    slips = [row.slip for row in read if row.slip is not None]
    if keep:
        with book.store.together():
            book.store.add(fresh)
            parked = iter(park(book, slips, When.on(book.today), fallback, ""))
        looked = [next(parked) if row.slip else each
                  for each, row in zip(looked, read, strict=True)]  # fmt: skip
    rows = tuple(
        HistoryRow(row.line, row.as_it_came, each, _state(row, each, there), row.guessed)
        if row.slip is None or each is not None
        else HistoryRow(row.line, row.as_it_came, _as_parked(book, row, fallback), "parked",
                        row.guessed)
        for row, each in zip(read, looked, strict=True)
    )  # fmt: skip
    return HistoryIn(file.name, file.notes, rows, keep)


class _Around:
    """The ground as far as it bears on one day: a season either side, and what is rare."""

    def __init__(self, ground: Ground) -> None:
        self.ground = ground
        self.days = [each.when.first for each in ground.diary]
        self.rare = [each for each in ground.diary if each.what.kind in _RARE]

    def day(self, entry: DiaryEntry) -> Ground:
        """Give the ground with the entries near the day of one."""
        low = bisect_left(self.days, entry.when.first - _SEASON)
        high = bisect_right(self.days, entry.when.last + _SEASON)
        near = self.ground.diary[low:high]
        known = {each.id for each in near}
        both = (*near, *(each for each in self.rare if each.id not in known))
        return replace(self.ground, diary=tuple(sorted(both, key=lambda each: each.when.first)))


def taken_in(book: Book, old: DiaryEntry, row: OldRow, source: str, reason: str) -> DiaryEntry:
    """Make the entry of a parked row that was put right; it is written by the caller.

    Raises
    ------
    BadInputError
        If the row is still not right.
    """
    ground = book.ground()
    read = read_old_row(row, source, ground, book.today, old.zone)
    if read.slip is not None:
        slip = read.slip
        raise BadInputError(slip.column, slip.read, slip.allowed, f"{slip.likely} Still parked.")
    [entry] = _entries(book, source, [read])
    if entry is None:
        raise BadInputError(source, row.as_it_came, "a row that says something")
    note = f"{entry.note} Put right: {reason}".strip()
    return _looked_at(replace(entry, note=note, corrects=old.id), read, ground)


def _read(path: Path, ground: Ground) -> OldFile:
    text = read_old_text(path)
    found = read_old_sheet(text, path.name, _kind_of)
    if found is not None:
        return found
    if path.suffix.casefold() in {".csv", ".tsv"}:
        first = next((line for line in text.splitlines() if line.strip()), "")
        raise BadInputError(
            f"the heading of {path.name}", first[:80],
            "a column called date, and columns such as zone, job, seed, rate, height, note or a"
            " weed's name",
            "A notebook, line by line? Save it as .txt.",
        )  # fmt: skip
    return read_notebook(text, path.name, _names(ground))


def _names(ground: Ground) -> Names:
    kinds = [name for each in all_species().values()
             for name in (each.english, each.latin, *each.other_names)]  # fmt: skip
    placed: tuple[Peg | HonestSquare | Plot, ...] = (*ground.pegs, *ground.squares, *ground.plots)
    return Names(
        zones=tuple(each.name for each in ground.zones),
        seeds=tuple(name for lot in ground.lots for name in (lot.code, lot.mixture)),
        places=tuple(each.name for each in placed),
        kind_of=_kind_of,
        kinds=(*kinds, *OTHER_KINDS),
    )


def _kind_of(name: str) -> str:
    try:
        return read_kind(name) if name.strip() else ""
    except UnknownNameError:
        return ""


def _entries(book: Book, source: str, read: Sequence[RowRead]) -> list[DiaryEntry | None]:
    """Make the entries of good rows; alike rows of one file each have an id of their own."""
    alike: Counter[str] = Counter()
    made: list[DiaryEntry | None] = []
    for row in read:
        if row.what is None or row.when is None:
            made.append(None)
            continue
        content = repr((
            plain_happening(row.what), row.when.first.isoformat(), row.when.last.isoformat(),
            row.zone.casefold(), row.who, row.hours, str(row.money), row.note,
        ))  # fmt: skip
        alike[content] += 1
        note = f"{row.note} [{source}, line {row.line}]".strip()
        made.append(DiaryEntry(
            id=uuid5(_OURS, f"{content} {alike[content]}"), when=row.when, what=row.what,
            zone=row.zone, who=row.who, hours=row.hours, money=row.money, note=note,
            written_on=book.written_on,
        ))  # fmt: skip
    return made


def _looked_at(entry: DiaryEntry, row: RowRead, ground: Ground) -> DiaryEntry:
    places = entry.what.places if isinstance(entry.what, Count) else ()
    strange = places_not_here(ground, entry.zone, places)
    told = [each.text for each in (*row.asked, *strange, *doubts(entry, ground))]
    return replace(entry, needs_a_look=" ".join(dict.fromkeys(told)))


def _as_parked(book: Book, row: RowRead, zone: str) -> DiaryEntry | None:
    """Show a row as it would be parked."""
    if row.slip is None:
        return None
    return DiaryEntry(UUID(int=0), When.on(book.today), row.slip, zone=zone,
                      needs_a_look=row.slip.words)  # fmt: skip


def _state(row: RowRead, entry: DiaryEntry | None, there: set[UUID]) -> str:
    if entry is not None and entry.id in there:
        return "in the diary already"
    if row.slip is not None:
        return "parked"
    return "guessed" if row.guessed else "understood"
