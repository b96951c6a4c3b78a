"""A count is planned by what the zone showed before."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from math import inf

import pytest

from swardbook.evidence import density, quadrats_needed
from swardbook.evidence.sampling import Finding, kuno_stop
from swardbook.foundation.errors import NotEnoughDataError, OutOfRangeError
from swardbook.handbook.parameters import parameter, value
from swardbook.observations.count_plans import Asked, PastCount, plan_plants, what_to_expect
from swardbook.observations.counts import Method
from swardbook.observations.occasions import PlaceFigure, place_figures
from swardbook.observations.point_plans import plan_points
from tests.support.counted import WEED, around, points

CLUMPED = [9, 3, 15, 1, 22, 8, 14, 6, 0, 2]


def counted(day: str, counts: Sequence[float], area: float = 1.0) -> PastCount:
    figures = tuple(
        PlaceFigure(f"P{n}", each, area, "Ines", Method.PLANTS) for n, each in enumerate(counts)
    )
    return date.fromisoformat(day), figures


def test_without_a_count_the_handbook_is_planned_with_and_says_how_far_it_may_be_off() -> None:
    made = plan_plants([], Asked())
    dense = parameter("count_plan.per_m2")
    assert made.expected.per_m2 == dense.value
    assert made.expected.interval == (dense.low, dense.high)
    assert "judged" in made.expected.density_from
    kinder, harder = made.frames_range
    assert kinder < made.frames < harder
    assert made.places_without == 59


def test_the_latest_count_with_plants_is_planned_with() -> None:
    past = [counted("2011-05-07", CLUMPED), counted("2011-08-06", [0] * 10)]
    made = plan_plants(past, Asked())
    fitted = density(CLUMPED, [1.0] * 10)
    assert made.expected.per_m2 == pytest.approx(8.0)
    assert made.expected.clumping == pytest.approx(fitted.clumping)
    assert made.frames == quadrats_needed(8.0, fitted.clumping, 0.25)
    assert "7 May 2011" in made.expected.density_from


def test_clumping_is_taken_to_the_area_of_the_frame() -> None:
    past = [counted("2011-05-07", CLUMPED)]
    small = what_to_expect(past, Asked(frame_m2=0.25))
    whole = what_to_expect(past, Asked())
    assert small.clumping == pytest.approx(whole.clumping * 0.25 ** value("count.clumping_power"))
    assert small.in_a_frame == pytest.approx(2.0)


def test_counts_more_even_than_chance_are_not_trusted_to_stay_so() -> None:
    expected = what_to_expect([counted("2011-05-07", [2, 2, 3, 2, 2, 2])], Asked())
    assert expected.clumping < inf
    assert expected.clumping_from == "judged"


def test_five_counts_of_a_zone_set_their_own_stop_line() -> None:
    grown = [[round(each * times) for each in CLUMPED] for times in (0.3, 0.5, 1, 1.5, 2)]
    past = [counted(f"2011-0{n}-07", row) for n, row in enumerate(grown, 4)]
    assert plan_plants(past[:4], Asked()).expected.law is None
    law = what_to_expect(past, Asked()).law
    assert law is not None
    assert 1 <= law.b < 2
    assert plan_plants(past, Asked(clumping=0.8)).expected.law is None


def test_the_stop_line_falls_as_frames_are_added_and_is_met_by_the_plan() -> None:
    made = plan_plants([], Asked(per_m2=2.0, clumping=0.8))
    plants = [each for _, each in made.lines]
    assert plants == sorted(plants, reverse=True)
    frames, line = made.lines[-1]
    assert line >= kuno_stop(frames, 0.8, 0.25) > line - 1
    assert made.expected.line(made.frames, 0.25) <= 2.0 * made.frames


def test_the_first_frames_say_count_on_or_stop() -> None:
    asked = Asked(per_m2=2.0, clumping=0.8, few=0.5, many=1.5)
    early = plan_plants([], replace(asked, so_far=(3, 0, 1, 5))).so_far
    assert early is not None
    assert not early.is_enough
    assert early.still is not None
    assert early.still > 0
    assert early.finding is Finding.COUNT_ON
    later = plan_plants([], replace(asked, so_far=(3, 0, 1, 5, 4))).so_far
    assert later is not None
    assert later.finding is Finding.MANY
    rich = plan_plants([], Asked(per_m2=2.0, clumping=8.0, so_far=(9, 12, 7, 11, 8, 10, 9, 12)))
    assert rich.so_far is not None
    assert rich.so_far.is_enough
    assert rich.so_far.still == 0


def test_as_many_frames_more_as_were_said_reach_the_line() -> None:
    made = plan_plants([], Asked(clumping=0.8, so_far=(3, 0, 1, 5, 2)))
    so_far = made.so_far
    assert so_far is not None
    assert so_far.still is not None
    n = so_far.frames + so_far.still
    mean = so_far.plants / so_far.frames
    assert mean * n >= kuno_stop(n, 0.8, 0.25)
    assert mean * (n - 1) < kuno_stop(n - 1, 0.8, 0.25)


def test_nothing_found_so_far_is_bounded_and_never_enough() -> None:
    so_far = plan_plants([], Asked(frame_m2=0.5, so_far=(0,) * 12)).so_far
    assert so_far is not None
    assert so_far.still is None
    assert not so_far.is_enough
    assert so_far.interval == pytest.approx((0.0, 0.4993), abs=1e-4)


def test_few_from_many_is_wrong_no_more_often_than_customary() -> None:
    made = plan_plants([], Asked(per_m2=2.0, clumping=0.8, few=0.5, many=1.5)).few_or_many
    assert made is not None
    wrong = value("count_plan.chance_wrong")
    assert max(made.wrong_at_few, made.wrong_at_many) < wrong
    assert made.frames_between > max(made.frames_at_few, made.frames_at_many)


def test_refuses_what_no_count_can_be_planned_with() -> None:
    for asked in (Asked(frame_m2=0), Asked(per_m2=0), Asked(few=1), Asked(many=1),
                  Asked(ratio=1), Asked(clumping=0)):  # fmt: skip
        with pytest.raises(OutOfRangeError):
            plan_plants([], asked)
    with pytest.raises(NotEnoughDataError, match="at least 2 frames"):
        plan_plants([], Asked(so_far=(3,)))


def test_points_are_planned_by_the_spread_between_places() -> None:
    places = points(around(30, 12, 20), looked=100)
    figures = tuple(place_figures(places, WEED, Method.POINTS).values())
    made = plan_points([(date(2011, 10, 8), figures)], 5)
    assert made.cover == pytest.approx(30, abs=0.5)
    assert made.places_range == (made.places, made.places)
    assert plan_points([(date(2011, 10, 8), figures)], 2.5).places > 3 * made.places


def test_points_without_a_count_are_planned_for_the_hardest_cover() -> None:
    made = plan_points([])
    assert made.points_if_independent == 385
    assert made.places == 45
    assert made.places_range[0] < 45 < made.places_range[1]
