"""What a trial is set out to show, with a spread that is the user's own where there is one."""

from __future__ import annotations

from dataclasses import replace
from math import log

import pytest

from swardbook.book.trial_care import care_by_plot, uneven_care
from swardbook.book.trial_traits import measure_of, own_spread, read_trait
from swardbook.demo.names import TRIAL
from swardbook.demo.scenario import made_up_entries, made_up_ground
from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.handbook.traits import all_traits, find_trait
from swardbook.husbandry.ground import Ground
from tests.support.grounds import ground

WEED, FOG = "annual meadow-grass", "yorkshire fog"


@pytest.fixture(scope="module")
def made_up() -> Ground:
    return replace(made_up_ground(), diary=made_up_entries())


def test_without_a_trial_the_usual_spread_is_taken_with_its_grade() -> None:
    found = measure_of(ground(), WEED)
    assert found.sd == 5
    assert found.sd_from == "judged: usual, 3 to 8"
    assert found.gap == 5
    assert "published" in measure_of(ground(), "quality").sd_from


def test_own_trials_give_their_own_spread(made_up: Ground) -> None:
    found = measure_of(made_up, WEED)
    assert found.sd_from.startswith("measured: 2 of your own trials")
    assert 5 < found.sd < 8


def test_a_plot_left_out_and_a_mix_up_are_minded_in_the_spread(made_up: Ground) -> None:
    only = replace(made_up, plots=tuple(p for p in made_up.plots if p.zone == TRIAL))
    whole = own_spread(only, all_traits()["cover"], WEED)
    assert whole is not None
    # 39 plots, ten entries as sown, four blocks: 39 - 1 - 9 - 3.
    assert whole.df == 26
    as_planned = tuple(replace(plot, sown="") for plot in only.plots)
    other = own_spread(replace(only, plots=as_planned), all_traits()["cover"], WEED)
    assert other is not None
    assert other.sd != whole.sd


def test_a_spread_that_is_given_goes_before_all(made_up: Ground) -> None:
    assert measure_of(made_up, WEED, sd=3.0).sd_from == "as you gave it"
    with pytest.raises(BadInputError, match="--sd"):
        measure_of(made_up, WEED, sd=0)


def test_a_spread_goes_with_the_level_that_is_supposed(made_up: Ground) -> None:
    usual, low = measure_of(ground(), WEED), measure_of(ground(), WEED, level=8.0)
    assert low.sd < usual.sd == 5
    assert low.sd_from == "judged: usual, 3 to 8, 5.0 at 20 %"
    assert measure_of(ground(), WEED, level=20.0).sd == pytest.approx(5)
    given = measure_of(made_up, WEED, sd=3.0, level=8.0)
    assert given.sd == pytest.approx(3.0)
    assert given.sd_from == "as you gave it"
    own = measure_of(made_up, WEED, level=8.0)
    assert own.sd < measure_of(made_up, WEED).sd


@pytest.mark.parametrize(("trait", "level"), [(WEED, 0.0), (WEED, 96.0), ("quality", 20.0)])
def test_a_level_is_one_of_cover_and_leaves_room_for_the_gap(trait: str, level: float) -> None:
    with pytest.raises(BadInputError, match="--level"):
        measure_of(ground(), trait, level=level)


def test_plants_are_compared_by_ratio() -> None:
    found = measure_of(ground(), "plants", gap=2.0)
    assert found.gap == pytest.approx(log(2))
    assert found.words(log(2)) == "2.0 times"
    with pytest.raises(BadInputError, match="ratio above 1"):
        measure_of(ground(), "plants", gap=1.0)


@pytest.mark.parametrize(
    ("word", "key", "kind"),
    [
        (WEED, "cover", WEED), ("bare", "cover", "bare"), ("height", "sward height", ""),
        ("Yorkshire fog cover", "cover", FOG), ("yorkshire fog plants", "plants", FOG),
        ("QUALITY", "quality", ""), ("darkness", "colour", ""),
    ],
)  # fmt: skip
def test_a_trait_goes_by_many_names(word: str, key: str, kind: str) -> None:
    trait, of = read_trait(word)
    assert (trait.key, of) == (key, kind)


def test_an_unknown_trait_offers_the_nearest() -> None:
    with pytest.raises(UnknownNameError, match="quality"):
        read_trait("qualiti")
    with pytest.raises(UnknownNameError):
        find_trait("annual meadow-grass")


def test_gaps_are_told_in_the_unit_of_the_trait() -> None:
    assert measure_of(ground(), WEED).words(7.3) == "7.3 points"
    assert measure_of(ground(), WEED).words(12.02) == "12 points"
    assert measure_of(ground(), "quality").words(1.0) == "1 step of the 1-9 rating"
    assert measure_of(ground(), "dark green index").words(0.03) == "0.030"


def test_every_trait_has_a_range_and_a_spread_that_make_sense() -> None:
    for trait in all_traits().values():
        assert trait.lowest < trait.highest
        assert trait.sd.value > 0
        assert trait.smallest.value > (1 if trait.is_log else 0)


def test_identical_care_is_even_on_all_forty_plots(made_up: Ground) -> None:
    plots = [plot.name for plot in made_up.plots if plot.zone == TRIAL]
    jobs = {job.job: job for job in care_by_plot(made_up, TRIAL, plots)}
    assert jobs["cut"].is_even
    assert set(jobs["feed"].times.values()) == {max(jobs["feed"].times.values())}
    assert uneven_care(made_up, TRIAL, plots) == ()
