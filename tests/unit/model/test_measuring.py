"""What each measurement would show: its law, what it speaks of, and nothing else."""

from dataclasses import replace
from functools import cache, partial
from itertools import pairwise

import numpy as np
import pytest

from swardbook.book.advice import measurements
from swardbook.evidence.knowing import Knowing, standard_error, worth_of_knowing
from swardbook.model.chance import Array, Chance
from swardbook.model.measuring import (
    AGES,
    MEASURED,
    Met,
    shown_by,
    size_of,
    viable_if_cut,
)
from swardbook.model.start import Start
from swardbook.model.unknowns import Unknowns
from tests.support.model import POA, mixture

CHANCE = Chance(("measuring",))
DRAWS = 512
START = Start(bare=0.05, weeds={POA: 0.2}, season_warmth=600.0)
TODAY = {
    "seed_in_ground": ("dormant", "ready", "buried"),
    "cover": ("cover",),
    "plants": ("tillering_0", "tillering_1", "tillering_2", "flowering"),
}


@cache
def unknowns() -> Unknowns:
    return Unknowns.of(mixture())


@cache
def drawn() -> Array:
    return unknowns().draw(DRAWS, CHANCE)


def met(scores: Array, *, by_plants: bool = True) -> Met:
    state = unknowns().start(START, scores)
    weed = state.weeds[0]
    heading = weed._replace(high=weed.high._replace(b2=0.5 * np.asarray(weed.flowering)))
    return Met(
        state=state._replace(weeds=(heading, *state.weeds[1:])),
        numbers=unknowns().parameters(scores),
        seeing=unknowns().seeing(scores),
        counter="",
        by_plants=by_plants,
        height_mm=25.0,
        spring=(0.5 * np.asarray(weed.cover), np.asarray(weed.cover)),
    )


def moved(field: str) -> Array:
    """Raise every unknown of annual meadow-grass or the zone that ends in a field."""
    scores = drawn().copy()
    for row, key in enumerate(unknowns().keys):
        *owners, last = key.split(".")
        if last == field and owners[-1] in {POA, "zone", "count"}:
            scores[row] += 1.0
    return scores


def more_today(at: Met, field: str) -> Met:
    """Put twice as much of something into the sward of today."""
    weed = at.weed
    names = TODAY[field]
    more = weed._replace(**{name: 2 * getattr(weed, name) for name in names})
    return replace(at, state=at.state._replace(weeds=(more, *at.state.weeds[1:])))


@pytest.mark.parametrize(
    ("key", "field"),
    [(key, name) for key, each in measurements().items() for name in each.speaks_of],
)
def test_what_a_measurement_speaks_of_moves_what_it_shows(key: str, field: str) -> None:
    def shows_it(by_plants: bool) -> bool:
        before = met(drawn(), by_plants=by_plants)
        after = met(moved(field), by_plants=by_plants)
        if field in TODAY:
            after = more_today(before, field)
        one, two = (shown_by(key, each, CHANCE) for each in (before, after))
        return bool(np.mean(np.any(one != two, axis=0)) > 0.1)

    assert shows_it(True) or shows_it(False)


@pytest.mark.parametrize(
    "key", ["heads_measured", "box_checked", "gaps_followed", "plants_followed"]
)
def test_what_it_does_not_speak_of_leaves_it_as_it_is(key: str) -> None:
    one = shown_by(key, met(drawn()), CHANCE)
    two = shown_by(key, met(moved("seeds_per_head")), CHANCE)
    assert np.array_equal(one, two)


@pytest.mark.parametrize("key", MEASURED)
@pytest.mark.parametrize("by_plants", [True, False])
def test_each_shows_a_number_in_every_draw_and_the_same_one_again(
    key: str, by_plants: bool
) -> None:
    at = met(drawn(), by_plants=by_plants)
    shown = shown_by(key, at, CHANCE)
    assert shown.shape[1] == DRAWS
    assert np.all(np.isfinite(shown))
    assert np.array_equal(shown, shown_by(key, at, CHANCE))
    assert not np.array_equal(shown, shown_by(key, at, CHANCE.under("another zone")))


def test_heads_cut_older_end_with_more_viable_seed() -> None:
    its = met(drawn()).its
    shares = [viable_if_cut(its, age) for age in AGES]
    assert all(np.all(older > younger) for younger, older in pairwise(shares))
    assert np.allclose(viable_if_cut(its, 7.0), its.ripe_cut[3])


def test_more_heads_tell_the_share_above_the_blade_more_closely() -> None:
    at = met(drawn())

    def told(heads: float) -> float:
        def size(name: str) -> float:
            return heads if name == "heads" else size_of("heads_measured", name)

        shown = shown_by("heads_measured", at, CHANCE, size)[0]
        return float(np.corrcoef(shown, at.its.odds_above / (1 + at.its.odds_above))[0, 1])

    few, some, many = (told(heads) for heads in (5, 50, 500))
    assert few < some < many


def test_two_counters_tell_their_habits_apart_and_two_passes_the_share_found() -> None:
    at = met(drawn())
    both = shown_by("second_counter", at, CHANCE)
    assert np.std(both[1]) > 0.1
    strip = partial(size_of, "two_passes")
    shown = shown_by("two_passes", at, CHANCE, strip)
    left = 1 - at.its.detect_leafy
    assert np.corrcoef(shown[1], left)[0, 1] > 0.5


@pytest.mark.parametrize("by_plants", [True, False])
def test_honest_squares_show_what_the_work_changes_and_nothing_where_only_cutting_is_known(
    by_plants: bool,
) -> None:
    at = met(drawn(), by_plants=by_plants)
    there = np.full(DRAWS, 4.0 if by_plants else 0.2)
    alike = shown_by("honest_squares", replace(at, spring=(there, there)), CHANCE)
    worked = shown_by("honest_squares", replace(at, spring=(there / 4, there)), CHANCE)
    assert np.mean(worked[1] - alike[1]) > 1.0
    unknown = shown_by("honest_squares", replace(at, spring=None), CHANCE)
    assert np.ptp(unknown) == 0


def test_more_seeds_laid_out_are_worth_no_less_and_near_what_full_knowledge_is_worth() -> None:
    draws = 4096
    scores = unknowns().draw(draws, CHANCE)
    at = met(scores)
    viable = viable_if_cut(at.its, 4.0) * (1 - at.its.dormant_share)
    own = 0.2 * CHANCE.normals("own luck", draws)
    losses = np.stack([own, own + 10 * (viable - np.mean(viable)) + 0.3])
    groups = (np.arange(draws) // 64) % 16

    def worth(**numbers: float) -> Knowing:
        def size(name: str) -> float:
            return numbers.get(name, size_of("cut_heads_germinated", name))

        shown = shown_by("cut_heads_germinated", at, CHANCE, size)
        return worth_of_knowing(losses, shown, groups)

    found = [worth(seeds=seeds, unevenness=1e-6) for seeds in (2.0, 10.0, 50.0, 1000.0)]
    for fewer, more in pairwise(found):
        assert more.worth > fewer.worth - 2 * standard_error(more.gains - fewer.gains, groups)
    assert found[-1].worth > 1.5 * found[0].worth
    full = worth_of_knowing(losses, viable[None], groups)
    assert found[-1].worth == pytest.approx(full.worth, rel=0.05)
    uneven = worth(seeds=1000.0, unevenness=2.0)
    assert uneven.worth < found[-1].worth
