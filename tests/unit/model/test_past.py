"""A zone lived through from its start, weighed at each thing seen."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from swardbook.husbandry.ground import Tolerance, Use, Zone
from swardbook.model.chance import Array, Chance
from swardbook.model.counting_ahead import Frames, counted_ahead
from swardbook.model.day_heads import grown_up
from swardbook.model.growing import Grow, from_rows, grower, to_rows
from swardbook.model.inputs import Drivers, Operations
from swardbook.model.observing import Seeing, Standing
from swardbook.model.operations import no_operations
from swardbook.model.past import MEADOW_GRASS, Known, Seen, Story, live_through
from swardbook.model.places import log_of_visits, tally_of
from swardbook.model.season import run_reference
from swardbook.model.start import Start
from swardbook.model.unknowns import Unknowns, growth_year, with_year
from swardbook.observations.counts import Method, PlaceCount
from tests.support.model import county_drivers, ensemble, kept, kernel, mixture

FIRST, TODAY = date(2010, 9, 1), date(2011, 5, 31)
ZONE = Zone("A lawn", 200.0, Use.FAMILY_LAWN, Tolerance(0.1, 0.05, 0), 25.0)
CHANCE = Chance(("past",))
DRAWS = 256


def points(hits: list[float]) -> tuple[PlaceCount, ...]:
    return tuple(
        PlaceCount(f"P{n}", Method.POINTS, {MEADOW_GRASS: each}, 25, "Ines")
        for n, each in enumerate(hits)
    )


def story(*seen: Seen, work: Operations | None = None) -> Story:
    drivers = county_drivers(FIRST, TODAY)
    start = Start(
        bare=0.05, weeds={"annual_meadow_grass": 0.2}, spread=1.2, height_mm=25, cut_height_mm=25
    )
    return Story(ZONE, 52.2, mixture(), start, FIRST, TODAY, drivers, work or kept(drivers), seen)


def until(today: date, told: Story) -> Story:
    days = (today - told.first).days + 1
    return replace(
        told,
        today=today,
        drivers=Drivers(*(each[:days] for each in told.drivers)),
        operations=Operations(*(each[:days] for each in told.operations)),
    )


def lived(told: Story, draws: int = DRAWS, grow: Grow | None = None) -> Known:
    return live_through(told, draws, CHANCE, grow or grower(kernel()))


def spread(known: Known) -> float:
    """Spread in tenfold steps: a high count may widen the plain one, for more can vary more."""
    low, high = np.quantile(known.state.weeds[0].cover, (0.1, 0.9))
    return float(np.log10(high / low))


COUNT = Seen(date(2011, 4, 2), points([3, 5, 2, 8, 4, 1, 6, 3, 2, 5, 4, 7]))


def test_with_nothing_seen_the_draws_stay_exactly_as_drawn() -> None:
    known = lived(story())
    assert known.scores is known.before
    assert known.learned.weighings == ()
    assert known.expected == ()


def test_the_order_of_the_places_changes_no_bit() -> None:
    there = lived(story(COUNT))
    back = lived(story(replace(COUNT, places=COUNT.places[::-1])))
    assert np.array_equal(there.scores, back.scores)
    assert np.array_equal(to_rows(there.state), to_rows(back.state))


@pytest.mark.parametrize(("threads", "chunk"), [(2, None), (1, 1)])
def test_threads_and_chunks_change_no_bit(threads: int, chunk: int | None) -> None:
    one = lived(story(COUNT))
    other = lived(story(COUNT), grow=grower(kernel(), threads, chunk))
    assert np.array_equal(one.scores, other.scores)
    assert np.array_equal(to_rows(one.state), to_rows(other.state))


def test_without_anything_seen_the_state_is_the_prior_run_to_the_bit() -> None:
    told = story()
    unknowns = Unknowns.of(told.kinds, (), told.years)
    scores = unknowns.draw(DRAWS, CHANCE)
    state = unknowns.start(told.start, scores)
    grow = grower(kernel())
    first = told.first
    for last in (date(2010, 10, 11), TODAY + timedelta(days=1)):
        part = slice((first - FIRST).days, (last - FIRST).days)
        drivers = Drivers(*(series[part] for series in told.drivers))
        work = Operations(*(series[part] for series in told.operations))
        year = growth_year(first, told.latitude)
        assert growth_year(last - timedelta(days=1), told.latitude) == year
        numbers = with_year(unknowns.parameters(scores), unknowns.rows_of_year(scores, year))
        state = grow(state, numbers, drivers, work)
        first = last
    assert np.array_equal(to_rows(lived(told).state), to_rows(state))


def test_the_order_of_frames_with_bare_and_fog_changes_no_bit_over_two_visits() -> None:
    places = tuple(
        PlaceCount(f"P{n}", Method.POINTS,
                   {MEADOW_GRASS: 4.0 + n, "yorkshire fog": n % 2, "bare": 3.0 - n / 2}, 25, "Ines")
        for n in range(0, 6, 2)
    )  # fmt: skip
    visits = [Seen(date(2010, 10, 9), places), Seen(COUNT.day, places)]
    back = [replace(each, places=each.places[::-1]) for each in visits]
    there, other = (lived(until(COUNT.day, story(*each)), 64) for each in (visits, back))
    assert np.array_equal(there.scores, other.scores)
    assert [each.kind for each in there.expected_rest] == ["yorkshire fog", "bare"] * 2


def test_over_two_hundred_lawns_a_second_survey_lowers_the_mean_variance() -> None:
    """Weigh draws of a three-week story by one survey and by two of twenty known lawns each."""
    days, draws = 21, 1024
    first, second = Seen(FIRST + timedelta(days=7)), Seen(FIRST + timedelta(days=20))
    told = until(FIRST + timedelta(days=days), story())
    blind = lived(told, draws)
    covers = [lived(until(seen.day - timedelta(days=1), told), draws).state.weeds[0].cover
              for seen in (first, second)]  # fmt: skip
    end = blind.state.weeds[0].cover
    seeing = blind.unknowns.seeing(blind.scores)
    frames = Frames(Method.POINTS, "", tuple((f"P{n}", 25.0) for n in range(6)))
    standing = [Standing({}, {MEADOW_GRASS: cover}, {}) for cover in covers]
    counts = [
        each_place_ahead(frames, stood, seeing, Chance(("twins", str(at))))
        for at, stood in enumerate(standing)
    ]
    variances = []
    for lawn in range(200):
        visits = [points([float(hits[lawn]) for hits in count]) for count in counts]
        weights, row = np.zeros(draws), [np.var(end)]
        for upto in (1, 2):
            tally = tally_of(visits[:upto], (MEADOW_GRASS,))
            weights = weights + log_of_visits(standing[:upto], tally, seeing)
            share = np.exp(weights - weights.max())
            share[lawn] = 0.0  # the lawn itself is not among the draws that are weighed
            share = share / share.sum()
            row.append(np.sum(share * (end - np.sum(share * end)) ** 2))
        variances.append(row)
    none, once, twice = np.mean(variances, axis=0)
    assert none > once > twice


def test_a_third_weed_grass_is_learned_of_from_frames() -> None:
    bent = "creeping bent"
    told = until(FIRST + timedelta(days=12), story())
    kinds = replace(told.kinds, weeds=(*told.kinds.weeds, "creeping_bent"))
    start = replace(told.start, weeds={**told.start.weeds, "creeping_bent": 0.05})
    told = replace(told, kinds=kinds, start=start)

    def cover(found: float) -> tuple[float, Known]:
        places = tuple(
            PlaceCount(f"P{n}", Method.POINTS, {MEADOW_GRASS: 5.0, bent: found}, 25, "Ines")
            for n in range(12)
        )
        known = lived(replace(told, seen=(Seen(told.today, places),)), 64)
        return float(np.median(known.state.weeds[2].cover)), known

    few, many = cover(0.0), cover(8.0)
    assert few[0] < many[0]
    assert [each.kind for each in many[1].expected_rest] == [bent]


def each_place_ahead(
    frames: Frames, standing: Standing, seeing: Seeing, chance: Chance
) -> list[Array]:
    """Draw what is found at each place alone, one value a draw."""
    return [
        counted_ahead(
            replace(frames, placements=(place,)), MEADOW_GRASS, standing, seeing,
            chance.under(str(number)),
        ) * place[1] / 100
        for number, place in enumerate(frames.placements)
    ]  # fmt: skip


def test_counts_narrow_and_the_same_by_another_at_other_places_narrows_further() -> None:
    others = tuple(replace(each, place=f"Q{each.place}", counter="Odalys") for each in COUNT.places)
    again = replace(COUNT, day=COUNT.day + timedelta(days=1), places=others)
    none, once, twice = (
        spread(lived(story(*seen), 2048)) for seen in ((), (COUNT,), (COUNT, again))
    )
    assert none > once > twice


def test_the_middle_moves_towards_what_was_counted() -> None:
    none = np.median(lived(story(), 1024).state.weeds[0].cover)
    few = Seen(COUNT.day, points([0.0] * 12))
    many = Seen(COUNT.day, points([10.0] * 12))
    low, high = (np.median(lived(story(each), 1024).state.weeds[0].cover) for each in (few, many))
    assert low < none < high


def test_two_whole_passes_of_pulling_tell_how_many_plants_there_were() -> None:
    first, second = date(2011, 3, 19), date(2011, 3, 26)
    work = kept(county_drivers(FIRST, TODAY))
    for day in (first, second):
        work.pull_hours[(day - FIRST).days] = 40.0 / ZONE.area_m2
    passes = [Seen(first, pulled=600.0), Seen(second, pulled=180.0)]

    def there_were(*seen: Seen) -> tuple[float, float]:
        weed = lived(until(second, story(*seen, work=work)), 1024).state.weeds[0]
        low, high = np.quantile(weed.killed + grown_up(weed), (0.1, 0.9))
        return float(low), float(high)

    none, once, twice = there_were(), there_were(passes[0]), there_were(*passes)
    assert twice[1] / twice[0] < once[1] / once[0] < none[1] / none[0]
    # Passes of 600 and 180 stand for about 857 plants in all, on 200 m².
    assert twice[0] < 857 / 200 < twice[1]


def test_a_walk_that_found_none_says_fewer() -> None:
    walk = Seen(COUNT.day, walked_m2=150.0)
    before = lived(story(), 1024).state.weeds[0].cover
    after = lived(story(walk), 1024).state.weeds[0].cover
    assert np.median(after) < np.median(before)


def test_the_draws_tonight_are_those_of_the_reference_run() -> None:
    state, parameters = ensemble(64, Start(bare=0.1, spread=0.3))
    drivers = county_drivers(FIRST, date(2010, 11, 30))
    work = no_operations(len(drivers.tmean))
    slow = run_reference(state, parameters, drivers, work).final
    quick = grower(kernel())(state, parameters, drivers, work)
    assert np.allclose(slow.weeds[0].cover, quick.weeds[0].cover, atol=1e-4)


def test_a_state_comes_back_from_its_rows() -> None:
    state, _ = ensemble(64)
    assert np.array_equal(to_rows(from_rows(to_rows(state))), to_rows(state))


def test_last_october_is_remembered_for_each_draw() -> None:
    cover, plants = lived(story(COUNT)).last_autumn
    assert np.all((cover >= 0) & (cover <= 1))
    assert np.all(plants >= 0)
    start = replace(story(), first=date(2010, 11, 1))
    part = (date(2010, 11, 1) - FIRST).days
    late = replace(
        start,
        drivers=type(start.drivers)(*(each[part:] for each in start.drivers)),
        operations=type(start.operations)(*(each[part:] for each in start.operations)),
    )
    assert np.all(np.isnan(lived(late).last_autumn[0]))
