"""Ratings and measured traits side by side, out of the diary."""

from datetime import date
from pathlib import Path

import pytest

from swardbook.book.diary import write
from swardbook.book.opening import Book
from swardbook.book.side_by_side import SideAsked, side_by_side
from swardbook.book.trial_choice import choose_in_trial
from swardbook.evidence import Verdict
from swardbook.foundation.dates import When
from swardbook.foundation.errors import BadInputError, NotEnoughDataError
from swardbook.husbandry.ground import Plot
from swardbook.husbandry.happenings import PlotReadings
from swardbook.husbandry.plot_records import PlotReading
from tests.support.books import TODAY, small_book

MIXTURES = ("Bobbin", "Gatepost", "Thimble")
ZONE = "Main court"


@pytest.fixture
def book(tmp_path: Path) -> Book:
    """Three mixtures in four blocks, rated twice for looks and once for colour."""
    made = small_book(tmp_path)
    for block in range(1, 5):
        for number, name in enumerate(MIXTURES, 1):
            made.store.save_plot(Plot(f"{block}-{number:02d}", ZONE, block, number, name))
    for trait, day, lift in (("quality", date(2011, 9, 1), 0.0), ("quality", TODAY, 1.0),
                             ("colour", TODAY, 0.5)):  # fmt: skip
        readings = tuple(
            PlotReading(
                f"{block}-{number:02d}",
                None if (block, number) == (4, 3) else 4 + lift * number + (block * number) % 3 / 2,
                "Ines",
            )
            for block in range(1, 5) for number in range(1, 4)
        )  # fmt: skip
        write(made, PlotReadings(trait, "1-9", "", readings), When.on(day), zone=ZONE)
    return made


def test_ratings_are_compared_plot_by_plot_and_a_blank_is_never_nought(book: Book) -> None:
    found = side_by_side(book, SideAsked(ZONE, "quality"))
    assert found.said is not None
    assert found.said.read.day == TODAY
    assert found.said.chosen.not_read == ("4-03",)
    assert found.said.means.plots.tolist() == [4, 4, 3]
    assert not found.asked.lower_first
    assert found.said.pair("Bobbin", "Thimble").first == "Thimble"
    assert len(found.paths) == 2
    assert {pair.verdict for pair in found.said.pairs} <= set(Verdict)


def test_a_day_may_be_asked_for_and_one_without_readings_is_refused(book: Book) -> None:
    early = side_by_side(book, SideAsked(ZONE, "quality", day=date(2011, 9, 1)))
    assert early.said is not None
    assert early.said.read.day == date(2011, 9, 1)
    with pytest.raises(BadInputError, match="2011-09-01"):
        side_by_side(book, SideAsked(ZONE, "quality", day=date(2011, 8, 1)))
    with pytest.raises(NotEnoughDataError):
        side_by_side(book, SideAsked(ZONE, "height"))


def test_a_choice_takes_the_plots_on_which_every_trait_was_read(book: Book) -> None:
    made = choose_in_trial(book, SideAsked(ZONE), {"quality": 2.0, "colour": 1.0})
    assert made.plots == 11
    assert made.day == TODAY
    assert "Thimble" in made.choice.ever_first
    assert [wish.weight for wish in made.wishes] == [2.0, 1.0]
