"""Rows of an old spreadsheet or notebook as diary entries: understood, guessed, or parked."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from swardbook.book.count_sheet import choose_frame, read_row
from swardbook.book.diary import read_past
from swardbook.book.fields import read_money, yes_or_no
from swardbook.feeds.history_columns import FOUND
from swardbook.feeds.history_sheet import OldRow
from swardbook.feeds.history_words import JOBS, boxed_of, job_of
from swardbook.foundation.dates import When
from swardbook.foundation.errors import BadInputError, OutOfRangeError, UnknownNameError
from swardbook.foundation.quantities import convert, known_unit, read_number, read_quantity, require
from swardbook.husbandry.doubt import refuse_below_nothing
from swardbook.husbandry.ground import Ground
from swardbook.husbandry.happenings import (
    Brush,
    Count,
    Cut,
    Dress,
    Feed,
    Happening,
    Note,
    Pull,
    Roll,
    Scarify,
    Sow,
    Tine,
    Verticut,
    Water,
)
from swardbook.husbandry.looks import Doubt, doubt_of_unit
from swardbook.husbandry.parked import Parked

_UNITS = {
    "rate": "g/m2", "used": "g", "area": "m2", "height": "mm", "depth": "mm", "hours": "h",
    "frame": "m2",
}  # fmt: skip
_MOST = 10_000_000
"""No rate, weight, area or height is more, in any unit used inside."""
_EVERYWHERE = {"all", "everywhere", "whole site", "all lawns", "both", "whole ground"}


@dataclass(frozen=True, slots=True)
class RowRead:
    """What became of one row.

    Parameters
    ----------
    line : int
        Line of the file.
    as_it_came : str
        The row.
    what : Happening or None
        What it says; None where the row is parked.
    when : When or None
        The day.
    zone, who, note : str
        As understood.
    hours : float or None
        Hours of work. [h]
    money : Decimal or None
        What it cost.
    guessed : tuple of str
        What was settled without being said.
    asked : tuple of Doubt
        What looks odd in it already.
    slip : Parked or None
        The row with what is wrong in it.
    """

    line: int
    as_it_came: str
    what: Happening | None
    when: When | None = None
    zone: str = ""
    who: str = ""
    note: str = ""
    hours: float | None = None
    money: Decimal | None = None
    guessed: tuple[str, ...] = ()
    asked: tuple[Doubt, ...] = ()
    slip: Parked | None = None


class _Cells:
    """The cells of one row; what is taken is not left for the note."""

    def __init__(self, said: Mapping[str, str]) -> None:
        self.said = dict(said)
        self.guessed: list[str] = []
        self.asked: list[Doubt] = []

    def take(self, name: str) -> str:
        """Take the text of a cell; empty if there is none."""
        return self.said.pop(name, "").strip()

    def number(self, name: str, amount: bool = False) -> float | None:
        """Take a quantity, or the cell called amount where it has a unit that fits."""
        unit = _UNITS[name]
        text = self.take(name) or (self.take("amount") if amount and self._fits(unit) else "")
        if not text:
            return None
        read = read_quantity(text, unit, name)
        if not 0 <= read.value <= _MOST:
            raise BadInputError(name, text, f"0 to {_MOST:,} {unit}")
        if read_number(text) is not None and name != "hours":
            self.guessed.append(f"{name} {text}: no unit, read as {unit}")
        if name == "rate" and (doubt := doubt_of_unit(read, "rate_g_m2")):
            self.asked.append(doubt)
        return read.value

    def _fits(self, unit: str) -> bool:
        text = self.said.get("amount", "")
        tail = text.lstrip("0123456789.,/ ")
        known = known_unit(tail)
        return bool(text) and (not tail or (bool(known) and _same_quantity(known, unit)))


def read_old_row(row: OldRow, source: str, ground: Ground, today: date, zone: str = "") -> RowRead:
    """Read one row; what cannot be is parked with the cell, what was read and what is allowed.

    Parameters
    ----------
    row : OldRow
        The row by what its cells mean.
    source : str
        The file.
    ground : Ground
        Zones and lots that a row may name.
    today : date
        The last day that a row may be of.
    zone : str
        The zone of rows that name none.
    """
    cells = _Cells(row.said)
    about = {"as_it_came": row.as_it_came, **({"zone": zone} if zone else {})}
    try:
        when = _day(cells, today)
        name = _zone(cells, ground, zone)
        what = _happening(cells, ground, row)
        refuse_below_nothing(what)
        who, hours = cells.take("who"), cells.number("hours")
        require("hours", hours or 0.0, 0, 10_000, "h")
        money = read_money(cells.take("money"))
    except (BadInputError, OutOfRangeError, UnknownNameError) as slip:
        told = _slip(slip)
        parked = Parked("history", source, row.line, *told, dict(row.said), about)
        return RowRead(row.line, row.as_it_came, None, slip=parked,
                       guessed=(*row.guessed, *cells.guessed))  # fmt: skip
    note = cells.take("note")
    over = {**cells.said, **(row.left or {})}
    note = "; ".join([*filter(None, [note]), *(f"{head}: {text}" for head, text in over.items())])
    return RowRead(
        row.line, row.as_it_came, what, when, name, who, note, hours, money,
        (*row.guessed, *cells.guessed), tuple(cells.asked),
    )  # fmt: skip


def _slip(slip: BadInputError | OutOfRangeError | UnknownNameError) -> tuple[str, str, str, str]:
    if isinstance(slip, OutOfRangeError):
        return slip.name, f"{slip.value:g}", f"{slip.allowed} {slip.unit}".strip(), slip.hint
    if isinstance(slip, BadInputError):
        return slip.what.removeprefix("the "), str(slip.read), slip.allowed, slip.hint
    near = f"Did you mean {' or '.join(slip.nearest)}?" if slip.nearest else ""
    return slip.kind, slip.name, ", ".join(slip.known) or "none yet", near


def _day(cells: _Cells, today: date) -> When:
    text = cells.take("date")
    if not text:
        raise BadInputError("date", "", "a day, such as 4 September 2010")
    return read_past(text, today)


def _zone(cells: _Cells, ground: Ground, fallback: str) -> str:
    named = cells.take("zone")
    if named.casefold() in _EVERYWHERE:
        return ""
    if named:
        return ground.zone(named).name
    if fallback:
        return ground.zone(fallback).name
    if len(ground.zones) == 1:
        cells.guessed.append(f"no zone said: {ground.zones[0].name}, the only one")
        return ground.zones[0].name
    cells.guessed.append("no zone said: kept for the whole site")
    return ""


def _happening(cells: _Cells, ground: Ground, row: OldRow) -> Happening:
    words = cells.take("job")
    kind = job_of(words)
    if words and not kind:
        raise UnknownNameError("job", words, JOBS)
    if not kind:
        kind = _guessed_kind(cells.said)
        cells.guessed.append(f"no job said: read as {kind}")
    boxed = boxed_of(words) if kind == "cut" else None
    if boxed is not None:
        cells.said.setdefault("boxed", "yes" if boxed else "no")
    if kind == "count":
        return _count(cells, row)
    if kind == "sow":
        return _sowing(cells, ground)
    return _MAKERS[kind](cells)


def _guessed_kind(said: Mapping[str, str]) -> str:
    if any(name.startswith(FOUND) for name in said):
        return "count"
    if "seed" in said:
        return "sow"
    if "product" in said:
        return "feed"
    if "height" in said:
        return "cut"
    if said.get("note"):
        return "note"
    raise BadInputError("job", "", f"what was done: {', '.join(JOBS)}")


def _sowing(cells: _Cells, ground: Ground) -> Sow:
    seed, lot = cells.take("seed"), ""
    codes = {each.code.casefold(): each.code for each in ground.lots}
    mixed = [each.code for each in ground.lots if each.mixture.casefold() == seed.casefold()]
    if seed.casefold() in codes:
        lot = codes[seed.casefold()]
    elif len(mixed) == 1:
        [lot] = mixed
        cells.guessed.append(f"seed {seed}: lot {lot}, the only one of that mixture")
    elif seed:
        why = f"{len(mixed)} lots of that mixture" if mixed else "no lot in the book"
        cells.guessed.append(f"seed {seed}: {why}; kept in the note")
        cells.said["seed"] = seed
    used = cells.number("used", amount=True)
    return Sow(lot, cells.number("rate", amount=True), cells.number("area"), used)


def _cut(cells: _Cells) -> Cut:
    height = cells.number("height", amount=True)
    return Cut(height, _boxed(cells))


def _boxed(cells: _Cells) -> bool | None:
    text = cells.take("boxed")
    if not text:
        return None
    said = boxed_of(text)
    return said if said is not None else yes_or_no(text, "boxed")


def _count(cells: _Cells, row: OldRow) -> Count:
    found = {name.removeprefix(FOUND): cells.take(name)
             for name in list(cells.said) if name.startswith(FOUND)}  # fmt: skip
    points, frame, method = cells.take("points"), cells.number("frame"), cells.take("method")
    if not method and not points and frame is None:
        by_eye = any("%" in text for text in found.values())
        told = "cover in %: read as by eye" if by_eye else "hits of a frame of 25 crossings"
        cells.guessed.append(f"no frame said: {told}")
        method = "by eye" if by_eye else ""
    chosen = choose_frame(method, int(_points(points)) if points else None, frame)
    place = {"place": cells.take("place"), "counter": cells.take("counter")}
    read = read_row(Parked("count", "", row.line, cells={**place, **found}), chosen, "")
    if read.slip is not None:
        slip = read.slip
        column = FOUND + slip.column if slip.column in found else slip.column
        raise BadInputError(column, slip.read, slip.allowed, slip.likely)
    if read.place is None:
        raise BadInputError("count", "nothing", "at least one kind counted")
    return Count((read.place,))


def _points(text: str) -> float:
    number = read_number(text)
    if number is None or number < 1 or number != int(number):
        raise BadInputError("points", text, "a whole number of crossings")
    return number


def _feed(cells: _Cells) -> Feed:
    return Feed(cells.take("product"), cells.number("rate", amount=True))


def _water(cells: _Cells) -> Water:
    text = cells.said.get("amount", "")
    unit = known_unit(text.lstrip("0123456789.,/ "))
    if unit in {"l", "m3", "gal_uk", "gal_us"}:
        return Water(litres=read_quantity(cells.take("amount"), "l", "amount").value)
    if unit in {"min", "h"}:
        return Water(minutes=read_quantity(cells.take("amount"), "h", "amount").value * 60)
    return Water(depth_mm=cells.number("depth", amount=True))


def _pull(cells: _Cells) -> Pull:
    text = cells.take("plants") or cells.take("amount")
    number = read_number(text) if text else None
    if text and (number is None or number < 0 or number != int(number)):
        raise BadInputError("plants", text, "a whole number")
    return Pull(plants=None if number is None else int(number), area_m2=cells.number("area"))


def _note(cells: _Cells) -> Note:
    return Note(cells.take("note") or "; ".join(f"{k}: {v}" for k, v in cells.said.items()))


def _same_quantity(one: str, other: str) -> bool:
    return convert(1.0, one)[1] == convert(1.0, other)[1]


_MAKERS: Mapping[str, Callable[[_Cells], Happening]] = {
    "cut": _cut,
    "feed": _feed,
    "verticut": lambda cells: Verticut(cells.number("depth", amount=True), boxed=_boxed(cells)),
    "scarify": lambda cells: Scarify(cells.number("depth", amount=True)),
    "tine": lambda cells: Tine(depth_mm=cells.number("depth", amount=True)),
    "dress": lambda cells: Dress(
        cells.take("product"), cells.number("rate", amount=True), cells.number("depth")
    ),
    "brush": lambda _: Brush(),
    "roll": lambda _: Roll(),
    "water": _water,
    "pull": _pull,
    "note": _note,
}
