"""Pictures of trials: told by shape, pattern and words, never by colour alone."""

import re
from collections.abc import Callable
from xml.etree import ElementTree as ET

import pytest

from swardbook.figures.picture import Picture
from swardbook.figures.trial_values import CLASSES, class_edges
from tests.support.trial_pictures import of_means, of_paths, of_values

SVG = "{http://www.w3.org/2000/svg}"


@pytest.mark.parametrize("draw", [of_means, of_paths, of_values], ids=["means", "paths", "values"])
def test_a_picture_can_be_heard_and_is_the_same_each_time(draw: Callable[[], Picture]) -> None:
    picture = draw()
    root = ET.fromstring(picture.svg)
    assert root.attrib["role"] == "img"
    title, told = root.find(f"{SVG}title"), root.find(f"{SVG}desc")
    assert title is not None
    assert title.text == picture.sentence
    assert told is not None
    assert picture.tables[0].rows[0][0] in (told.text or "")
    assert draw().svg == picture.svg


def test_group_marks_stand_at_the_right_and_the_control_has_a_shape_of_its_own() -> None:
    picture = of_means()
    assert "Open square: to compare with only." in picture.key
    for mark in ("a", "ab", "b", "c"):
        assert f">{mark}</text>" in picture.svg
    assert [row[3] for row in picture.tables[0].rows] == ["a", "ab", "b", "c"]


def test_paths_show_what_was_done_and_the_gap_that_is_needed() -> None:
    picture = of_paths()
    assert "points that a pair named beforehand must differ by" in picture.key
    assert [row[1] for row in picture.tables[1].rows] == ["sown", "plot left out"]


def test_the_plan_tells_classes_by_dots_and_crosses_out_what_does_not_count() -> None:
    picture = of_values()
    patterns = re.findall(r'<pattern id="([^"]+)"', picture.svg)
    assert len(set(patterns)) == CLASSES
    dots = [
        picture.svg.split(f'id="{name}"')[1].split("</pattern>")[0].count("<circle")
        for name in patterns
    ]
    assert dots == sorted(dots)
    assert dots[0] == 0
    assert dots[-1] == 5
    assert picture.svg.count('stroke-width="1"/>') == 1
    assert ("2-03", "Gatepost", "23", "fuel") in picture.tables[0].rows


def test_plots_all_alike_are_one_class() -> None:
    assert class_edges([4.0, 4.0]) == [4, 5, 6, 7, 8, 9]
