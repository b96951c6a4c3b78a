"""Positions from a file: GeoJSON, a GPX track, or CSV with latitude and longitude."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from swardbook.feeds.csv_rows import read_rows
from swardbook.feeds.old_text import read_old_text
from swardbook.foundation.errors import BadInputError
from swardbook.foundation.quantities import read_number
from swardbook.husbandry.positions import Position

_UNDERSTOOD = "GeoJSON with a polygon or a line, GPX, or CSV with latitude and longitude"
_COLUMNS = {
    "latitude": ("latitude", "lat", "y"),
    "longitude": ("longitude", "long", "lon", "lng", "x"),
    "accuracy": ("accuracy", "accuracy_m", "horizontal_accuracy", "hacc"),
}


@dataclass(frozen=True, slots=True)
class Positions:
    """What a file of positions holds.

    Parameters
    ----------
    rings : tuple of tuple of Position
        The outline, then the outlines of what lies inside and does not belong to it.
    walked : bool
        Whether it is a walk with a phone; else corners that were drawn.
    """

    rings: tuple[tuple[Position, ...], ...]
    walked: bool


def read_positions(path: Path) -> Positions:
    """Read an outline from a file.

    Parameters
    ----------
    path : Path
        GeoJSON with a Polygon (corners) or a LineString (a walk), GPX with a track, a route or
        waypoints, or CSV.

    Raises
    ------
    BadInputError
        If it holds no outline, or more than one.
    """
    text = read_old_text(path)
    start = text.lstrip()
    if start.startswith("{"):
        return _geojson(text, path.name)
    if start.startswith("<"):
        return _gpx(text, path.name)
    return _csv(text, path.name)


def _geojson(text: str, name: str) -> Positions:
    try:
        read = json.loads(text)
    except json.JSONDecodeError as slip:
        raise BadInputError(name, f"line {slip.lineno}", _UNDERSTOOD, f"{slip.msg}.") from slip
    found = list(_geometries(read))
    if len(found) != 1:
        raise BadInputError(name, f"{len(found)} outlines", "one outline in a file",
                            "Save the lawn alone.")  # fmt: skip
    kind, told = found[0]
    try:
        rings = tuple(tuple(Position(float(each[1]), float(each[0])) for each in ring)
                      for ring in (told if kind == "Polygon" else [told]))  # fmt: skip
    except (TypeError, ValueError, IndexError, KeyError) as slip:
        raise BadInputError(name, "positions that are no numbers", _UNDERSTOOD) from slip
    return _held(rings, name, walked=kind != "Polygon")


def _geometries(read: Any) -> Iterable[tuple[str, Any]]:
    if not isinstance(read, Mapping):
        return
    kind = read.get("type")
    if kind in {"Polygon", "LineString"}:
        yield str(kind), read.get("coordinates") or []
    elif kind in {"MultiPolygon", "MultiLineString"}:
        for part in read.get("coordinates") or []:
            yield kind.removeprefix("Multi"), part
    for key in ("geometry",):
        yield from _geometries(read.get(key))
    for key in ("features", "geometries"):
        for each in read.get(key) or ():
            yield from _geometries(each)


def _gpx(text: str, name: str) -> Positions:
    """Read the points of a GPX file by their tags; entities and all else in it are left alone."""
    for tag in ("trkpt", "rtept", "wpt"):
        places = []
        for found in re.finditer(rf"<(?:\w+:)?{tag}\b([^>]*)>", text):
            held = dict(re.findall(r"\b(lat|lon)\s*=\s*[\"']([^\"']*)[\"']", found[1]))
            lat, lon = (read_number(held.get(each, "")) for each in ("lat", "lon"))
            if lat is None or lon is None:
                line = text.count("\n", 0, found.start()) + 1
                raise BadInputError(f"{name}:{line}", found[0], "lat and lon in degrees")
            places.append(Position(lat, lon))
        if places:
            return _held((tuple(places),), name, walked=tag == "trkpt")
    raise BadInputError(name, "no track, route or waypoint", _UNDERSTOOD)


def _csv(text: str, name: str) -> Positions:
    lines = text.splitlines()
    delimiter = max(";\t,", key=lines[0].count) if lines else ","
    rows = read_rows(lines, delimiter, name)
    heads = (
        [re.sub(r"[^a-z]+", "_", cell.casefold()).strip("_") for cell in rows[0]] if rows else []
    )
    places = {part: next((heads.index(word) for word in words if word in heads), None)
              for part, words in _COLUMNS.items()}  # fmt: skip
    lat, lon, near = places["latitude"], places["longitude"], places["accuracy"]
    if lat is None or lon is None:
        raise BadInputError(
            f"the heading of {name}", ", ".join(rows[0]) if rows else "nothing", _UNDERSTOOD
        )
    found = []
    for number, cells in enumerate(rows[1:], 2):
        if not any(cell.strip() for cell in cells):
            continue
        read = [read_number(cells[n]) if n < len(cells) else None for n in (lat, lon)]
        if read[0] is None or read[1] is None:
            raise BadInputError(f"{name}:{number}", delimiter.join(cells), "degrees in both")
        accuracy = read_number(cells[near]) if near is not None and near < len(cells) else None
        found.append(Position(read[0], read[1], accuracy))
    return _held((tuple(found),), name, walked=True)


def _held(rings: tuple[tuple[Position, ...], ...], name: str, *, walked: bool) -> Positions:
    if not rings or len(rings[0]) < 3:
        raise BadInputError(name, f"{len(rings[0]) if rings else 0} positions", _UNDERSTOOD)
    return Positions(rings, walked)
