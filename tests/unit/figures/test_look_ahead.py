"""A picture of the look-ahead: it says no more than the look-ahead does."""

import re
from dataclasses import replace
from typing import Any

from swardbook.evidence.verdicts import Verdict
from swardbook.figures.look_ahead import SHAPES, picture_of_hours, picture_of_look_ahead
from swardbook.model.leading import Leading
from tests.support.pictures import looked_ahead, of_hours, of_look_ahead

LABEL = "general knowledge only"


def sentence(verdict: Verdict, *group: str) -> str:
    look = replace(looked_ahead(), leading=Leading(verdict, group, (), {}))
    return picture_of_look_ahead(look, "Court", LABEL).sentence


def test_a_leader_is_named_only_where_one_stands_apart() -> None:
    keys = [each.programme.key for each in looked_ahead().prospects]
    apart = sentence(Verdict.CLEAR, keys[2])
    assert apart.startswith("Court: dig by hand is likely to leave least annual meadow-grass")
    assert apart.endswith("(verdict: clear).")
    assert "dig by hand may leave least" in sentence(Verdict.LEANING, keys[2])
    tied = sentence(Verdict.TOO_CLOSE, *keys)
    assert tied.endswith("is too close to call between as recorded, cut only and dig by hand.")


def test_what_it_rests_on_stands_in_the_picture() -> None:
    for draw in (picture_of_look_ahead, picture_of_hours):
        told = draw(looked_ahead(), "Court", LABEL, "Made-up ground.")
        assert told.key.startswith("Made-up ground. General knowledge only.")
        assert "general knowledge only" in told.svg.casefold()


def test_its_table_has_each_programme_on_each_day() -> None:
    table = of_look_ahead().tables[0]
    assert table.heads[1:4] == ("14 March 2012", "10 October 2012", "11 October 2014")
    assert [row[0] for row in table.rows] == ["As recorded", "Cut only", "Dig by hand"]


def test_the_counts_so_far_stand_beside_what_was_expected_before_them() -> None:
    look = looked_ahead()
    by_plants = [each for each in look.expected if each.unit == "plants/m2"]
    past = of_look_ahead().tables[1]
    assert len(past.rows) == len(by_plants)
    told = ["inside" if each.was_inside else "outside" for each in by_plants]
    assert [row[-1] for row in past.rows] == told


def test_without_counts_there_is_no_past_to_draw() -> None:
    look = replace(looked_ahead(), expected=())
    picture = picture_of_look_ahead(look, "Court", LABEL)
    assert len(picture.tables) == 1
    assert "Below" not in picture.key


def test_each_programme_has_a_shape_of_its_own() -> None:
    layers: Any = of_hours().specification["vconcat"][0]["layer"]
    scale = layers[-1]["encoding"]["shape"]["scale"]
    assert scale["domain"] == ["As recorded", "Cut only", "Dig by hand"]
    assert scale["range"] == list(SHAPES[:3])
    assert len(set(SHAPES)) == len(SHAPES)


def test_more_programmes_than_shapes_are_named_beside_their_points() -> None:
    first = looked_ahead().prospects[0]
    many = tuple(
        replace(first, programme=replace(first.programme, key=f"k{n}", name=f"Way {n}"))
        for n in range(len(SHAPES) + 1)
    )
    picture = picture_of_hours(replace(looked_ahead(), prospects=many), "Court", LABEL)
    assert all(f">Way {n}<" in picture.svg for n in range(len(many)))


def test_one_programme_alone_is_told_without_a_verdict() -> None:
    alone = replace(looked_ahead(), leading=None)
    told = picture_of_look_ahead(alone, "Court", LABEL).sentence
    assert told.startswith("Court: as recorded is likely to leave annual meadow-grass")
    assert "verdict" not in told


def test_hours_are_told_for_the_quickest_and_the_slowest() -> None:
    told = of_hours().sentence
    assert told.startswith("Short court: cut only takes")
    assert "dig by hand takes" in told


def test_how_many_draws_and_which_weather_it_rests_on_stands_in_the_foot() -> None:
    look = looked_ahead()
    for picture in (of_look_ahead(), of_hours()):
        assert "64 draws, the same for each programme" in picture.svg
        told = f"{len(look.past_years)} past years of this site"
        assert told in " ".join(picture.svg.replace("\n", " ").split())


def test_it_is_narrow_enough_for_a_phone() -> None:
    """At 390 px wide the smallest letters are still 10 px high."""
    for picture in (of_look_ahead(), of_hours()):
        wide = float(re.findall(r'viewBox="0 0 ([0-9.]+)', picture.svg)[0])
        assert 12 * 390 / wide >= 9.5


def test_a_long_name_is_written_whole_above_its_bar() -> None:
    name = "Every three weeks with the box always on and a little pulling along the edges"
    first = looked_ahead().prospects[0]
    long = replace(first, programme=replace(first.programme, key="own", name=name))
    look = replace(looked_ahead(), prospects=(long, *looked_ahead().prospects[1:]))
    svg = picture_of_look_ahead(look, "Court", LABEL).svg
    assert all(word in svg for word in name.split())
    assert "…" not in svg
