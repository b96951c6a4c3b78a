"""Templates of lawns: taken from one, kept at the yard, and a new lawn begun whole."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from swardbook.book.lawn_templates import (
    NOT_PLACED,
    begin_from,
    find_template,
    keep_template,
    read_areas,
    templates,
)
from swardbook.book.opening import Book
from swardbook.book.programmes import edit_programme, find_programme
from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.husbandry.ground import Site
from tests.support.firms import YARD, at, clock, firm_book

FROM = "1-plover-row"
SITE = Site("9 Court End", 52.1, 40)


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    opened = firm_book(tmp_path / "home")
    yield opened
    opened.store.close()


def test_a_lawn_begun_from_a_template_has_its_zones_thresholds_places_and_programmes(
    book: Book,
) -> None:
    source = at(book, FROM)
    edit_programme(source, "Cut and box", ["feeds=3"], "Quiet year")
    made = keep_template(book, clock, "Town garden", FROM)
    names = [each.zone.name for each in made.zones]
    found = begin_from(book, SITE, find_template(book, "town GARDEN"), {names[0]: "12"})
    lawn = at(book, found.slug)
    [zone] = lawn.ground().zones
    same = source.ground().zone(names[0])
    assert (zone.use, zone.tolerance, zone.height_of_cut_mm, zone.mower, zone.area_m2) == (
        same.use, same.tolerance, same.height_of_cut_mm, same.mower, 12.0
    )  # fmt: skip
    pegs = [each for each in source.ground().pegs if each.zone == names[0]]
    assert len(lawn.ground().pegs) == len(pegs)
    assert {each.sketch for each in lawn.ground().pegs} == {NOT_PLACED}
    assert len(lawn.ground().squares) == 1
    assert find_programme(lawn, "Quiet year").programme.feeds == 3
    assert lawn.ground().diary == ()
    assert found.left_out == tuple(names[1:])
    assert lawn.is_made_up


def test_the_last_template_of_a_name_counts_and_those_before_are_kept(book: Book) -> None:
    keep_template(book, clock, "Town garden", FROM)
    second = keep_template(book, clock, "town garden", "1-lime-walk")
    assert templates(book) == (second,)
    assert len(at(book, YARD).store.kept("lawn template")) == 2


def test_a_template_carries_nothing_of_one_lawn_alone(book: Book) -> None:
    lawn = at(book, FROM)
    zone = lawn.ground().zones[0]
    from dataclasses import replace

    lawn.store.save_zone(replace(zone, note="dog about", sides="12x9", sun_hours=3.0))
    first = keep_template(book, clock, "Town garden", FROM).zones[0].zone
    assert (first.note, first.sides, first.sun_hours, first.outline) == ("", "", None, None)


@pytest.mark.parametrize(
    ("areas", "wrong"),
    [
        ({}, BadInputError),
        ({"No such": "12"}, UnknownNameError),
        ({"Green": "wide"}, BadInputError),
    ],
)
def test_a_lawn_that_cannot_be_begun_leaves_nothing_behind(
    book: Book, areas: dict[str, str], wrong: type[Exception]
) -> None:
    made = keep_template(book, clock, "Town garden", FROM)
    before = book.store.grounds()
    with pytest.raises(wrong):
        begin_from(book, SITE, made, areas)
    assert book.store.grounds() == before


def test_a_name_that_is_there_is_never_written_over(book: Book) -> None:
    made = keep_template(book, clock, "Town garden", FROM)
    name = made.zones[0].zone.name
    with pytest.raises(BadInputError, match="name of the ground"):
        begin_from(book, Site("1 Lime Walk", 52.1, 40), made, {name: "12"})


def test_areas_are_read_zone_by_zone() -> None:
    assert read_areas(("Front lawn=120", "Green = 30 m2")) == {
        "Front lawn": "120",
        "Green": "30 m2",
    }
    with pytest.raises(BadInputError, match="ZONE=AREA"):
        read_areas(("120",))


def test_without_a_yard_or_zones_there_is_no_template(book: Book) -> None:
    with pytest.raises(BadInputError, match="with zones"):
        keep_template(book, clock, "Yard", YARD)
    with pytest.raises(UnknownNameError):
        find_template(book, "none")
