"""Counts as typed or read from a sheet, with what was understood of every cell."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.foundation.quantities import read_number
from swardbook.handbook.parameters import value
from swardbook.handbook.species import all_species, find_species
from swardbook.observations.counts import Method, PlaceCount
from swardbook.observations.odd_counts import to_nearest_step

OTHER_KINDS = ("sown", "bare", "moss", "broad-leaved", "litter", "other", "cannot tell")
_NOT_COUNTED = {"", "n/a", "na", "-", "–", "not counted", "blank", "."}
_BELOW_ONE = {"<1": "below 1", "< 1": "below 1", "tr": "a trace", "trace": "a trace",
              "+": "a trace"}  # fmt: skip
_COLUMNS = {"place", "counter", "placement", "points", "area_m2"}


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
        The count; None where nothing in the row was counted.
    words : tuple of str
        Cell by cell, in words.
    """

    where: str
    place: PlaceCount | None
    words: tuple[str, ...]


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


def typed_place(place: str, frame: Frame, pairs: Iterable[str], counter: str) -> Understood:
    """Read one place from ``kind=number`` pairs.

    Raises
    ------
    BadInputError
        If a pair has no number, or there are more hits than crossings.
    UnknownNameError
        If a kind is unknown.
    """
    cells: dict[str, str] = {}
    for pair in pairs:
        name, found, text = pair.partition("=")
        if not found:
            raise BadInputError("--found", pair, "kind=number, such as 'annual meadow-grass=5'")
        cells[read_kind(name)] = text
    return _understood(place, place, frame, cells, counter, 1)


def read_sheet(path: Path, frame: Frame, counter: str) -> tuple[Understood, ...]:
    """Read a sheet with a row for each place and a column for each kind.

    Parameters
    ----------
    path : Path
        A CSV file, with commas or semicolons. Its first line names ``place`` and the kinds;
        ``counter``, ``placement``, ``points`` and ``area_m2`` may stand beside them.
    frame : Frame
        How every place was looked at where the row does not say.
    counter : str
        Who counted where the row does not say.

    Returns
    -------
    tuple of Understood
        One for each row that has a place; a blank cell is not counted, 0 is looked and none.

    Raises
    ------
    BadInputError
        If it cannot be read, has no ``place`` column, or a cell is no number.
    UnknownNameError
        If a column is no known kind.
    """
    text = _text_of(path)
    first = text.partition("\n")[0]
    rows = list(csv.reader(text.splitlines(), delimiter=";" if ";" in first else ","))
    heads = [head.strip().casefold() for head in rows[0]] if rows else []
    if "place" not in heads:
        raise BadInputError(f"the heading of {path.name}", first, "a column called place")
    kinds = {head: _column_kind(head) for head in heads if head and head not in _COLUMNS}
    read = []
    for number, row in enumerate(rows[1:], 2):
        cells = dict(zip(heads, [cell.strip() for cell in row], strict=False))
        if cells.get("place"):
            read.append(_read_row(f"line {number}", cells, kinds, frame, counter))
    return tuple(read)


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


def _read_row(
    where: str, cells: Mapping[str, str], kinds: Mapping[str, str], frame: Frame, counter: str
) -> Understood:
    looked = frame.looked
    for column, method in (("points", Method.POINTS), ("area_m2", Method.PLANTS)):
        if cells.get(column) and frame.method is method:
            looked = _number(f"{where}, {column}", cells[column])
    placement = int(_number(f"{where}, placement", cells.get("placement") or "1"))
    found = {kinds[head]: cells.get(head, "") for head in kinds}
    who = cells.get("counter") or counter
    return _understood(where, cells["place"], Frame(frame.method, looked), found, who, placement)


def _understood(
    where: str, place: str, frame: Frame, cells: Mapping[str, str], counter: str, placement: int
) -> Understood:
    found, words = {}, []
    for kind, text in cells.items():
        number, told = _read_cell(f"{where}, {kind}", text, frame.method)
        words.append(f"{kind}: {told}")
        if number is not None:
            found[kind] = number
    if not found:
        return Understood(where, None, tuple(words))
    _check_crossings(where, frame, found)
    count = PlaceCount(place, frame.method, found, frame.looked, counter, placement)
    return Understood(where, count, tuple(words))


def _check_crossings(where: str, frame: Frame, found: Mapping[str, float]) -> None:
    total = sum(found.values())
    if frame.method is Method.POINTS and total > frame.looked:
        raise BadInputError(
            f"the count at {where}", f"{total:g}", f"at most {frame.looked:g} crossings",
            f"{frame.looked:g} crossings in this frame; you have {total:g}. Recount, or drop to"
            f" {frame.looked:g}? Cover by eye can overlap: say --method by-eye.",
        )  # fmt: skip


def _read_cell(where: str, text: str, method: Method) -> tuple[float | None, str]:
    plain = text.strip().casefold().removesuffix("%").strip()
    if plain in _NOT_COUNTED:
        return None, "blank, kept as not counted" if not plain else f"{text}, not counted"
    if plain in _BELOW_ONE:
        return value("trace_found"), f"{_BELOW_ONE[plain]}, neither 0 nor 1"
    number = _number(where, plain)
    if number < 0:
        raise BadInputError(where, text, "0 or more", "If you looked and found none, put 0.")
    if method is Method.BY_EYE:
        kept = to_nearest_step(number)
        told = f"{kept:g} %" if kept == number else f"by eye, to the nearest 5: {kept:g} %"
        return kept, told
    if number != int(number):
        raise BadInputError(where, text, "a whole number", "Cover by eye? Say --method by-eye.")
    return number, "0, looked and none" if number == 0 else f"{number:g}"


def _number(where: str, text: str) -> float:
    number = read_number(text)
    if number is None:
        raise BadInputError(
            where, text, "a number, 0 for looked and none, blank for not counted, <1, or tr"
        )
    return number
