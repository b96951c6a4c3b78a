"""Chances, blocks drawn again, and a choice over several traits."""

import numpy as np
import pytest

from swardbook.foundation.errors import BadInputError, NotEnoughDataError, OutOfRangeError
from swardbook.trials.chances import best_chances, every_draw, ranks_again
from swardbook.trials.choosing import Wish, choose, draw_worth, share_first
from swardbook.trials.means import Means
from swardbook.trials.plots import Array
from tests.support.trials import expected

CABBAGES = expected("multitrait_cabbages")
NAMES = tuple(CABBAGES["means"])
WISHES = (Wish("head", 0.5, 1.0, 4.0), Wish("vitamin", 0.5, 40.0, 75.0))


def cabbages() -> tuple[Array, Array]:
    means = np.array([[each["HeadWt"], each["VitC"]] for each in CABBAGES["means"].values()])
    return means, np.array(CABBAGES["S"])


@pytest.mark.parametrize("weight", [0.3, 0.5, 0.7])
def test_cabbages_are_chosen_as_two_programs_do(weight: float) -> None:
    means, spread = cabbages()
    logs = draw_worth(means, np.eye(6) / 10, spread, WISHES, 200_000, 3)
    got = share_first(logs, np.array([weight, 1 - weight]))
    want = CABBAGES["pbest"][f"w{weight}"]
    assert dict(zip(NAMES, got, strict=True)) == pytest.approx(want, abs=0.003)


def test_a_choice_shows_how_it_changes_with_the_weights() -> None:
    means, spread = cabbages()
    made = choose(NAMES, means, np.eye(6) / 10, spread, WISHES, 20_000)
    assert [each.told for each in made.under][:3] == ["as given", "head half as heavy",
                                                      "head twice as heavy"]  # fmt: skip
    assert made.is_stable == (len(made.ever_first) == 1)
    assert "c52:d20" in made.ever_first
    assert all(sum(each.first) == pytest.approx(1) for each in made.under)
    assert len(made.worth) == 6


def test_no_weight_and_no_wish_is_no_choice() -> None:
    means, spread = cabbages()
    with pytest.raises(NotEnoughDataError):
        choose(NAMES, means, np.eye(6), spread, [Wish("a", 0, 0, 1), Wish("b", 0, 0, 1)])
    with pytest.raises(BadInputError):
        Wish("a", 1.0, 3.0, 3.0)
    with pytest.raises(OutOfRangeError):
        Wish("a", -1.0, 3.0, 4.0)


def means_of(values: list[float], variance: float) -> Means:
    count = len(values)
    return Means(tuple("abcdef"[:count]), np.array(values), variance * np.eye(count),
                 np.full((count, count), 20.0), np.full(count, 4))  # fmt: skip


def test_means_alike_have_chances_alike_and_one_far_ahead_has_all() -> None:
    alike = best_chances(means_of([5, 5, 5, 5], 1.0), lower_first=True, few=2)
    assert [each.best for each in alike] == pytest.approx([0.25] * 4, abs=0.02)
    assert [each.among_best for each in alike] == pytest.approx([0.5] * 4, abs=0.02)
    ahead = best_chances(means_of([5, 25, 25, 25], 1.0), lower_first=True)
    assert ahead[0].best == 1.0
    assert best_chances(means_of([5, 25, 25, 25], 1.0), lower_first=False)[0].best == 0.0


def test_four_blocks_can_be_drawn_in_thirty_five_ways() -> None:
    times, chances = every_draw(4)
    assert len(times) == 35
    assert chances.sum() == pytest.approx(1)
    figures = np.random.Generator(np.random.Philox(key=2)).normal(size=(4, 6, 3))
    exact, drawn = ranks_again(figures), ranks_again(figures, draws=40_000, exact=False)
    assert exact.distinct == 35
    assert exact.is_exact
    assert not drawn.is_exact
    assert drawn.shares == pytest.approx(exact.shares, abs=0.01)
    assert exact.shares.sum(axis=2) == pytest.approx(np.ones((3, 6)))


def test_blocks_drawn_again_need_two_blocks_and_no_holes() -> None:
    with pytest.raises(OutOfRangeError):
        ranks_again(np.ones((1, 3, 2)))
    with pytest.raises(OutOfRangeError):
        ranks_again(np.full((3, 3, 2), np.nan))
