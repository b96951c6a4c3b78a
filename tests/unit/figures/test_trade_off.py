"""The trade-off as a picture: it says where it suffices, and claims no more than the search."""

from dataclasses import replace

from swardbook.figures.trade_off import picture_of_search
from tests.support.pictures import in_one_line, of_search, searched


def test_where_no_hours_suffice_the_title_says_so() -> None:
    told = picture_of_search(replace(searched(), enough=None)).sentence
    assert told == (
        "Court: no hours up to 9 a week bring annual meadow-grass (Poa annua) likely within the"
        " 10 % of the ground that is fine there by next October."
    )


def test_where_some_suffice_the_title_says_from_which_and_how_many_more() -> None:
    assert "from about 6 hours a week" in of_search().sentence
    assert of_search().sentence.endswith("2 more than the 4 asked about.")
    assert "more than" not in picture_of_search(replace(searched(), asked=None)).sentence
    one = picture_of_search(replace(searched(), enough=1.0, asked=None)).sentence
    assert "from about 1 hour a week" in one


def test_each_step_stands_with_its_range_words_and_verdict() -> None:
    svg = in_one_line(of_search().svg)
    assert "2.9 h a week: likely 4 to 12 %" in svg
    assert "Pull 2 h a week. Against fewer hours: less, clear; 7 draws in 10" in svg
    assert of_search().tables[0].rows[1] == (
        "2", "2.9", "4 to 12", "3 to 15", "7 in 10", "pull 2 h a week",
        "Against fewer hours: less, clear",
    )  # fmt: skip


def test_what_is_fine_the_hours_asked_and_where_pulling_comes_in_are_marked() -> None:
    svg = of_search().svg
    for told in ("fine here: 10 %", "4 h asked about", "pulling comes in"):
        assert told in svg
    bare = replace(searched(), asked=None, steps=searched().steps[:1])
    assert "asked about" not in picture_of_search(bare).svg
    assert "pulling comes in" not in picture_of_search(bare).svg


def test_by_plants_no_line_of_cover_is_drawn() -> None:
    told = picture_of_search(replace(searched(), by_plants=True))
    assert "fine here" not in told.svg
    assert "plants a m², square-root scale" in told.svg


def test_the_way_recorded_is_drawn_only_where_it_is_known() -> None:
    assert "Open square" in of_search().key
    without = picture_of_search(replace(searched(), recorded=None))
    assert "Open square" not in without.key
    assert len(without.tables) == 1


def test_it_says_that_the_best_was_chosen_on_the_draws_that_tell_of_it() -> None:
    told = of_search().svg
    assert "so a little" in told
    assert "256" in told
