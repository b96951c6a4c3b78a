"""What in a book needs a look, and the command that puts it right."""

from datetime import date

import pytest

from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground, Peg
from swardbook.husbandry.happenings import Closure, Count, Cut, Feed, Happening, Note, Sow
from swardbook.observations.counts import Method, PlaceCount
from swardbook.review.look_over import ToLookAt, look_over_ground
from tests.support.books import LOT, MAIN, SHORT, SITE, TODAY, entry


def looked_over(*diary: DiaryEntry) -> tuple[ToLookAt, ...]:
    pegs = (Peg("P1", MAIN.name),)
    return look_over_ground(Ground(SITE, (MAIN, SHORT), pegs=pegs, lots=(LOT,), diary=diary), TODAY)


def counted(place: str, looked: float = 1.0) -> Count:
    return Count((PlaceCount(place, Method.PLANTS, {"annual meadow-grass": 3}, looked),))


@pytest.mark.parametrize(
    ("what", "about", "words", "way"),
    [
        (Sow("BB-0417", 30.0, used_g=12_000), "weights", "12 kg of seed used", "rate_g_m2=14.6"),
        (Sow("", 30.0), "no lot", "without a lot", "lot=BB-0417"),
        (counted("P7"), "place", "no peg, plot or honest square called P7", "--as-it-stands"),
        (counted("P1", 25.0), "place", "0.25 m², or its crossings", "--withdraw"),
    ],
)
def test_an_entry_that_needs_a_look_is_listed_with_what_helps(
    what: Happening, about: str, words: str, way: str
) -> None:
    [item] = looked_over(entry(1, what, date(2011, 9, 1)))
    assert (item.about, item.zone, item.day) == (about, MAIN.name, date(2011, 9, 1))
    assert words in item.what
    assert any(way in each for each in item.ways)
    assert item.changes


def test_what_is_ordinary_is_not_listed() -> None:
    assert looked_over(
        entry(1, Sow("BB-0417", 30.0, used_g=24_576), date(2011, 9, 1)),
        entry(2, Cut(8.0, True), date(2011, 10, 1)),
        entry(3, counted("P1")),
        entry(4, Note("tea"), zone=""),
    ) == ()  # fmt: skip


def test_a_day_that_has_not_come_is_listed_with_the_year_before() -> None:
    [item] = looked_over(entry(1, Cut(8.0, True), date(2012, 3, 14)))
    assert item.about == "future"
    assert "--set when=2011-03-14" in item.ways[0]


def test_zone_work_without_a_zone_counts_for_every_zone_and_is_listed() -> None:
    [item] = looked_over(entry(1, Cut(8.0, True), date(2011, 9, 1), zone=""))
    assert (item.about, item.zone) == ("no zone", "")
    assert "it counts for all 2 zones" in item.what


def test_the_same_work_twice_on_a_day_is_listed_until_it_was_looked_at() -> None:
    first, second = (entry(n, Feed("spring feed", 25.0), date(2011, 9, 1)) for n in (1, 2))
    [item] = looked_over(first, second)
    assert item.about == "same work"
    assert "One feed or two?" in item.what
    seen = entry(3, Feed("spring feed", 25.0), date(2011, 9, 1), corrects=second.id)
    assert looked_over(first, seen) == ()


def test_work_while_the_zone_was_closed_to_machines_is_listed() -> None:
    closed = entry(1, Closure(date(2011, 9, 10), "machines"), date(2011, 9, 1))
    play = entry(2, Closure(date(2011, 9, 10), "play"), date(2011, 9, 1))
    cut = entry(3, Cut(8.0, True), date(2011, 9, 5))
    assert looked_over(play, cut) == ()
    [item] = looked_over(closed, cut)
    assert item.about == "closed"
    assert "--set until=2011-09-05" in item.ways[1]


def test_more_seed_used_than_was_bought_points_at_the_bag() -> None:
    sown = [entry(n, Sow("BB-0417", 30.0, used_g=24_576), date(2011, 9, n)) for n in (1, 11)]
    [item] = [each for each in looked_over(*sown) if each.entry is None]
    assert "49.2 kg used of 40 kg bought" in item.what
    assert item.ways == ("swardbook lot show BB-0417",)


def test_what_was_odd_when_typed_is_listed_with_its_fix() -> None:
    odd = entry(1, Cut(80.0, True), date(2011, 9, 1), needs_a_look="80 mm is far higher.")
    [item] = looked_over(odd)
    assert item.about == "odd"
    assert "Cut of Thu 1 September 2011: 80 mm is far higher." in item.what
    assert item.ways[-1].endswith("--as-it-stands --reason 'looked again'")
