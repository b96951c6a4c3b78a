"""The plan of a trial is drawn to scale, and what is not sown is told by hatching and word."""

from xml.etree import ElementTree as ET

from swardbook.figures.trial_plan import PlanDrawn, picture_of_plan
from swardbook.trials.design import UNSOWN, Design, Kind
from swardbook.trials.layout import lay, size_of_plot
from swardbook.trials.shuffling import draw

SVG = "{http://www.w3.org/2000/svg}"
NAMES = ("Bobbin", "Gatepost", "A mixture with a long name", UNSOWN)


def plan(kind: Kind, repeats: int = 3) -> PlanDrawn:
    levels = ("8 mm", "12 mm") if kind is Kind.SPLIT else ()
    drawn = draw(Design(kind, NAMES, repeats, levels), 5)
    laid = lay(drawn, size_of_plot(0.51, 1.5, 2.0), 0.75, 1.0)
    return PlanDrawn("Old bed", laid, drawn.order_words, ("wet south", "dry north"),
                     ("west", "east"), frozenset({UNSOWN}))  # fmt: skip


def boxes(picture_svg: str) -> list[ET.Element]:
    return [each for each in ET.fromstring(picture_svg).iter(f"{SVG}rect") if each.get("stroke")]


def test_a_long_plan_lies_and_a_wide_one_stands() -> None:
    lying, standing = picture_of_plan(plan(Kind.BLOCKS)), picture_of_plan(plan(Kind.STRIPS))
    assert "Block 1 is on the left" in lying.key
    assert "Block 1 is at the bottom" in standing.key
    assert "Shuffled by seed 5." in lying.key


def test_every_plot_is_drawn_inside_the_guard_and_controls_are_hatched() -> None:
    drawn = plan(Kind.BLOCKS)
    guard, *plots = boxes(picture_of_plan(drawn).svg)
    assert len(plots) == 12
    assert sum("url(#" in (each.get("fill") or "") for each in plots) == 3
    for each in plots:
        for start, size in (("x", "width"), ("y", "height")):
            low, length = float(each.attrib[start]), float(each.attrib[size])
            assert low >= 0
            assert low + length <= float(guard.attrib[size]) + 0.2


def test_what_each_plot_gets_stands_in_the_picture_and_in_its_table() -> None:
    picture = picture_of_plan(plan(Kind.SPLIT), "Made-up ground.")
    assert "12 mm" in picture.svg
    assert picture.key.startswith("Made-up ground.")
    assert len(picture.tables[0].rows) == 24
    assert picture.svg == picture_of_plan(plan(Kind.SPLIT), "Made-up ground.").svg
