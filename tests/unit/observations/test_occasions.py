"""Places, their placements and their counters."""

from swardbook.observations.counts import Method, PlaceCount
from swardbook.observations.occasions import methods_used, not_counted, place_figures
from tests.support.counted import WEED, occasion, plants, points


def test_placements_of_one_place_are_one_unit() -> None:
    places = tuple(
        PlaceCount("1-01", Method.POINTS, {WEED: hits}, 25, "Ines", placement)
        for placement, hits in enumerate((5, 2, 8, 1), 1)
    )
    figures = place_figures(places, WEED, Method.POINTS)
    assert list(figures) == ["1-01"]
    assert figures["1-01"].value == 16


def test_a_kind_not_looked_for_is_never_nought() -> None:
    blank = PlaceCount("M09", Method.POINTS, {"bare": 3}, 25)
    places = (*points([20, 24]), blank)
    assert "M09" not in place_figures(places, WEED, Method.POINTS)
    assert not_counted(places, WEED) == ("M09",)


def test_where_two_counted_the_one_with_most_places_stands() -> None:
    places = (*points([20] * 8, "Ines"), *points([40] * 3, "Odalys"))
    assert {each.counter for each in place_figures(places, WEED, Method.POINTS).values()} == {
        "Ines"
    }
    only = place_figures(places, WEED, Method.POINTS, "Odalys")
    assert [each.value for each in only.values()] == [40, 40, 40]


def test_methods_stay_apart() -> None:
    places = (*points([20] * 4), *plants([1, 2]))
    assert methods_used(places, WEED) == (Method.POINTS, Method.PLANTS)
    assert len(place_figures(places, WEED, Method.PLANTS)) == 2


def test_an_occasion_names_its_counters_and_gives_parts() -> None:
    both = occasion("2010-10-09", (*points([20], "Ines"), *points([30], "Odalys", "H")))
    assert both.counters == ("Ines", "Odalys")
    assert len(both.only(["h01"]).places) == len(both.without(["h01"]).places) == 1
