"""What goes out to maps and to collections of records."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from shapely.geometry import shape

from swardbook.book.finds_out import COLUMNS, finds_csv
from swardbook.book.opening import Book, open_book
from swardbook.book.plan_edits import tie_to_globe
from swardbook.book.plan_frames import frames
from swardbook.book.plan_out import plan_geojson
from swardbook.foundation.errors import NotEnoughDataError, UnknownNameError
from swardbook.handbook.species import find_species
from swardbook.husbandry.happenings import Count
from swardbook.settings import Settings
from tests.support.books import standing_on_made_up_ground


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Book]:
    with standing_on_made_up_ground(tmp_path_factory.mktemp("out")) as home:
        made = open_book(Settings(Path(home)), lambda: date(2011, 10, 8))
        yield made
        made.store.close()


def known(kind: str) -> str:
    """Give the Latin name of a counted kind; empty for bare ground and the like."""
    try:
        return find_species(kind).latin
    except UnknownNameError:
        return ""


def test_every_count_of_a_named_plant_is_a_row_and_absence_is_said(book: Book) -> None:
    rows = list(csv.DictReader(io.StringIO(finds_csv(book))))
    weeds = {"Poa annua", "Holcus lanatus"}
    counted = [
        (kind, found)
        for entry in book.ground().diary
        if isinstance(entry.what, Count)
        for place in entry.what.places
        for kind, found in place.found.items()
        if known(kind) in weeds
    ]
    named = [row for row in rows if row["scientificName"] in weeds]
    walks = [row for row in named if row["samplingProtocol"] == "walk"]
    assert len(named) - len(walks) == len(counted)
    assert sum(row["occurrenceStatus"] == "absent" for row in named) - len(walks) == sum(
        found == 0 for _, found in counted
    )
    assert {row["scientificName"] for row in named} == {"Poa annua", "Holcus lanatus"}
    assert set(rows[0]) == set(COLUMNS)
    assert len({row["occurrenceID"] for row in rows}) == len(rows)


def test_no_cell_is_taken_for_a_formula(book: Book) -> None:
    for row in csv.reader(io.StringIO(finds_csv(book))):
        assert not any(cell.startswith(("=", "@", "+")) for cell in row)


def test_the_plan_needs_its_corner_on_the_globe_and_then_keeps_its_areas(book: Book) -> None:
    with pytest.raises(NotEnoughDataError):
        plan_geojson(book)
    tie_to_globe(book, 52.4, -1.9)
    made = plan_geojson(book)
    zones = {each["properties"]["name"]: each for each in made["features"]
             if each["properties"]["what"] == "zone"}  # fmt: skip
    drawn = {name: each for name, each in frames(book.ground()).items() if each.is_drawn}
    assert set(zones) == set(drawn)
    for name, each in zones.items():
        found = shape(each["geometry"])
        assert found.is_valid
        assert found.exterior.is_ccw
        east, north = 68_100.0, 111_270.0
        area = found.area * east * north
        assert area == pytest.approx(drawn[name].outline.area_m2, rel=0.01)
