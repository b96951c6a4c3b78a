"""A guess as a picture: what is sealed stays sealed, what missed is drawn like what held."""

from dataclasses import replace

import pytest

from swardbook.figures.guess_rows import row_words
from swardbook.figures.sealed_guess import SealedGuess, picture_of_guess
from tests.support.pictures import SO_FAR, guessed, in_one_line, of_sealed, of_unsealed


def test_a_sealed_guess_shows_when_it_opens_and_none_of_its_figures() -> None:
    picture = of_sealed()
    assert picture.sentence == (
        "What the look-ahead thinks of annual meadow-grass (Poa annua) in Court is sealed: it"
        " opens when the count of October 2012 comes."
    )
    assert "The look-ahead: sealed" in picture.svg
    assert "sealed 8 October 2011" in picture.svg
    assert "opens with the count, October 2012" in picture.svg
    shut = SealedGuess(guessed(is_settled=False), 0, SO_FAR, "256 draws.")
    other = replace(shut.row, middle=77.0)
    rows = (replace(other, middle=None), *shut.count.rows[1:])
    assert picture_of_guess(replace(shut, count=replace(shut.count, rows=rows))).svg == picture.svg


def test_a_settled_guess_says_what_was_found_and_whether_it_held() -> None:
    assert of_unsealed().sentence.endswith("22 % was found, and it missed.")
    held = picture_of_guess(SealedGuess(guessed(), 1, SO_FAR)).sentence
    assert held.startswith("Ines said 15 to 25 % for annual meadow-grass (Poa annua) in Court")
    assert held.endswith("22 % was found, and it held.")
    one = picture_of_guess(SealedGuess(guessed(), 2, SO_FAR)).sentence
    assert one.startswith("Bram said 40 %")
    assert one.endswith("22 % was found, one figure.")


def test_ones_own_guess_stands_beside_the_look_aheads_on_one_scale() -> None:
    svg = of_unsealed().svg
    for told in (
        "The look-ahead: 26 to 55 %, missed; off by 13 points",
        "Ines: 15 to 25 %, held; off by 1.3 points",
        "Bram: 40 %, one figure; off by 18 points",
        "22 % found on Fri 12 October 2012, 12 places by Ines",
    ):
        assert told in in_one_line(svg)


def test_held_and_missed_differ_by_the_filling_of_the_disc() -> None:
    held, missed = (
        str(picture_of_guess(SealedGuess(replace(guessed(), rows=(row,)), 0, ())).specification)
        for row in (guessed().rows[1], guessed().rows[0])
    )
    assert "'shape': 'circle', 'size': 80, 'stroke': '#1b1b1b'" in missed
    assert held.count("'fill': 'white'") < missed.count("'fill': 'white'")


def test_where_nothing_was_counted_yet_it_says_so_and_draws() -> None:
    picture = picture_of_guess(SealedGuess(guessed(is_settled=False), 1, ()))
    assert "No count so far." in picture.svg
    assert "discs are the counts so far" not in picture.key


@pytest.mark.parametrize("beside", ["no count came", "opened 347 days before its count was due"])
def test_what_has_to_be_said_of_a_guess_stands_beside_it(beside: str) -> None:
    row = replace(guessed(is_settled=False).rows[1], beside=beside)
    assert row_words(row, "%") == f"Ines: 15 to 25 %; {beside}"
    picture = picture_of_guess(SealedGuess(replace(guessed(), rows=(row,), found=None), 0, SO_FAR))
    assert beside[1:] in picture.svg
