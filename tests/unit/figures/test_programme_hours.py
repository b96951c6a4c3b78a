"""Programmes side by side by their hours."""

from swardbook.figures.programme_hours import picture_of_programmes
from swardbook.figures.programme_year import span_of
from tests.support.pictures import of_programmes, year


def test_the_title_names_the_least_and_the_most_work() -> None:
    told = of_programmes().sentence
    assert told.startswith("In Main court, Cut only takes least work, ")
    assert told.endswith(f"and Whole programme most, {span_of(year('whole').hours)}.")


def test_the_shortest_stands_first_whatever_the_order_given() -> None:
    one = picture_of_programmes([year("whole"), year("cut only"), year("cut and box")])
    two = picture_of_programmes([year("cut and box"), year("whole"), year("cut only")])
    assert one.svg == two.svg
    assert [row[0] for row in one.tables[0].rows] == ["Cut only", "Cut and box", "Whole programme"]


def test_one_programme_alone_is_told_alone() -> None:
    assert picture_of_programmes([year("whole")]).sentence == (
        f"Whole programme takes {span_of(year('whole').hours)} hours a year in Main court."
    )
