"""A kind is one kind under every name: English or Latin, as typed today or kept years ago."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

import pytest

from swardbook.handbook.species import all_species, key_of
from swardbook.husbandry.codec import plain_entry, read_entry
from swardbook.husbandry.ground import Ground
from swardbook.husbandry.happenings import ClumpCheck, Count, DigClumps, Happening, Heads, Pull
from swardbook.observations.counts import Method, PlaceCount, by_key
from swardbook.observations.samples import Smallest
from swardbook.planning.clumps import clumps_standing
from swardbook.planning.counts_now import weed_share
from swardbook.planning.heads import first_heads
from swardbook.planning.kinds import is_annual_meadow_grass, is_yorkshire_fog
from swardbook.planning.situation import situation
from swardbook.review.keepers import grass_worth_keeping
from swardbook.review.pulling import review_pulling
from swardbook.review.records import occasions_of
from swardbook.review.seasons import season_pairs
from tests.support.counted import entry, ground

POA = ["annual meadow-grass", "Poa annua", "poa annua", "AMG", "Annual Meadow Grass"]
FOG = ["yorkshire fog", "Yorkshire fog", "Holcus lanatus", "holcus lanatus"]


@pytest.mark.parametrize("name", POA)
def test_every_name_of_annual_meadow_grass_is_one(name: str) -> None:
    assert key_of(name) == "annual meadow-grass"
    assert is_annual_meadow_grass(name)


@pytest.mark.parametrize("name", FOG)
def test_every_name_of_yorkshire_fog_is_one(name: str) -> None:
    assert key_of(name) == "yorkshire fog"
    assert is_yorkshire_fog(name)


def test_every_species_is_found_under_each_of_its_names_and_other_kinds_stay() -> None:
    for key, species in all_species().items():
        assert {key_of(each) for each in (key, species.english, species.latin)} == {key}
        assert all(key_of(each) == key for each in species.other_names)
    assert (key_of("bare"), key_of(" Cannot  tell ")) == ("bare", "cannot tell")


def test_one_kind_counted_under_two_names_at_a_place_is_added_up() -> None:
    place = PlaceCount("P1", Method.POINTS, {"Poa annua": 3.0, "AMG": 2.0, "bare": 1.0}, 25)
    [read] = by_key([place])
    assert read.found == {"annual meadow-grass": 5.0, "bare": 1.0}


def places(found: Mapping[str, float]) -> tuple[PlaceCount, ...]:
    return tuple(PlaceCount(f"P{n}", Method.POINTS, dict(found), 25) for n in range(1, 13))


def lawn(poa: str, fog: str) -> Ground:
    """Two counts a year apart, passes, heads and clumps, all under some names."""
    what: list[tuple[str, Happening]] = [
        ("2010-10-04", Count(places({poa: 9.0, fog: 2.0, "chewings fescue": 12.0}))),
        ("2011-03-19", Pull(poa, 391, 400.0, "A")), ("2011-03-22", Pull(poa, 120, 400.0, "B")),
        ("2011-04-20", Heads(species=poa)), ("2011-05-01", ClumpCheck(fog, standing=9)),
        ("2011-05-02", DigClumps(fog, 4)),
        ("2011-10-03", Count(places({poa: 4.0, fog: 1.0, "chewings fescue": 18.0}))),
    ]  # fmt: skip
    return ground(*(entry(day, each) for day, each in what))


def readings(of: Ground) -> tuple[object, ...]:
    today = date(2011, 10, 8)
    sit = situation(of, "Court", None, today)
    spring = situation(of, "Court", None, date(2011, 5, 3))
    pairs = season_pairs(of, "Court", "annual meadow-grass", Smallest.customary())
    heads = first_heads(spring)
    return (
        weed_share(sit), clumps_standing(sit).standing, heads.day if heads else None,
        [pair.made for pair in pairs], grass_worth_keeping(of, "Court", today),
        [each.places for each in occasions_of(of, "Court")],
        review_pulling(of, "Court", "annual meadow-grass"),
    )  # fmt: skip


def test_every_reader_finds_the_same_whatever_the_names() -> None:
    wanted = readings(lawn("annual meadow-grass", "yorkshire fog"))
    assert wanted[0] == (pytest.approx(0.16), date(2011, 10, 3))
    assert wanted[1] == 5
    for poa in POA[1:]:
        for fog in FOG[1:]:
            assert readings(lawn(poa, fog)) == wanted


def test_old_entries_are_read_as_they_were_written() -> None:
    old = plain_entry(entry("2011-03-19", Pull("poa annua", 391)))
    read = read_entry(old)
    assert isinstance(read.what, Pull)
    assert read.what.species == "poa annua"
    assert is_annual_meadow_grass(read.what.species)
