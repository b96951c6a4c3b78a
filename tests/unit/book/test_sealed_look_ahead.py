"""The look-ahead's own guess: sealed with all it rests on, held against the count like anyone's."""

import shutil
from dataclasses import replace
from datetime import date
from pathlib import Path

import numpy as np
import pytest

from swardbook.book.foretelling import LEVELS, fingerprint
from swardbook.book.guesses import LOOK_AHEAD, Guess, read_guesses
from swardbook.book.look_ahead import FULL, Asked, zone_look_ahead
from swardbook.book.opening import Book, open_book
from swardbook.book.sealed import guesses, seal, settle
from swardbook.demo.build import Outcome, build
from swardbook.demo.scenario import TODAY, made_up_ground, made_up_weather
from swardbook.evidence.scoring import crps_of_quantiles
from swardbook.foundation.errors import BadInputError, RefusedError
from swardbook.husbandry.happenings import Count
from swardbook.observations.counts import Method
from swardbook.settings import Settings
from tests.support.books import entry
from tests.support.model import kernel

DRAWS = 256
ZONE = "Surround"
LATER = date(2012, 10, 12)


def quiet(_: str) -> None:
    return None


@pytest.fixture(scope="module")
def sealed_home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The made-up book with one guess of the look-ahead sealed in it."""
    home = tmp_path_factory.mktemp("made-up")
    book = build(Settings(home), lambda: TODAY, tell=quiet).book
    seal(book, ZONE, draws=DRAWS, kernel=kernel())
    book.store.close()
    return home


@pytest.fixture
def book(sealed_home: Path, tmp_path: Path) -> Book:
    """A copy of that book."""
    shutil.copytree(sealed_home, tmp_path / "home")
    return open_book(Settings(tmp_path / "home"), lambda: TODAY)


def the_guess(book: Book) -> Guess:
    [guess] = read_guesses(book)
    return guess


def test_it_holds_everything_it_rests_on(book: Book) -> None:
    guess, weather = the_guess(book), book.weather()
    assert weather is not None
    assert (guess.who, guess.sealed_on, guess.zone, guess.horizon) == (
        LOOK_AHEAD, TODAY, ZONE, "autumn",
    )  # fmt: skip
    assert (guess.day.year, guess.method, len(guess.places)) == (2012, Method.POINTS, 12)
    chain = book.store.chain()
    assert (guess.diary_entries, guess.diary_head) == (len(chain), chain[-1].checksum)
    basis = guess.basis
    assert basis is not None
    assert (basis.label, basis.draws, basis.kernel) == (FULL, DRAWS, kernel().identity)
    assert basis.programme["key"] == "as_recorded"
    assert "pull_hours_week" in basis.programme["numbers"]
    assert (basis.weather_last, basis.weather_name) == (TODAY, book.store.weather_name())
    assert basis.weather_fingerprint == fingerprint(weather)
    assert basis.past_years[-1] == 2010


def test_what_it_foretells_is_the_count_so_wider_than_what_will_stand(book: Book) -> None:
    guess = the_guess(book)
    assert guess.levels == LEVELS
    assert len(guess.quantiles) == len(LEVELS)
    assert list(guess.quantiles) == sorted(guess.quantiles)
    assert guess.range80 == (guess.quantiles[10], guess.quantiles[90])
    asked = Asked(made_up_ground(), made_up_weather(), TODAY, DRAWS, ("cut only",))
    look = zone_look_ahead(asked, ZONE, kernel()).look
    stands = look.prospects[0].at["autumn"]["annual_meadow_grass_cover"]
    assert guess.range80.high - guess.range80.low > stands.at80.high - stands.at80.low
    assert guess.middle == pytest.approx(stands.median, abs=6)


def test_sealed_again_the_same_day_it_is_the_same_guess(book: Book) -> None:
    again, new = seal(book, ZONE.lower(), draws=DRAWS, kernel=kernel())
    assert not new
    assert again == the_guess(book)


def test_a_programme_may_be_named_and_is_a_guess_of_its_own(book: Book) -> None:
    first = the_guess(book)
    other, new = seal(book, ZONE, "spring", "cut only", draws=64, kernel=kernel())
    assert new
    assert other.basis is not None
    assert other.basis.programme["name"] == "Cut only"
    assert other.day < first.day
    assert len(guesses(book)) == 2


@pytest.mark.parametrize(
    ("zone", "reason"),
    [
        ("Turf nursery", "general knowledge only"),
        ("Pavilion apron", "no verdict on next year"),
        ("Trial ground", "one mixture"),
    ],
)
def test_nothing_is_sealed_where_next_year_may_not_be_spoken_of(
    book: Book, zone: str, reason: str
) -> None:
    with pytest.raises(RefusedError, match=reason) as refusal:
        seal(book, zone, draws=64, kernel=kernel())
    assert "A guess of your own may be sealed" in str(refusal.value)
    assert len(guesses(book)) == 1


def test_draws_that_fill_no_block_are_refused(book: Book) -> None:
    with pytest.raises(BadInputError, match="multiple of 64"):
        seal(book, ZONE, draws=100, kernel=kernel())


def test_next_octobers_count_settles_it_by_its_own_quantiles(book: Book) -> None:
    guess = the_guess(book)
    last = next(
        each.what
        for each in reversed(book.ground().entries(ZONE, Count.kind))
        if isinstance(each.what, Count) and each.zone == ZONE
    )
    later = replace(book, today=LATER)
    later.store.add([entry(900, last, LATER, zone=ZONE)])
    [shown] = settle(later, ZONE).now
    made = shown.settled
    assert made is not None
    hits = [place.found["annual meadow-grass"] / place.looked for place in last.places]
    assert made.found == pytest.approx(100 * float(np.mean(hits)), abs=1e-4)
    score = crps_of_quantiles(guess.levels, guess.quantiles, made.found)
    assert made.crps == pytest.approx(score, rel=1e-5)
    assert guess.range80 is not None
    assert made.inside is not guess.range80.excludes(made.found)
    assert made.beside[-1].startswith("Sealed for this way of working: As recorded.")


def test_the_fingerprint_changes_with_any_value_of_the_weather() -> None:
    weather = made_up_weather().until(date(1992, 1, 1))
    rain = weather.rain.copy()
    rain[7] += 0.1
    assert fingerprint(weather) == fingerprint(made_up_weather().until(date(1992, 1, 1)))
    assert fingerprint(replace(weather, rain=rain)) != fingerprint(weather)


def test_the_made_up_book_is_not_built_anew_over_a_guess(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A newer made-up ground replaces an untouched older one, never one with a guess in it."""
    guess = the_guess(book)
    book.store.close()
    monkeypatch.setattr("swardbook.demo.build.made_up_entries", tuple)
    built = build(book.settings, lambda: TODAY, tell=quiet)
    assert built.outcome is Outcome.WRITTEN_IN
    assert read_guesses(built.book) == (guess,)
    built.book.store.close()
