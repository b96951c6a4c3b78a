"""Outlines from files: GeoJSON, GPX, CSV; what is none is refused by line."""

import json
from pathlib import Path
from typing import Any

import pytest

from swardbook.feeds.positions import read_positions
from swardbook.foundation.errors import BadInputError
from swardbook.husbandry.positions import Position, area_of_corners

RING = [[0.4, 52.0], [0.4005, 52.0], [0.4005, 52.0002], [0.4, 52.0002], [0.4, 52.0]]
HOLE = [[0.4001, 52.0001], [0.4002, 52.0001], [0.4002, 52.00015], [0.4001, 52.0001]]


def saved(folder: Path, name: str, text: str) -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def geojson(folder: Path, told: dict[str, Any]) -> Path:
    return saved(folder, "lawn.geojson", json.dumps(told))


POLYGON = {"type": "Polygon", "coordinates": [RING, HOLE]}


@pytest.mark.parametrize(
    "told",
    [
        POLYGON,
        {"type": "Feature", "properties": {"name": "Main court"}, "geometry": POLYGON},
        {"type": "FeatureCollection", "features": [
            {"type": "Feature", "properties": None, "geometry": POLYGON}
        ]},
        {"type": "MultiPolygon", "coordinates": [[RING, HOLE]]},
    ],
)  # fmt: skip
def test_a_polygon_is_read_wherever_it_stands_with_what_is_cut_out(
    tmp_path: Path, told: dict[str, Any]
) -> None:
    found = read_positions(geojson(tmp_path, told))
    assert not found.walked
    assert [len(ring) for ring in found.rings] == [5, 4]
    assert found.rings[0][1] == Position(52.0, 0.4005)


def test_a_line_and_a_track_are_walks_and_a_route_is_corners(tmp_path: Path) -> None:
    assert read_positions(geojson(tmp_path, {"type": "LineString", "coordinates": RING})).walked
    points = "".join(f'<{{0}} lat="{lat}" lon="{lon}"><ele>60</ele></{{0}}>' for lon, lat in RING)
    track = f"<?xml version='1.0'?><gpx><trk><trkseg>{points.format('trkpt')}</trkseg></trk></gpx>"
    read = read_positions(saved(tmp_path, "walk.gpx", track))
    assert read.walked
    route = read_positions(
        saved(tmp_path, "r.gpx", f"<gpx><rte>{points.format('rtept')}</rte></gpx>")
    )
    assert not route.walked
    assert route.rings == read.rings


@pytest.mark.parametrize(
    "text",
    [
        "Time,Latitude,Longitude,Accuracy (m)\n1,52.0,0.4,4.5\n2,52.0,0.4005,6\n"
        "3,52.0002,0.4005,5\n",
        "lat;lon;accuracy\n52,0;0,4;4,5\n52,0;0,4005;6\n\n52,0002;0,4005;5\n",
    ],
)
def test_csv_with_points_or_commas_is_a_walk_with_its_accuracy(tmp_path: Path, text: str) -> None:
    read = read_positions(saved(tmp_path, "walk.csv", text))
    assert read.walked
    assert read.rings[0][0] == Position(52.0, 0.4, 4.5)
    assert len(read.rings[0]) == 3


def test_a_ring_that_goes_out_and_comes_in_keeps_its_area(tmp_path: Path) -> None:
    ring = tuple(Position(lat, lon) for lon, lat in RING)
    for _ in range(100):
        told = [[each.longitude, each.latitude] for each in ring]
        ring = read_positions(geojson(tmp_path, {"type": "Polygon", "coordinates": [told]})).rings[
            0
        ]
    assert (
        area_of_corners(ring).area_m2
        == area_of_corners(tuple(Position(lat, lon) for lon, lat in RING)).area_m2
    )


@pytest.mark.parametrize(
    ("name", "text", "words"),
    [
        ("a.geojson", '{"type": "Polygon"', "line 1"),
        ("b.geojson", '{"type": "Point", "coordinates": [0.4, 52]}', "0 outlines"),
        ("c.geojson", '{"type": "Polygon", "coordinates": [[[0.4, "north"]]]}', "no numbers"),
        ("d.gpx", "<gpx></gpx>", "no track"),
        ("e.gpx", '<gpx>\n<trkpt lat="x" lon="0.4"/></gpx>', "e.gpx:2"),
        ("f.csv", "a,b\n1,2\n", "the heading of f.csv"),
        ("g.csv", "lat,lon\n52,0.4\n52,\n", "g.csv:3"),
        ("h.csv", "lat,lon\n52,0.4\n", "1 positions"),
        ("i.csv", "", "nothing"),
    ],
)
def test_what_is_no_outline_is_refused_by_its_place(
    tmp_path: Path, name: str, text: str, words: str
) -> None:
    with pytest.raises(BadInputError, match=words):
        read_positions(saved(tmp_path, name, text))


def test_two_lawns_in_a_file_are_asked_apart(tmp_path: Path) -> None:
    with pytest.raises(BadInputError, match="2 outlines"):
        read_positions(
            geojson(tmp_path, {"type": "GeometryCollection", "geometries": [POLYGON] * 2})
        )
