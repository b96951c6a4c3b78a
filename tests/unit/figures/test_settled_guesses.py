"""How guesses did, as a picture: none left out, and too few are said to be too few."""

from dataclasses import replace

from swardbook.figures.settled_guesses import picture_of_guesses
from tests.support.pictures import guessed, of_settled, settled


def test_the_title_says_how_many_ranges_held_and_what_may_be_said() -> None:
    assert of_settled().sentence == ("15 of 20 settled 80 % ranges held: agrees with four in five.")


def test_with_too_few_it_says_not_enough_yet_and_draws_no_share() -> None:
    few = picture_of_guesses(settled(3, 2))
    assert few.sentence == (
        "2 of 3 settled 80 % ranges held: not enough yet to say whether four in five do."
    )
    assert "80 % ranges: 2 of 3 held; not enough yet, 5 are needed to say" in few.svg
    assert "'held'" not in str(few.specification)
    assert "'held': 75.0" in str(of_settled().specification)


def test_before_any_count_it_says_that_none_is_settled() -> None:
    none = replace(settled(0, 0), settled=0, sealed=2, counts=(guessed(is_settled=False),))
    told = picture_of_guesses(none)
    assert told.sentence == "2 guesses are sealed, and none is settled: no count has come yet."
    assert "none settled" in told.svg
    one = picture_of_guesses(replace(none, sealed=1)).sentence
    assert one.startswith("1 guess is sealed")


def test_single_figures_alone_have_no_range_to_hold() -> None:
    told = picture_of_guesses(replace(settled(0, 0), settled=1, sealed=1)).sentence
    assert told == "The guesses that are settled were single figures, so no range could hold."


def test_the_foot_counts_every_guess_and_those_whose_count_never_came() -> None:
    drawn = " ".join(of_settled().svg.split())
    assert "23 guesses sealed, 21 settled, 2 whose count never came; none is left out." in drawn
    assert "Beware." in drawn


def test_each_stated_level_has_a_line_of_its_own() -> None:
    table = of_settled().tables[-1]
    assert [row[0] for row in table.rows] == ["50 %", "80 %", "90 %"]
    assert [row[1] for row in table.rows] == ["7 of 20 held", "15 of 20 held", "15 of 20 held"]
