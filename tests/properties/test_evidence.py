"""Laws of estimates and verdicts."""

from hypothesis import given
from hypothesis import strategies as st

from swardbook.evidence import (
    Interval,
    Spread,
    Verdict,
    density,
    newcombe,
    paired_change,
    point_cover,
    verdict,
    wilson,
)

RANK = {
    Verdict.TOO_CLOSE: 0,
    Verdict.AS_GOOD_AS_EQUAL: 0,
    Verdict.LEANING: 1,
    Verdict.CLEAR_BUT_SMALL: 2,
    Verdict.CLEAR: 3,
}
sizes = st.floats(0, 50)
errors = st.floats(0.01, 30)
bounds = st.floats(0.1, 20)


def spread(difference: float, error: float) -> Spread:
    return Spread(
        *(Interval(difference - z * error, difference + z * error) for z in (1.96, 1.645, 1.282))
    )


@given(sizes, errors, bounds)
def test_a_verdict_is_always_found_and_the_sign_does_not_matter(
    difference: float, error: float, bound: float
) -> None:
    told = verdict(difference, spread(difference, error), bound)
    assert told in RANK
    assert told is verdict(-difference, spread(-difference, error), bound)


@given(sizes, sizes, errors, bounds)
def test_a_larger_difference_never_says_less(
    one: float, two: float, error: float, bound: float
) -> None:
    small, large = sorted((one, two))
    assert (
        RANK[verdict(small, spread(small, error), bound)]
        <= RANK[verdict(large, spread(large, error), bound)]
    )


@given(sizes, errors, errors, bounds)
def test_a_narrower_range_never_takes_clear_away(
    difference: float, one: float, two: float, bound: float
) -> None:
    narrow, wide = sorted((one, two))
    if verdict(difference, spread(difference, wide), bound) is Verdict.CLEAR:
        assert verdict(difference, spread(difference, narrow), bound) is Verdict.CLEAR


@given(st.data(), st.lists(st.integers(0, 25), min_size=2, max_size=12))
def test_the_order_of_frames_changes_nothing(data: st.DataObject, hits: list[int]) -> None:
    shuffled = data.draw(st.permutations(hits))
    points = [25] * len(hits)
    one, two = point_cover(hits, points), point_cover(shuffled, points)
    assert abs(one.standard_error - two.standard_error) < 1e-12
    assert one.share == two.share


@given(st.lists(st.integers(0, 40), min_size=2, max_size=12))
def test_twice_the_area_with_twice_the_plants_is_the_same_density(counts: list[int]) -> None:
    once = density(counts, [0.25] * len(counts))
    twice = density([2 * each for each in counts], [0.5] * len(counts))
    assert abs(once.per_m2 - twice.per_m2) < 1e-9


@given(st.integers(0, 60), st.integers(1, 60), st.integers(0, 60), st.integers(1, 60))
def test_ranges_of_shares_hold_the_share_and_stay_within_bounds(
    a: int, m: int, b: int, n: int
) -> None:
    a, b = min(a, m), min(b, n)
    low, high = wilson(a, m)
    assert 0 <= low <= a / m <= high <= 1
    one, two = newcombe(a, m, b, n), newcombe(b, n, a, m)
    assert -1 - 1e-9 <= one.low <= a / m - b / n <= one.high <= 1 + 1e-9
    assert abs(one.low + two.high) < 1e-9


@given(st.lists(st.tuples(st.floats(0, 100), st.floats(0, 100)), min_size=2, max_size=20))
def test_swapping_the_visits_turns_the_change_round(pairs: list[tuple[float, float]]) -> None:
    before, after = [a for a, _ in pairs], [b for _, b in pairs]
    there, back = paired_change(before, after), paired_change(after, before)
    assert abs(there.mean + back.mean) < 1e-9
    assert (there.fell, there.rose) == (back.rose, back.fell)
