"""Counts over time: what is joined, what is broken, what is never mixed."""

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from swardbook.figures.counts_over_time import Work, picture_of_counts
from swardbook.figures.picture import Picture
from swardbook.foundation.errors import NotEnoughDataError
from tests.support.counted import around, points
from tests.support.pictures import AUTUMN, NEXT, SPRING, counts, seen, values

TITLE = "Court: it was counted."


def panels(picture: Picture) -> list[Any]:
    found: list[Any] = picture.specification["vconcat"]
    return found


def joined(picture: Picture, number: int = 0) -> list[str]:
    """Days at the ends of the dashed lines of a panel."""
    panel = panels(picture)[number]
    return [
        row["day"]
        for layer in panel["layer"] if layer["mark"]["type"] == "line"
        for row in values(picture, layer, panel)
    ]  # fmt: skip


def said(panel: Any) -> list[str]:
    return [layer["mark"].get("text", "") for layer in panel["layer"]]


def test_counts_of_one_season_are_joined_and_no_others() -> None:
    picture = picture_of_counts(TITLE, counts(), [(AUTUMN, NEXT)])
    assert joined(picture) == [AUTUMN.isoformat(), NEXT.isoformat()]
    assert joined(picture_of_counts(TITLE, counts(), [])) == []


def test_a_change_of_counter_breaks_the_line_and_is_named() -> None:
    other = seen(NEXT, points(around(21, 24, 14), counter="Odalys"))
    shown = [*counts()[:3], replace(other, is_break=True)]
    picture = picture_of_counts(TITLE, shown, [(AUTUMN, NEXT)])
    assert joined(picture) == []
    assert "new counter" in said(panels(picture)[0])
    assert picture.tables[0].rows[-1][-2:] == ("Odalys", "new counter")


def test_points_and_plants_stand_in_panels_of_their_own() -> None:
    picture = picture_of_counts(TITLE, counts(), [(AUTUMN, NEXT)])
    assert len(panels(picture)) == 2
    titles = [panel["layer"][-1]["encoding"]["y"]["title"] for panel in panels(picture)]
    assert titles == ["% of the ground, by points", "plants a square metre"]
    assert joined(picture, 1) == []


def test_honest_squares_have_a_shape_of_their_own() -> None:
    layers = panels(picture_of_counts(TITLE, counts(), []))[0]["layer"]
    points_drawn = [layer["mark"] for layer in layers if layer["mark"]["type"] == "point"]
    assert [(mark["shape"], mark["fill"]) for mark in points_drawn] == [
        ("circle", "#1b1b1b"),
        ("square", "white"),
    ]


def test_work_stands_below_on_the_same_days() -> None:
    work = [Work(date(2010, 9, 4), "sown"), Work(SPRING, "pulled")]
    picture = picture_of_counts(TITLE, counts(), [], work)
    panel = panels(picture)[-1]
    ticks = panel["layer"][0]
    assert ticks["mark"]["type"] == "tick"
    assert [row["work"] for row in values(picture, ticks, panel)] == ["sown", "pulled"]


def test_with_no_figure_there_is_no_picture() -> None:
    few = seen(AUTUMN, points([0]))
    assert few.estimate.estimate is None
    with pytest.raises(NotEnoughDataError):
        picture_of_counts(TITLE, [few], [])
