from datetime import date
from pathlib import Path

import pytest

from swardbook.book.ground import (
    add_peg,
    add_pegs,
    add_squares,
    add_zone,
    begin,
    default_tolerance,
    read_share,
    read_site,
    read_use,
    set_zone,
    show_zones,
    with_typed,
)
from swardbook.book.opening import Book
from swardbook.book.shapes import read_area, read_shape
from swardbook.foundation.errors import BadInputError, OutOfRangeError, UnknownNameError
from swardbook.husbandry.areas import outline
from swardbook.husbandry.ground import Mower, Tolerance, Use, Zone
from swardbook.settings import Settings
from tests.support.books import MAIN, TODAY, small_book


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return small_book(tmp_path)


def zone(name: str, **more: object) -> Zone:
    tolerance = default_tolerance(Use.FAMILY_LAWN)
    return Zone(name, 100.0, Use.FAMILY_LAWN, tolerance, 25.0, **more)  # type: ignore[arg-type]


def test_a_book_begins_with_its_site_and_the_clocks_today(tmp_path: Path) -> None:
    site = read_site("Fennowick", "52° N", "62", "9", "14 l/min")
    book = begin(Settings(tmp_path / "new"), lambda: TODAY, site)
    assert book.ground().site == site
    assert (site.elevation_m, site.weekly_hours, site.hose_l_min) == (62.0, 9.0, 14.0)
    assert (book.today, book.is_made_up) == (TODAY, False)
    book.store.close()


@pytest.mark.parametrize(
    ("latitude", "degrees"), [("52.1", 52.1), ("43 S", -43.0), ("-43", -43.0), ("52° n", 52.0)]
)
def test_the_south_is_negative(latitude: str, degrees: float) -> None:
    assert read_site("x", latitude, "0").latitude == degrees


def test_a_site_that_cannot_be_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="latitude"):
        read_site("x", "520", "0")
    with pytest.raises(BadInputError, match="latitude"):
        read_site("x", "north", "0")
    with pytest.raises(BadInputError, match="name"):
        read_site(" ", "52", "0")


@pytest.mark.parametrize(
    ("area", "sides", "m2"),
    [("240", "", 240.0), ("0.1 ha", "", 1000.0), ("", "32x25.6", 819.2), ("", "32 × 25.6 m", 819.2),
     ("", "10 by 200 cm", 20.0)],
)  # fmt: skip
def test_an_area_or_two_sides_give_the_size(area: str, sides: str, m2: float) -> None:
    assert read_area(area, sides) == pytest.approx(m2)


@pytest.mark.parametrize(
    ("sides", "m2"),
    [("3x4x5", 6.0), ("30 ft x 40 ft x 50 ft", 600 * 0.3048**2), ("8 across", 50.27),
     ("0, 4.2, 5.6, 6.1, 5.3, 3.9, 0 every 2", 50.2), ("0 4,2 5,6 6,1 5,3 3,9 0 every 2 m", 50.2),
     ("0; 4,2; 5,6; 6,1; 5,3; 3,9; 0 every 200 cm", 50.2)],
)  # fmt: skip
def test_a_tape_gives_triangles_circles_and_edges_that_bend(sides: str, m2: float) -> None:
    assert read_area("", sides) == pytest.approx(m2, abs=0.005)


@pytest.mark.parametrize(
    ("area", "sides"),
    [("", ""), ("1", "1x1"), ("", "32"), ("x", ""), ("", "1x2x3"), ("", "1x1x1x1"),
     ("", "3 every 2")],
)  # fmt: skip
def test_neither_or_both_or_half_a_size_is_refused(area: str, sides: str) -> None:
    with pytest.raises(BadInputError):
        read_area(area, sides)


@pytest.mark.parametrize("use", list(Use))
def test_every_use_has_a_tolerance_to_begin_with(use: Use) -> None:
    found = default_tolerance(use)
    assert 0 < found.bare <= 1
    assert 0 < found.annual_meadow_grass <= 1


def test_a_use_is_read_with_hyphens_and_short_words() -> None:
    assert read_use("Family-Lawn") is Use.FAMILY_LAWN
    assert read_use("green") is Use.COURT_OR_GREEN
    with pytest.raises(UnknownNameError, match="ornamental"):
        read_use("ornamentel")


def test_f37_names_that_are_alike_are_asked_about_and_both_are_kept(book: Book) -> None:
    assert add_zone(book, zone("Dave's lawn")) == ""
    assert add_zone(book, zone("Daves lawn")) == "Dave's lawn and Daves lawn are alike. One lawn?"
    assert add_zone(book, zone("Strip 1")) == ""
    assert add_zone(book, zone("Strip 2")) == ""
    assert len(book.ground().zones) == 6


def test_a_zone_of_the_same_name_or_of_unknown_soil_is_refused(book: Book) -> None:
    with pytest.raises(BadInputError, match="zone set"):
        add_zone(book, zone("MAIN COURT"))
    with pytest.raises(UnknownNameError, match="silty clay loam"):
        add_zone(book, zone("Back", soil="silty clay lome"))
    with pytest.raises(UnknownNameError, match="cylinder"):
        add_zone(book, zone("Back", mower=Mower("cilinder")))


def test_a_zone_is_changed_by_what_was_typed_and_the_old_value_kept(book: Book) -> None:
    typed = {"height_of_cut": "5/16 in", "amg": "20 %", "clumps": "2", "mower": "cylinder",
             "mower_width": "24 in", "box": "no", "area": "", "soil": ""}  # fmt: skip
    changed = set_zone(book, "main court", typed, reason="summer")
    assert changed.height_of_cut_mm == pytest.approx(7.9375)
    assert changed.tolerance == Tolerance(0.2, 0.03, 2)
    assert changed.mower == Mower("cylinder", 24 * 25.4, False)
    assert book.ground().zone("Main court") == changed
    [told] = book.store.whole_diary()
    assert (told.day, told.what.kind) == (TODAY, "changed")
    with pytest.raises(BadInputError, match="at least one change"):
        set_zone(book, "main court", {"area": ""})


def test_taped_shapes_have_corners_that_enclose_their_area() -> None:
    for sides in ("32x25.6", "12x9x8", "8 across", "12x8 across", "0, 4.2, 5.6, 0 every 2"):
        shape = read_shape(sides)
        assert outline(shape.corners)[0] == pytest.approx(shape.area_m2, rel=1e-6)


def test_a_zone_keeps_the_sides_it_was_taped_by_until_its_area_is_told_otherwise() -> None:
    taped = with_typed(MAIN, {"sides": "32x25.6", "area": ""})
    assert taped.sides == "32x25.6"
    assert with_typed(taped, {"height_of_cut": "9"}).sides == "32x25.6"
    assert with_typed(taped, {"area": "700"}).sides == ""


def test_sides_change_the_area() -> None:
    assert with_typed(MAIN, {"sides": "10x20", "area": ""}).area_m2 == 200.0


def test_pegs_go_in_together_or_not_at_all(book: Book) -> None:
    with pytest.raises(BadInputError, match="new name"):
        add_pegs(book, ["P3", "p1"], "main court")
    assert [peg.name for peg in book.ground().pegs] == ["P1", "P2"]
    assert add_peg(book, "P3", "short court", "by the post").zone == "Short court"


def test_honest_squares_are_named_on_and_stay_below_the_zone(book: Book) -> None:
    first = add_squares(book, "main court", 6, since=date(2010, 8, 1))
    second = add_squares(book, "short court", 2, heads_boxed=False)
    assert [each.name for each in (*first, *second)] == [f"S{n}" for n in range(1, 9)]
    assert book.ground().squares == (*first, *second)
    assert second[0].since == TODAY
    with pytest.raises(BadInputError, match="less than the zone"):
        add_squares(book, "main court", 9, area_m2=100)


def test_zones_are_shown_with_stage_pegs_and_squares(book: Book) -> None:
    add_squares(book, "main court", 6)
    main, short = show_zones(book)
    assert (main.zone.name, main.stage, main.pegs, main.squares) == ("Main court", "surveyed", 2, 6)
    assert show_zones(book, "short court") == (short,)


@pytest.mark.parametrize(("text", "share"), [("20", 0.2), ("20 %", 0.2), ("0", 0.0)])
def test_a_share_is_typed_as_percent(text: str, share: float) -> None:
    assert read_share(text) == share


@pytest.mark.parametrize("text", ["120", "-1", "some"])
def test_a_share_outside_0_to_100_is_refused(text: str) -> None:
    with pytest.raises(BadInputError):
        read_share(text)
