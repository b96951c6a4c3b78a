"""Counts as typed or read from a sheet, with what was understood of every cell."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from swardbook.feeds.csv_rows import read_rows
from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.foundation.quantities import read_number
from swardbook.handbook.parameters import value
from swardbook.handbook.species import all_species, find_species, in_words
from swardbook.husbandry.parked import Parked
from swardbook.observations.counts import Method, PlaceCount
from swardbook.observations.odd_counts import to_nearest_step

OTHER_KINDS = ("sown", "bare", "moss", "broad-leaved", "litter", "other", "cannot tell")
_NOT_COUNTED = {"", "n/a", "na", "-", "–", "not counted", "blank", "."}
_BELOW_ONE = {"<1": "below 1", "< 1": "below 1", "tr": "a trace", "trace": "a trace",
              "+": "a trace"}  # fmt: skip
COLUMNS = {"place", "counter", "placement", "points", "area_m2"}
"""Columns of a count's sheet that are no kinds."""
ABOUT = ("method", "looked", "counter", "when", "zone", "occasion")
"""What is said beside the rows of a count, by name."""


@dataclass(frozen=True, slots=True)
class Frame:
    """How every place of a count was looked at.

    Parameters
    ----------
    method : Method
        Points, plants or by eye.
    looked : float
        Points in the frame, its area [m²], or 100 by eye.
    """

    method: Method
    looked: float


@dataclass(frozen=True, slots=True)
class Understood:
    """What was understood of one row, or of one place as typed.

    Parameters
    ----------
    where : str
        Line of the sheet, or the place.
    place : PlaceCount or None
        The count; None where nothing in the row was counted, or it could not be taken.
    words : tuple of str
        Cell by cell, in words.
    row : Parked or None
        The row as it came.
    slip : Parked or None
        The row with what is wrong in it, where it could not be taken.
    """

    where: str
    place: PlaceCount | None
    words: tuple[str, ...]
    row: Parked | None = None
    slip: Parked | None = None


def choose_frame(method: str, points: int | None, area_m2: float | None) -> Frame:
    """Choose how places were looked at from what was said.

    Parameters
    ----------
    method : str
        ``points``, ``plants``, ``by eye`` or empty to take it from the others.
    points : int or None
        Crossings of the frame.
    area_m2 : float or None
        Area of the frame. [m²]

    Raises
    ------
    BadInputError
        If the method is unknown, or plants are counted in a frame without an area.
    """
    word = method.strip().casefold().replace("-", " ")
    if not word:
        word = Method.PLANTS.value if area_m2 is not None else Method.POINTS.value
    try:
        chosen = Method(word)
    except ValueError:
        raise BadInputError("--method", method, ", ".join(each.value for each in Method)) from None
    if chosen is Method.BY_EYE:
        return Frame(chosen, 100.0)
    if chosen is Method.POINTS:
        return Frame(chosen, float(points or value("frame_points")))
    if area_m2 is None:
        raise BadInputError("--area", area_m2, "the area of the frame in m2, such as 0.25 or 1")
    return Frame(chosen, area_m2)


def read_kind(name: str) -> str:
    """Give the key of what was counted.

    Raises
    ------
    UnknownNameError
        If it is neither a species nor ground, moss ...; offers the nearest names.
    """
    word = " ".join(name.strip().casefold().replace("_", " ").split())
    if word in OTHER_KINDS:
        return word
    try:
        return find_species(word).key
    except UnknownNameError:
        known = [each.english for each in all_species().values()]
        raise UnknownNameError("species", name, [*known, *OTHER_KINDS]) from None


def typed_place(
    place: str, frame: Frame, pairs: Iterable[str], counter: str, placement: int = 1
) -> Understood:
    """Read one place from ``kind=number`` pairs; what cannot be is parked, not refused.

    Raises
    ------
    BadInputError
        If a pair has no number.
    UnknownNameError
        If a kind is unknown.
    """
    cells: dict[str, str] = {"place": place, "placement": f"{placement}"}
    for pair in pairs:
        name, found, text = pair.partition("=")
        if not found:
            raise BadInputError("--found", pair, "kind=number, such as 'annual meadow-grass=5'")
        cells[read_kind(name)] = text
    return read_row(Parked("count", "typed", cells=cells), frame, counter)


def read_sheet(path: Path, frame: Frame, counter: str) -> tuple[Understood, ...]:
    """Read a sheet with a row for each place and a column for each kind.

    Parameters
    ----------
    path : Path
        A CSV file, with commas or semicolons. Its first line names ``place`` and the kinds;
        ``counter``, ``placement``, ``points`` and ``area_m2`` may stand beside them, and columns
        of words, which go into the note.
    frame : Frame
        How every place was looked at where the row does not say.
    counter : str
        Who counted where the row does not say.

    Returns
    -------
    tuple of Understood
        One for each row that is not empty; a blank cell is not counted, 0 is looked and none. A
        row with a cell that cannot be taken has its `slip`.

    Raises
    ------
    BadInputError
        If the file cannot be read or has no ``place`` column.
    UnknownNameError
        If a column with numbers in it is no known kind.
    """
    text = _text_of(path)
    first = text.partition("\n")[0]
    rows = read_rows(text.splitlines(), ";" if ";" in first else ",", path.name)
    heads = [head.strip().casefold() for head in rows[0]] if rows else []
    if "place" not in heads:
        raise BadInputError(f"the heading of {path.name}", first, "a column called place")
    notes = _note_columns(heads, rows[1:])
    return tuple(
        read_row(_parked_row(path.name, number, heads, row, notes), frame, counter)
        for number, row in enumerate(rows[1:], 2)
        if any(cell.strip() for cell in row)
    )


def read_row(row: Parked, frame: Frame, counter: str) -> Understood:
    """Read one row of a count; its `slip` says what could not be taken.

    Parameters
    ----------
    row : Parked
        The row by its cells.
    frame : Frame
        How it was looked at where the row does not say.
    counter : str
        Who counted where the row does not say.
    """
    place = row.cells.get("place", "").strip()
    where = f"line {row.line}" if row.line else place
    said = {"method": frame.method.value, "looked": f"{frame.looked:g}", "counter": counter}
    came = replace(row, about={**said, **row.about})
    words: list[str] = []
    try:
        if row.column:
            raise BadInputError(row.column, row.read, row.allowed, row.likely)
        return Understood(where, _place_of(row.cells, frame, counter, words), tuple(words), came)
    except BadInputError as slip:
        parked = replace(came, column=slip.what, read=str(slip.read), allowed=slip.allowed,
                         likely=slip.hint)  # fmt: skip
        return Understood(where, None, (*words, f"parked: {parked.words}"), came, parked)


def _note_columns(heads: Sequence[str], rows: Sequence[Sequence[str]]) -> set[str]:
    """Find columns of words that are no kinds; one with numbers is a kind misspelt.

    Raises
    ------
    UnknownNameError
        If a column with numbers in it is no known kind.
    """
    notes = set()
    for place, head in enumerate(heads):
        try:
            if head and head not in COLUMNS:
                _column_kind(head)
        except UnknownNameError:
            cells = [row[place].strip() for row in rows if place < len(row)]
            if any(read_number(cell.removesuffix("%")) is not None for cell in cells):
                raise
            notes.add(head)
    return notes


def _parked_row(
    name: str, number: int, heads: Sequence[str], row: Sequence[str], notes: set[str]
) -> Parked:
    whole = {head: cell.strip() for head, cell in zip(heads, row, strict=False) if head}
    cells = {head: cell for head, cell in whole.items() if head not in notes}
    note = "; ".join(
        f"{head}: {whole[head]}" for head in heads if head in notes and whole.get(head)
    )
    about = {"note": note} if note else {}
    over = [cell.strip() for cell in row[len(heads) :]]
    if not any(over):
        return Parked("count", name, number, cells=cells, about=about)
    cells |= {f"cell {n}": cell for n, cell in enumerate(over, len(heads) + 1)}
    return Parked(
        "count", name, number, f"cell {len(heads) + 1}", ", ".join(over),
        f"{len(heads)} cells, as in the heading",
        "Decimal commas? Then put ; between columns.", cells, about,
    )  # fmt: skip


def _text_of(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError as slip:
        raise BadInputError(str(path), "bytes that are no text", "a CSV file in UTF-8",
                            "Save it as CSV first.") from slip  # fmt: skip
    except OSError as slip:
        raise BadInputError("the sheet", str(path), "a file that can be read",
                            f"{slip.strerror}.") from slip  # fmt: skip


def _column_kind(head: str) -> str:
    try:
        return read_kind(head)
    except UnknownNameError as slip:
        raise UnknownNameError("kind to count, as a column,", head, slip.known) from slip


def _place_of(
    cells: Mapping[str, str], frame: Frame, counter: str, words: list[str]
) -> PlaceCount | None:
    """Read the place from its cells, telling each in `words`; None if nothing was counted."""
    found: dict[str, float] = {}
    for head, text in cells.items():
        if head in COLUMNS or not head:
            continue
        kind = _column_kind(head)
        number, told = _read_cell(kind, text, frame.method)
        words.append(f"{in_words(kind)}: {told}")
        if number is not None:
            found[kind] = number
    if not found:
        return None
    place = cells.get("place", "").strip()
    if not place:
        raise BadInputError("place", "", "the peg, plot or honest square", "Which place was it?")
    looked = _looked(cells, frame)
    _check_crossings(frame.method, looked, found)
    placement = _whole("placement", cells.get("placement") or "1")
    who = cells.get("counter") or counter
    return PlaceCount(place, frame.method, found, looked, who, placement)


def _looked(cells: Mapping[str, str], frame: Frame) -> float:
    looked = frame.looked
    for column, method in (("points", Method.POINTS), ("area_m2", Method.PLANTS)):
        if cells.get(column) and frame.method is method:
            looked = _number(column, cells[column])
    if not looked > 0:
        raise BadInputError("the frame", f"{looked:g}", "more than 0")
    most = value("frame_area_most_m2")
    if frame.method is Method.PLANTS and looked > most:
        points = "or is that its crossings? Then --points and no --area."
        raise BadInputError(
            "area_m2", f"{looked:g}", f"a frame of up to {most:g} m2",
            f"{looked / 100:g} m2, {points} More frames at a place are rows of their own.",
        )  # fmt: skip
    return looked


def _check_crossings(method: Method, looked: float, found: Mapping[str, float]) -> None:
    total = sum(found.values())
    if method is Method.POINTS and total > looked:
        raise BadInputError(
            "all kinds together", f"{total:g}", f"at most {looked:g} crossings",
            f"{looked:g} crossings in this frame; you have {total:g}. Recount, or drop to"
            f" {looked:g}? Cover by eye can overlap: say --method by-eye.",
        )  # fmt: skip


def _read_cell(kind: str, text: str, method: Method) -> tuple[float | None, str]:
    plain = text.strip().casefold().removesuffix("%").strip()
    if plain in _NOT_COUNTED:
        return None, "blank, kept as not counted" if not plain else f"{text}, not counted"
    if plain in _BELOW_ONE:
        return value("trace_found"), f"{_BELOW_ONE[plain]}, neither 0 nor 1"
    number = _number(kind, text.strip().removesuffix("%"))
    if number < 0:
        raise BadInputError(kind, text, "0 or more", "If you looked and found none, put 0.")
    if method is Method.BY_EYE:
        if number > 100:
            raise BadInputError(kind, text, "0 to 100 % by eye", f"{number / 10:g} %?")
        kept = to_nearest_step(number)
        told = f"{kept:g} %" if kept == number else f"by eye, to the nearest 5: {kept:g} %"
        return kept, told
    if number != int(number):
        raise BadInputError(kind, text, "a whole number", "Cover by eye? Say --method by-eye.")
    return number, "0, looked and none" if number == 0 else f"{number:g}"


def _whole(what: str, text: str) -> int:
    number = _number(what, text)
    if number < 1 or number != int(number):
        raise BadInputError(what, text, "a whole number from 1")
    return int(number)


def _number(what: str, text: str) -> float:
    number = read_number(text)
    if number is not None:
        return number
    meant = text.strip().translate(str.maketrans("oOlI", "0011"))
    hint = f"{meant}?" if meant != text.strip() and read_number(meant) is not None else ""
    raise BadInputError(
        what, text, "a number, 0 for looked and none, blank for not counted, <1, or tr", hint
    )
