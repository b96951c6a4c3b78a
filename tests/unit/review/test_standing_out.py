"""Shares that are drawn in: few entries put a lawn neither first nor last."""

import numpy as np
import pytest

from swardbook.handbook.parameters import value
from swardbook.review.standing_out import drawn_in

MANY = ([2, 4, 6, 20, 1, 3], [200, 210, 190, 200, 205, 180])


def order(marks: list[int], entries: list[int]) -> list[int]:
    shares = drawn_in(marks, entries)
    return sorted(range(len(shares)), key=lambda n: -shares[n])


@pytest.mark.parametrize("entries", [1, 2, 3])
def test_a_lawn_with_hardly_an_entry_comes_neither_first_nor_last(entries: int) -> None:
    for marks in (0, entries):
        found = order([*MANY[0], marks], [*MANY[1], entries])
        assert found[0] == 3
        assert 0 < found.index(6) < len(MANY[0])


def test_a_lawn_without_an_entry_has_the_share_of_all() -> None:
    shares = drawn_in([*MANY[0], 0], [*MANY[1], 0])
    assert shares[-1] == pytest.approx(sum(MANY[0]) / sum(MANY[1]))


def test_a_drawn_in_share_lies_between_its_own_and_that_of_all() -> None:
    mean = sum(MANY[0]) / sum(MANY[1])
    for share, k, n in zip(drawn_in(*MANY), *MANY, strict=True):
        assert min(mean, k / n) <= share <= max(mean, k / n)


def test_of_equal_shares_the_one_with_more_entries_stands_out_more() -> None:
    shares = drawn_in([1, 10, 1, 0, 0], [10, 100, 100, 10, 100])
    assert shares[1] > shares[0] > shares[3] > shares[4]


def test_without_any_entry_every_share_is_nought() -> None:
    assert drawn_in([0, 0], [0, 0]) == (0.0, 0.0)


def test_a_lawn_that_is_lent_its_own_number_of_entries_stands_half_way() -> None:
    lent = round(value("lawns_entries_lent"))
    shares = drawn_in([0, lent // 5], [lent, lent])
    assert shares == pytest.approx((0.05, 0.15))


def test_against_the_rates_that_the_marks_were_drawn_from_it_errs_less_than_raw_shares() -> None:
    chance = np.random.default_rng(4)
    rates = chance.gamma(2.0, 0.02, 300)
    entries = chance.choice([2, 5, 40, 200, 500], 300)
    marks = chance.poisson(rates * entries)
    drawn = np.array(drawn_in(marks.tolist(), entries.tolist()))
    raw = marks / entries
    assert np.mean((drawn - rates) ** 2) < 0.5 * np.mean((raw - rates) ** 2)


@pytest.mark.parametrize(("marks", "entries"), [(0, 2), (1, 2), (12, 80), (40, 400)])
def test_a_drawn_in_share_is_the_mean_of_a_beta_share_after_its_entries(
    marks: int, entries: int
) -> None:
    """The judge adds the whole curve up: beta before, binomial marks, mean after."""
    from scipy.integrate import quad
    from scipy.stats import beta, binom

    everyone = ([*MANY[0], marks], [*MANY[1], entries])
    mean, lent = sum(everyone[0]) / sum(everyone[1]), value("lawns_entries_lent")
    before = beta(lent * mean, lent * (1 - mean))

    def whole(power: int) -> float:
        found, _ = quad(
            lambda share: share**power * before.pdf(share) * binom.pmf(marks, entries, share),
            0, 1, points=[mean, 0.1], limit=400,
        )  # fmt: skip
        return float(found)

    assert drawn_in(*everyone)[-1] == pytest.approx(whole(1) / whole(0), rel=1e-6)
