"""A lawn grass that nobody sowed is asked about, never corrected."""

from dataclasses import replace

from swardbook.husbandry.ground import Ground
from swardbook.husbandry.happenings import Sow
from swardbook.observations.counts import Method, PlaceCount
from swardbook.review.sown_here import not_sown_here
from swardbook.seed.lot import LotPart, SeedLot
from tests.support.counted import counted, entry, ground

FINE = SeedLot("BB-0417", "Bobbin", (LotPart("chewings fescue", 0.8), LotPart("browntop", 0.2)))
RYEGRASS = (PlaceCount("M01", Method.POINTS, {"perennial ryegrass": 3, "bare": 2}, 25),)
QUESTION = "Perennial ryegrass was not sown here. Sure, probably or cannot tell?"


def sown(*more: object, lot: str = "BB-0417") -> Ground:
    return replace(ground(entry("2010-09-04", Sow(lot, 30.0)), *more), lots=(FINE,))  # type: ignore[arg-type]


def test_ryegrass_in_a_lawn_sown_without_it_is_asked_about() -> None:
    """F19."""
    assert not_sown_here(sown(), "Court", RYEGRASS) == (QUESTION,)


def test_what_was_sown_and_what_was_looked_for_and_not_found_are_not_asked_about() -> None:
    of_the_lot = (PlaceCount("M01", Method.POINTS, {"browntop bent": 9, "sown": 4}, 25),)
    none = (PlaceCount("M01", Method.POINTS, {"perennial ryegrass": 0}, 25),)
    weed = (PlaceCount("M01", Method.POINTS, {"annual meadow-grass": 9}, 25),)
    for places in (of_the_lot, none, weed):
        assert not_sown_here(sown(), "Court", places) == ()


def test_it_is_asked_once() -> None:
    again = sown(counted("2011-05-07", RYEGRASS))
    assert not_sown_here(again, "Court", RYEGRASS) == ()


def test_without_a_known_sowing_there_is_nothing_to_hold_it_against() -> None:
    assert not_sown_here(ground(), "Court", RYEGRASS) == ()
    assert not_sown_here(sown(lot=""), "Court", RYEGRASS) == ()
    assert not_sown_here(sown(lot="ZZ-1"), "Court", RYEGRASS) == ()
