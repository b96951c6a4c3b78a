"""The area of a zone by tape, by corners or by phone, each with its honest error."""

from __future__ import annotations

import re
import shlex
from dataclasses import dataclass
from math import hypot
from pathlib import Path

from swardbook.book.shapes import read_area
from swardbook.book.survey_facts import AREA, SurveyFact
from swardbook.feeds.positions import read_positions
from swardbook.foundation.errors import BadInputError
from swardbook.foundation.quantities import read_quantity
from swardbook.handbook.parameters import value
from swardbook.husbandry.areas import outline
from swardbook.husbandry.ground import Zone
from swardbook.husbandry.positions import AreaFound, area_of_corners, area_of_walk


@dataclass(frozen=True, slots=True)
class AreaAsked:
    """What an area is to be read from; one of the three.

    Parameters
    ----------
    sides : str
        What a tape gives, such as ``32x25.6``.
    corners : str
        Corners in order, such as ``0,0 12,0 12,5``; bare numbers are metres.
    file : Path or None
        GeoJSON, GPX or CSV with positions.
    accuracy : str
        How near the positions are, if it is known; bare numbers are metres.
    """

    sides: str = ""
    corners: str = ""
    file: Path | None = None
    accuracy: str = ""


def survey_area(asked: AreaAsked, zone: Zone | None = None) -> SurveyFact:
    """Read an area, say how far it may be out, and ask where the book has another.

    Parameters
    ----------
    asked : AreaAsked
        What it is read from.
    zone : Zone, optional
        The zone it is of.

    Raises
    ------
    BadInputError
        If not one of the three is given, or it cannot be read.
    """
    if sum(map(bool, (asked.sides, asked.corners, asked.file))) != 1:
        raise BadInputError(
            "the area", "none or several of sides, corners and a file",
            "one: --sides 32x25.6, --corners '0,0 12,0 12,5 0,5' or --file walk.gpx",
        )  # fmt: skip
    if asked.accuracy and asked.file is None:
        raise BadInputError("--accuracy", asked.accuracy, "how near the positions of a --file are")
    if asked.file is not None:
        return _with_zone(_of_positions(asked), zone)
    area = read_area("", asked.sides) if asked.sides else outline(read_corners(asked.corners))[0]
    error = value("tape_error") * area
    given = {"sides": asked.sides, "corners": asked.corners}
    fact = _fact("tape", area, error, (_taped(area, error),), given)
    return _with_zone(fact, zone)


def _of_positions(asked: AreaAsked) -> SurveyFact:
    assert asked.file is not None
    told = read_quantity(asked.accuracy, "m", "--accuracy").value / 1000 if asked.accuracy else None
    read = read_positions(asked.file)
    measure = area_of_walk if read.walked else area_of_corners
    whole, *cut_out = (measure(ring, told) for ring in read.rings)
    area = whole.area_m2 - sum(each.area_m2 for each in cut_out)
    if area <= 0:
        raise BadInputError(asked.file.name, "more cut out than there is", "an outline with holes")
    error = hypot(*(each.error_m2 for each in (whole, *cut_out))) + whole.cut_m2
    notes = _walked(whole, area, error) if read.walked else _drawn(whole)
    given = {"file": asked.file.name, "accuracy": asked.accuracy}
    fact = _fact("phone" if read.walked else "map", area, error, notes, given)
    more = {"outline_m": whole.edge_m, "accuracy_m": whole.accuracy_m,
            "spacing_m": whole.spacing_m}  # fmt: skip
    return SurveyFact(
        fact.about, fact.words, fact.notes, fact.given, {**fact.found, **more}, fact.named
    )


def _fact(
    by: str, area: float, error: float, notes: tuple[str, ...], given: dict[str, str]
) -> SurveyFact:
    low, high = max(area - error, 0.0), area + error
    words = (
        f"{_metres(area) if by == 'tape' else f'{area:,.0f}'} m² by {by}, good to about"
        f" ±{100 * error / area:.0f} % ({_whole(low)} to {_whole(high)})"
    )
    found = {"area_m2": area, "low_m2": low, "high_m2": high,
             "error_percent": 100 * error / area}  # fmt: skip
    return SurveyFact(AREA, words, notes, given, found, {"by": by})


def _taped(area: float, error: float) -> str:
    return f"By tape within about {100 * error / area:.0f} % where corners are square near enough."


def _walked(whole: AreaFound, area: float, error: float) -> tuple[str, ...]:
    notes = [
        f"Area from phone position only: good to perhaps ±{100 * error / area:.0f} % at this size."
        " Tape two sides and it is replaced.",
        f"{whole.positions} positions, each good to about {whole.accuracy_m:.0f} m; most of that"
        " is shared by the whole walk and cancels. More points do not help; trees and walls hurt.",
    ]
    if whole.cut_m2 > value("tape_error") * area:
        notes.append(
            f"Points {whole.spacing_m:.0f} m apart cut corners by up to {whole.cut_m2:.0f} m²."
        )
    return tuple(notes)


def _drawn(whole: AreaFound) -> tuple[str, ...]:
    return (
        f"Corners drawn on a map, each taken as good to {whole.accuracy_m:g} m:"
        " tape one side to check the scale.",
    )


def _with_zone(fact: SurveyFact, zone: Zone | None) -> SurveyFact:
    if zone is None:
        return fact
    area, error = fact.found["area_m2"], fact.found["high_m2"] - fact.found["area_m2"]
    off = area - zone.area_m2
    found = {**fact.found, "area_in_book_m2": zone.area_m2, "difference_m2": off}
    notes = (*fact.notes, _beside(zone, area, off, error))
    return SurveyFact(fact.about, fact.words, notes, fact.given, found, fact.named)


def _beside(zone: Zone, area: float, off: float, error: float) -> str:
    book = f"The book has {_metres(zone.area_m2)} m² for {zone.name}"
    if abs(off) <= max(error, value("area_asked_about") * zone.area_m2):
        return f"{book}: no difference that this could tell."
    for times, word in ((10, "ten times"), (0.1, "a tenth of"), (100, "a hundred times")):
        if abs(area / zone.area_m2 / times - 1) < value("area_asked_about"):
            return f"That is {word} the {_metres(zone.area_m2)} m² of {zone.name}: a slip?"
    told = "more" if off > 0 else "less"
    share = abs(off) / zone.area_m2
    return (
        f"{book}; this is {100 * share:.0f} % {told}. Which is right? If this:"
        f" `swardbook zone set {shlex.quote(zone.name)} --area {area:.1f}`."
    )


def read_corners(text: str) -> list[tuple[float, float]]:
    """Read corners in order, such as ``0,0 12,0 12,5``; bare numbers are metres [m]."""
    found = []
    for pair in re.split(r"\s*;\s*|\s+(?=-?[\d.])", text.strip()):
        parts = re.fullmatch(r"(-?[\d.]+)\s*,\s*(-?[\d.]+\s*\w*)", pair.strip())
        if parts is None:
            raise BadInputError("--corners", pair, "east and north of any point: '0,0 12,0 12,5'")
        east, north = (
            read_quantity(each, "m", "--corners").value / 1000 for each in parts.groups()
        )
        found.append((east, north))
    return found


def _whole(area: float) -> str:
    return f"{area:,.0f}" if area >= 10 else f"{area:.1f}"


def _metres(area: float) -> str:
    return f"{area:,.1f}" if area < 1000 else f"{area:,.0f}"
