"""Will next year be better? Asked of the made-up ground."""

from dataclasses import replace
from datetime import date
from functools import cache

import numpy as np
import pytest

from swardbook.book.advice import measurements, plain_name
from swardbook.book.look_ahead import (
    FULL,
    GENERAL,
    LEARNED,
    Asked,
    ZoneLookAhead,
    zone_look_ahead,
)
from swardbook.book.zone_story import story_of
from swardbook.demo.scenario import TODAY, made_up_ground, made_up_weather
from swardbook.evidence.verdicts import Verdict
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.handbook.parameters import parameters
from swardbook.husbandry.ground import Ground
from swardbook.husbandry.happenings import (
    ClumpCheck,
    Count,
    DigClumps,
    Heads,
    Pull,
    TuftCheck,
    WalkNoneFound,
)
from swardbook.model.draws import is_drawn
from swardbook.model.measuring import MEASURED
from swardbook.model.parameters import parameter_keys, sown_kinds
from swardbook.model.prospects import Range
from swardbook.review.better_or_worse import Year
from tests.support.model import kernel

DRAWS = 512
SEEN = (Count, ClumpCheck, DigClumps, Heads, Pull, TuftCheck, WalkNoneFound)
PLANTS = "annual_meadow_grass_plants"


def asked(draws: int = DRAWS, ground: Ground | None = None, today: date = TODAY) -> Asked:
    return Asked(ground or made_up_ground(), made_up_weather(), today, draws)


@cache
def told(zone: str) -> ZoneLookAhead:
    return zone_look_ahead(asked(), zone, kernel())


def uncounted(ground: Ground) -> Ground:
    kept = tuple(each for each in ground.diary if not isinstance(each.what, SEEN))
    return replace(ground, diary=kept)


def test_a_zone_with_its_counts_is_told_in_full() -> None:
    found = told("Short court")
    assert found.label == FULL
    assert found.why_not_full == ""
    assert found.look.may_be_sealed
    assert found.look.question.by_plants
    assert [mark.key for mark in found.look.horizons] == ["spring", "autumn", "far"]
    assert [mark.day.year for mark in found.look.horizons] == [2012, 2012, 2014]


def test_the_first_programme_is_the_way_recorded_and_differs_from_itself_by_nothing() -> None:
    first = told("Short court").look.prospects[0]
    assert first.programme.key == "as_recorded"
    for made in first.against.values():
        assert made.difference == 0
        assert made.spread.at95 == (0.0, 0.0)
        assert made.verdict is Verdict.AS_GOOD_AS_EQUAL


def test_where_plants_are_few_leaving_them_is_clearly_worse_than_digging() -> None:
    found = {each.programme.key: each for each in told("Short court").look.prospects}
    plants = {key: each.at["autumn"][PLANTS].median for key, each in found.items()}
    assert plants["cut_only"] > 2 * plants["as_recorded"]
    assert found["cut_only"].against["autumn"].verdict in {Verdict.CLEAR, Verdict.LEANING}
    assert plants["dig_by_hand"] < plants["cut_only"]


def test_that_digging_cannot_win_where_plants_are_many_comes_out_of_its_hours() -> None:
    def left(zone: str) -> float:
        found = {each.programme.key: each for each in told(zone).look.prospects}
        dug, cut = (found[key].at["autumn"] for key in ("dig_by_hand", "cut_only"))
        return dug[PLANTS].median / cut[PLANTS].median

    # The same hours a week: a good part of the few, hardly any of the many.
    assert left("Short court") < 0.5
    assert left("Surround") > left("Short court")


def test_the_draws_tonight_agree_with_what_was_counted_today() -> None:
    now = told("Surround").look.now["annual_meadow_grass_cover"]
    # 12 places in October 2011; points in frames sit together, so the range is wide.
    assert 15 < now.at80.low < now.at80.high < 50


def test_hours_money_and_nitrogen_come_with_ranges() -> None:
    for each in told("Surround").look.prospects:
        assert 0 < each.hours_year.at80.low < each.hours_year.at80.high
    by_key = {each.programme.key: each for each in told("Surround").look.prospects}
    assert by_key["cut_and_box"].nitrogen_off_year.median > 0
    assert by_key["cut_only"].nitrogen_off_year.median == 0


def test_the_last_count_stands_against_what_was_expected_before_it() -> None:
    last = told("Surround").look.expected[-1]
    assert last.day == TODAY
    assert last.at80.low < last.middle < last.at80.high


def test_a_zone_without_a_count_is_general_knowledge_and_says_what_it_needs() -> None:
    found = zone_look_ahead(asked(256, uncounted(made_up_ground())), "Surround", kernel())
    assert found.label == GENERAL
    assert "no sowing and no count" in found.why_not_full
    assert not found.look.may_be_sealed
    assert set(found.years.values()) == {Year.CANNOT_SAY}
    assert found.look.moved == ()


def test_a_zone_with_too_few_places_is_learned_from_but_gets_no_verdict() -> None:
    found = zone_look_ahead(asked(), "Pavilion apron", kernel())
    if found.look.refusal:
        pytest.skip(found.look.refusal)
    assert found.label == LEARNED
    assert "12 or more" in found.why_not_full
    assert set(found.years.values()) == {Year.CANNOT_SAY}


def test_an_impossible_count_is_refused_and_the_programmes_still_compared() -> None:
    ground = made_up_ground()
    wild = tuple(
        replace(each, what=replace(each.what, places=tuple(
            replace(place, found={**place.found, "annual meadow-grass": 25.0, "sown": 0.0,
                                  "bare": 0.0, "moss": 0.0, "yorkshire fog": 0.0})
            for place in each.what.places)))
        if isinstance(each.what, Count) and each.zone == "Surround" and each.day == TODAY else each
        for each in ground.diary
    )  # fmt: skip
    found = zone_look_ahead(asked(256, replace(ground, diary=wild)), "Surround", kernel())
    assert found.look.refusal
    assert found.label == GENERAL
    assert len(found.look.prospects) >= 4
    assert set(found.years.values()) == {Year.CANNOT_SAY}


def test_several_mixtures_in_one_zone_are_not_looked_at_as_one() -> None:
    with pytest.raises(NotEnoughDataError, match="one mixture"):
        story_of(made_up_ground(), "Trial ground", made_up_weather(), TODAY)


def test_weather_and_work_after_today_are_not_read() -> None:
    early = date(2011, 6, 1)
    until = replace(asked(128, today=early), weather=made_up_weather().until(early))
    knows = zone_look_ahead(asked(128, today=early), "Surround", kernel())
    blind = zone_look_ahead(until, "Surround", kernel())
    assert knows.look.prospects == blind.look.prospects


def test_threads_change_no_bit() -> None:
    one = zone_look_ahead(asked(256), "Turf nursery", kernel(), threads=1)
    two = zone_look_ahead(asked(256), "Turf nursery", kernel(), threads=2)
    assert one.look.prospects == two.look.prospects
    assert one.hinges == two.hinges


def test_every_measurement_has_a_sampling_model_and_speaks_of_unknowns_there_are() -> None:
    assert set(measurements()) == set(MEASURED)
    known = {key.rsplit(".", 1)[-1] for key in parameters()}
    today = {"cover", "plants", "seed_in_ground", "bare"}
    spoken = {name for each in measurements().values() for name in each.speaks_of}
    assert spoken - known - today == set()
    for each in measurements().values():
        assert "{" not in each.does
        assert each.hours.low < each.hours.value < each.hours.high


def test_the_worth_of_a_measurement_is_held_to_its_bounds() -> None:
    for zone in ("Short court", "Surround"):
        advice = told(zone).look.advice
        assert advice is not None
        assert advice.choice == told(zone).look.ranking[0]
        for each in advice.measured:
            assert each.worth.spared <= advice.everything.spared
            assert each.worth.error >= 0
            assert each.net == each.worth.spared  # no price of hours was given
        assert {each.worth.key for each in advice.measured} == set(MEASURED)
        if not advice.flips and not any(each.worth.shows for each in advice.measured):
            assert advice.first == ""


@pytest.mark.long
def test_pricing_hours_high_enough_changes_the_choice_and_the_price_is_told() -> None:
    cheap = told("Surround").look.advice
    assert cheap is not None
    assert cheap.turning is not None
    over = replace(asked(), hour_price=1.01 * cheap.turning.price)
    under = replace(asked(), hour_price=0.99 * cheap.turning.price)
    priced = zone_look_ahead(over, "Surround", kernel()).look.advice
    still = zone_look_ahead(under, "Surround", kernel()).look.advice
    assert priced is not None
    assert still is not None
    assert priced.choice == cheap.turning.other != cheap.choice == still.choice
    # Where two programmes are level something that is not known is bound to flip the choice.
    assert priced.everything.spared > 0
    assert all(each.net < each.worth.spared for each in priced.measured)


def test_too_few_draws_say_nothing_of_worth() -> None:
    found = zone_look_ahead(asked(128), "Turf nursery", kernel())
    assert found.look.advice is None
    assert found.hinges.first is None
    assert found.hinges.weighed == ()


def test_numbers_have_plain_names() -> None:
    for lot in made_up_ground().lots:
        for key in filter(is_drawn, parameter_keys(sown_kinds(lot.parts))):
            name = plain_name(key)
            assert "{" not in name, key
            assert name != key.rsplit(".", 1)[-1].replace("_", " "), key
    assert plain_name("model.yorkshire_fog.capture") == (
        "share of cut heads of Yorkshire fog that the box takes"
    )
    assert plain_name("model.sown.bent.power") == "strength of sown bent in close sward"


def test_ranges_hold_the_middle() -> None:
    found = Range.of(np.arange(101.0))
    assert (found.at80.low, found.median, found.at80.high) == (10, 50, 90)


def test_what_an_unsown_zone_is_taken_for_is_said_and_a_sown_one_assumes_nothing() -> None:
    (words,) = told("Surround").look.question.story.assumed
    assert "chewings fescue 40 %, browntop bent 20 %, perennial ryegrass 40 %" in words
    assert told("Short court").look.question.story.assumed == ()


def test_hours_a_week_are_the_years_hours_over_the_season_of_cuts() -> None:
    found = told("Short court")
    for each in found.look.prospects:
        week = found.hours_week[each.programme.key]
        assert week.median * found.season_weeks == pytest.approx(each.hours_year.median)
        assert week.at80.high * found.season_weeks == pytest.approx(each.hours_year.at80.high)


def test_the_leader_is_said_of_the_programme_with_the_least() -> None:
    led = told("Surround").look.leading
    assert led is not None
    assert led.group[0] == told("Surround").look.ranking[0]
    assert {*led.group, *led.behind} == set(told("Surround").look.ranking)
