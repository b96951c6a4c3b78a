"""A programme's year as a picture: its days are the programme's, and a lane says what it is."""

from swardbook.figures.lanes import MARKS
from swardbook.figures.programme_year import picture_of_edit, picture_of_programme, said
from tests.support.pictures import in_one_line, of_edit, of_programme, year


def test_every_day_of_work_is_one_mark_and_every_kind_a_line_of_words() -> None:
    laid = year("whole")
    drawn = str(of_programme().specification).replace("\\n", " ")
    for lane in laid.lanes:
        assert drawn.count(f"'kind': '{lane.kind}', 'day'") == len(lane.days)
        assert said(lane) in drawn
    assert [each.kind for each in laid.lanes] == list(MARKS)


def test_the_title_says_the_hours_and_what_most_of_them_are_for() -> None:
    told = picture_of_programme(year("dig by hand")).sentence
    assert told.startswith("Dig by hand in Main court takes ")
    assert told.endswith(" hours a year, most of them for pulling.")


def test_work_that_is_not_in_it_is_named() -> None:
    assert "Not in it: cutting with the box on, verticutting, pulling" in (
        picture_of_programme(year("cut only")).key
    )


def test_verticuts_lie_along_their_lines_in_turn() -> None:
    lane = next(each for each in year("whole").lanes if each.kind == "verticut")
    assert lane.lines[:3] == (20.0, -20.0, 20.0)
    assert len(lane.lines) == len(lane.days)


def test_an_edit_says_how_many_hours_more_or_fewer() -> None:
    before, now = year("whole"), year("whole", name="Heavy", pull_hours_week=3.0)
    gap = now.hours.middle - before.hours.middle
    assert f"about {gap:.0f} more than Whole programme." in picture_of_edit(before, now).sentence
    assert f"about {gap:.0f} fewer than Heavy." in picture_of_edit(now, before).sentence
    assert "as many as Whole programme." in picture_of_edit(before, before).sentence


def test_an_edit_says_of_each_kind_what_it_was_and_what_it_is() -> None:
    drawn = in_one_line(of_edit().svg)
    assert "Pull, 1.5 h a week: 30 times, 45 h at most before, none now" in drawn
    assert "Refill gaps: 7 times, about 11 h, as before" in drawn
    slow = picture_of_edit(year("whole"), year("whole", name="Slow", pull_hours_week=1.0))
    assert "Pull, 1.5, now 1 h a week: 30 times, as before; about 45, now 30 h" in in_one_line(
        slow.svg
    )


def test_what_the_zone_does_not_allow_stands_in_the_foot() -> None:
    laid = year("whole", verticut_depth_mm=14.0)
    (told,) = laid.beside
    assert told.startswith("never verticut deeper than 2 mm below a height of cut of 8 mm")
    assert f"Held back here: {told}." in picture_of_programme(laid).svg
