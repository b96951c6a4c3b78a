"""People's own guesses: sealed as said, opened and settled in the open, never taken back."""

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from swardbook.book.archive import export_book, import_book
from swardbook.book.calibration import calibrate, calibration
from swardbook.book.guesses import GUESS, SETTLED, Guess, sealed
from swardbook.book.opening import Book, open_book
from swardbook.book.sealed import (
    DONE,
    NEVER,
    READY,
    WAITING,
    GuessShown,
    guesses,
    seal,
    seal_own,
    settle,
    unseal,
)
from swardbook.book.settling import scores_of, settled_by_count
from swardbook.evidence.scoring import crps_of_normal
from swardbook.foundation.errors import (
    BadInputError,
    DamagedBookError,
    NotEnoughDataError,
    RefusedError,
    UnknownNameError,
)
from swardbook.husbandry.happenings import Count
from swardbook.observations.counts import Method, PlaceCount
from swardbook.settings import Settings
from tests.support.books import MAIN, SHORT, TODAY, entry, small_book

POA = "annual meadow-grass"
NEXT = date(2012, 10, 6)


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return small_book(tmp_path / "home")


def on(book: Book, day: date) -> Book:
    """The same book on another day."""
    return replace(book, today=day, written_on=day)


def count(
    number: int, day: date, hits: float = 3.0, places: int = 12, who: str = "Ines",
    method: Method = Method.POINTS, zone: str = MAIN.name,
) -> Count:  # fmt: skip
    looked = 25.0 if method is Method.POINTS else 1.0
    return Count(
        tuple(PlaceCount(f"M{n:02d}", method, {POA: hits}, looked, who) for n in range(places))
    )


def add_count(book: Book, number: int, day: date, **more: object) -> None:
    what = count(number, day, **more)  # type: ignore[arg-type]
    book.store.add([entry(number, what, day)])


def own(book: Book, low: float, high: float, who: str = "Ines") -> Guess:
    return seal_own(book, MAIN.name, who, (low, high))[0]


def test_a_guess_says_who_when_where_what_and_how_it_will_be_counted(book: Book) -> None:
    add_count(book, 1, date(2011, 10, 1))
    guess = own(book, 8, 14)
    assert (guess.who, guess.sealed_on, guess.zone, guess.kind) == ("Ines", TODAY, MAIN.name, POA)
    assert (guess.day.year, guess.day.month, guess.unit) == (2012, 10, "%")
    assert guess.method is Method.POINTS
    assert len(guess.places) == 12
    assert guess.counter == "Ines"
    assert (guess.diary_entries, guess.diary_head) == (1, book.store.chain()[-1].checksum)


def test_a_guess_may_be_sealed_before_anything_was_counted(book: Book) -> None:
    guess, new = seal_own(book, "short court", "Bram", (2, 2), by_plants=True)
    assert new
    assert (guess.zone, guess.method, guess.middle) == (SHORT.name, Method.PLANTS, 2)
    assert guess.range80 is None


def test_the_same_guess_is_kept_once_and_another_beside_it(book: Book) -> None:
    first, again, other = own(book, 8, 14), own(book, 8, 14), own(book, 6, 14)
    assert first == again
    assert [each.guess for each in guesses(book)] == [first, other]


def test_the_look_ahead_is_refused_without_weather_and_counts(book: Book) -> None:
    with pytest.raises(RefusedError, match="general knowledge only"):
        seal(book, MAIN.name, kernel=None)
    with pytest.raises(RefusedError, match="yorkshire fog is general knowledge only"):
        seal(book, MAIN.name, kind="Yorkshire fog")
    assert guesses(book) == ()


@pytest.mark.parametrize(("low", "high"), [(14, 8), (-1, 3), (50, 101), (float("nan"), 3)])
def test_what_is_no_range_is_refused(book: Book, low: float, high: float) -> None:
    with pytest.raises(BadInputError, match="the guess"):
        own(book, low, high)


@pytest.mark.parametrize("who", ["", "  ", "The look-ahead"])
def test_somebody_must_stand_for_a_guess(book: Book, who: str) -> None:
    with pytest.raises(BadInputError, match="the person who guesses"):
        own(book, 1, 2, who)


def test_a_guess_is_not_sealed_for_a_day_that_is_past(book: Book) -> None:
    """Otherwise anybody could foretell what is known."""
    late = replace(book, today=TODAY - timedelta(days=300))
    with pytest.raises(BadInputError, match="on the day it is made"):
        seal_own(late, MAIN.name, "Ines", (8, 14))
    with pytest.raises(BadInputError, match="on the day it is made"):
        seal(late, MAIN.name)


def test_opening_before_its_day_says_so_and_is_kept(book: Book) -> None:
    guess = own(book, 8, 14)
    opened = unseal(book, guess.id[:6])
    assert opened.days_early == (guess.day - timedelta(days=21) - TODAY).days
    unseal(book, guess.id)
    later = on(book, NEXT)
    assert unseal(later, guess.id).days_early == 0
    [shown] = guesses(later)
    assert [each.opened_on for each in shown.opened] == [TODAY]


def test_an_unknown_guess_offers_those_there_are(book: Book) -> None:
    guess = own(book, 8, 14)
    with pytest.raises(UnknownNameError, match=guess.id[:8]):
        unseal(book, "zzzz")
    with pytest.raises(UnknownNameError):
        unseal(book, "")
    with pytest.raises(UnknownNameError):
        settle(book, "zzzz")


def test_a_count_of_the_season_settles_a_range_by_the_stated_rule(book: Book) -> None:
    guess = own(book, 8, 14)
    later = on(book, NEXT)
    add_count(later, 1, NEXT, hits=5.0)
    assert [each.state for each in guesses(later)] == [READY]
    [shown] = settle(later).now
    made = shown.settled
    assert made is not None
    assert shown.state == DONE
    assert (made.guess, made.found, made.places, made.counted_on) == (guess.id, 20.0, 12, NEXT)
    assert made.inside is False
    assert made.interval_score == pytest.approx(6 + 10 * 6)
    spread = 3 / 1.2815515655446004
    assert made.crps == pytest.approx(crps_of_normal(11, spread, 20.0, least=0.0), rel=1e-5)


def test_a_single_figure_is_scored_by_how_far_off_it_was(book: Book) -> None:
    own(book, 9, 9)
    later = on(book, NEXT)
    add_count(later, 1, NEXT)
    [shown] = settle(later, MAIN.name).now
    assert shown.settled is not None
    assert (shown.settled.inside, shown.settled.crps) == (None, 3.0)


def test_settling_twice_changes_nothing_though_the_count_was_put_right(book: Book) -> None:
    guess = own(book, 8, 14)
    later = on(book, NEXT)
    add_count(later, 1, NEXT)
    settle(later)
    kept = later.store.all_kept()
    put_right = count(1, NEXT, hits=9.0)
    later.store.add([entry(2, put_right, NEXT, corrects=entry(1).id)])
    again = settle(later)
    assert again.now == ()
    assert [each.guess for each in again.others] == [guess]
    assert later.store.all_kept() == kept
    assert {kind for kind, _, _ in kept} == {GUESS, SETTLED}


def test_the_first_count_that_fits_settles_whenever_that_is_asked(book: Book) -> None:
    guess = own(book, 8, 14)
    later = on(book, date(2012, 11, 30))
    add_count(later, 2, date(2012, 10, 20), hits=9.0)
    add_count(later, 1, date(2012, 9, 30), hits=3.0)
    early = settled_by_count(later.store.ground(date(2012, 10, 1)), guess, date(2012, 10, 1), "")
    late = settled_by_count(later.ground(), guess, later.today, "")
    assert not isinstance(early, str)
    assert not isinstance(late, str)
    assert (early.counted_on, early.found) == (late.counted_on, late.found)


@pytest.mark.parametrize(
    ("day", "more", "told"),
    [
        (date(2012, 8, 1), {}, "No count came"),
        (date(2013, 10, 6), {}, "No count came"),
        (NEXT, {"method": Method.PLANTS}, "counted by points"),
        (NEXT, {"places": 5}, "5 places counted, needs 8"),
        (NEXT, {"zone": SHORT.name}, "No count came"),
    ],
)
def test_what_is_not_like_with_like_settles_nothing(
    book: Book, day: date, more: dict[str, object], told: str
) -> None:
    own(book, 8, 14)
    later = on(book, date(2013, 12, 1))
    what = count(1, day, **more)  # type: ignore[arg-type]
    later.store.add([entry(1, what, day, zone=str(more.get("zone", MAIN.name)))])
    answer = settle(later)
    assert answer.now == ()
    [shown] = answer.others
    assert shown.state == NEVER
    assert told in shown.waits


def test_half_of_the_places_must_be_counted_again_and_fewer_are_told(book: Book) -> None:
    add_count(book, 1, date(2011, 10, 1), places=20)
    own(book, 8, 14)
    later = on(book, NEXT)
    add_count(later, 2, NEXT, places=8)
    assert "8 of 20 places counted again, needs half" in settle(later).others[0].waits
    later = on(book, NEXT + timedelta(days=5))
    add_count(later, 3, later.today, places=14, who="Odalys")
    [shown] = settle(later).now
    assert shown.settled is not None
    assert shown.settled.beside == (
        "14 of the 20 places were counted again.",
        "Counted by Odalys; sealed for Ines's counting.",
    )


def test_before_its_season_a_guess_waits_and_says_for_what(book: Book) -> None:
    own(book, 8, 14)
    [shown] = settle(book).others
    assert shown.state == WAITING
    assert "annual meadow-grass by points in Main court" in shown.waits


def test_with_nothing_sealed_there_is_not_enough_to_settle(book: Book) -> None:
    with pytest.raises(NotEnoughDataError, match="a sealed guess"):
        settle(book)


def test_a_guess_that_was_tampered_with_is_not_settled(book: Book, tmp_path: Path) -> None:
    guess = own(book, 8, 14)
    later = on(book, NEXT)
    add_count(later, 1, NEXT, hits=5.0)
    book.store.close()
    file = tmp_path / "home" / "book.sqlite3"
    raw = file.read_bytes()
    assert raw.count(b'"high":14.0') == 1
    file.write_bytes(raw.replace(b'"high":14.0', b'"high":24.0'))
    tampered = on(open_book(Settings(tmp_path / "home"), lambda: NEXT), NEXT)
    with pytest.raises(DamagedBookError, match=guess.id):
        settle(tampered)
    tampered.store.close()


def test_a_guess_altered_in_an_archive_is_found_out(book: Book, tmp_path: Path) -> None:
    """An archive's manifest can be written anew; the guess's own id still tells."""
    guess = own(book, 8, 14)
    other = small_book(tmp_path / "elsewhere")
    altered = {**dict(book.store.kept(GUESS))[guess.id], "high": 24.0}
    other.store.keep(GUESS, guess.id, altered)
    for act in (lambda: unseal(other, guess.id), lambda: settle(other)):
        with pytest.raises(DamagedBookError, match="do not agree"):
            act()


def test_guesses_and_what_became_of_them_move_to_another_machine(
    book: Book, tmp_path: Path
) -> None:
    guess = own(book, 8, 14)
    unseal(book, guess.id)
    later = on(book, NEXT)
    add_count(later, 1, NEXT)
    settle(later)
    own(later, 3, 5, "Bram")
    export_book(later, tmp_path / "one.zip")
    import_book(Settings(tmp_path / "elsewhere"), tmp_path / "one.zip")
    other = on(open_book(Settings(tmp_path / "elsewhere"), lambda: NEXT), NEXT)
    assert guesses(other) == guesses(later)
    assert calibration(other) == calibration(later)
    assert other.store.all_kept() == later.store.all_kept()
    export_book(other, tmp_path / "two.zip")
    assert (tmp_path / "one.zip").read_bytes() == (tmp_path / "two.zip").read_bytes()
    other.store.close()


def test_on_an_earlier_day_later_guesses_are_not_there(book: Book) -> None:
    own(book, 8, 14)
    assert guesses(replace(book, today=TODAY - timedelta(days=1))) == ()


# how the guesses have done


def shown_of(guess: Guess, found: float) -> GuessShown:
    from swardbook.book.guesses import Settled

    made = scores_of(guess, found)
    settled = Settled(guess.id, NEXT, NEXT, found, 12, ("Ines",), made.inside, made.crps,
                      made.interval_score, made.place, "")  # fmt: skip
    return GuessShown(guess, DONE, "", settled, ())


def test_under_five_ranges_nothing_is_said_of_how_many_held(book: Book) -> None:
    guess = own(book, 8, 14)
    few = calibrate([shown_of(guess, 10.0)] * 4)
    assert (few.held.ranges, few.held.held, few.held.verdict) == (4, 4, "not enough data")
    five = calibrate([shown_of(guess, 10.0)] * 5)
    assert five.held.share is not None
    assert five.held.share.low == pytest.approx(0.5655, abs=1e-4)
    assert five.held.verdict == "agrees with four in five"
    missed = calibrate([shown_of(guess, 30.0)] * 6)
    assert missed.held.verdict == "too narrow"


def test_figures_and_misses_count_and_units_are_never_mixed(book: Book) -> None:
    cover, figure = own(book, 8, 14), own(book, 9, 9)
    plants = seal_own(book, SHORT.name, "Ines", (1, 3), by_plants=True)[0]
    waiting = GuessShown(cover, NEVER, "No count came.", None, ())
    made = calibrate([shown_of(cover, 30.0), shown_of(figure, 30.0), shown_of(plants, 2), waiting])
    by_unit = {each.unit: each for each in made.tallies}
    assert set(by_unit) == {"%", "plants/m2"}
    both = by_unit["%"]
    assert (both.sealed, both.settled, both.never) == (3, 2, 1)
    assert (both.held.ranges, both.held.held) == (1, 0)
    scores = [scores_of(each, 30.0).crps for each in (cover, figure)]
    assert both.mean_crps == pytest.approx(sum(scores) / 2)


def test_a_person_stands_beside_the_look_ahead_on_the_counts_both_guessed(book: Book) -> None:
    mine = own(book, 8, 14)
    quantiles = (4.0, 10.0, 20.0)
    tool = sealed(replace(mine, who="the look-ahead", levels=(0.0, 0.5, 1.0), quantiles=quantiles))
    [both] = calibrate([shown_of(mine, 12.0), shown_of(tool, 12.0)]).beside
    assert (both.who, both.counts) == ("Ines", 1)
    assert both.theirs == pytest.approx(scores_of(mine, 12.0).crps)
    assert both.look_ahead == pytest.approx(scores_of(tool, 12.0).crps)


def test_guesses_are_held_to_each_stated_level_by_their_own_distribution(book: Book) -> None:
    """8 to 14 read as a normal: half lies in 9.4 to 12.6, nine tenths in 7.1 to 14.9."""
    guess = own(book, 8, 14)
    made = calibrate([shown_of(guess, found) for found in (11.0, 9.0, 13.5, 7.5, 20.0)])
    assert [(each.level, each.held, each.ranges) for each in made.levels] == [
        (0.5, 1, 5), (0.8, 3, 5), (0.9, 4, 5),
    ]  # fmt: skip
    assert made.levels[1] == made.held
    assert made.levels[0].verdict == "agrees with what was stated"
    few = calibrate([shown_of(guess, 11.0)])
    assert {each.verdict for each in few.levels} == {"not enough data"}
