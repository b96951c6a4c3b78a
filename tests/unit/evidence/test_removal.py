"""Two passes of pulling."""

import pytest

from swardbook.evidence import two_pass_removal
from swardbook.foundation.errors import NotEnoughDataError


@pytest.mark.parametrize(
    ("first", "second", "total", "span", "left", "left_span"),
    [(220, 66, 314, (294, 335), 28, (8, 49)), (1484, 445, 2120, (2067, 2172), 191, (138, 243)),
     (604, 188, 877, (841, 913), 85, (49, 121)), (352, 231, 1024, (761, 1287), 441, (178, 704))],
)  # fmt: skip
def test_estimates_what_there_was_and_what_is_left(
    first: int, second: int, total: int, span: tuple[int, int], left: int,
    left_span: tuple[int, int],
) -> None:  # fmt: skip
    passes = two_pass_removal(first, second, 0.3)
    assert round(passes.total) == total
    assert tuple(round(end) for end in passes.interval()) == span
    assert round(passes.left) == left
    assert tuple(round(end) for end in passes.left_interval()) == left_span


def test_standard_error_of_the_worked_case() -> None:
    assert two_pass_removal(220, 66, 0.3).standard_error == pytest.approx(10.4, abs=0.05)
    almost = two_pass_removal(41, 35, 0.1)
    assert (almost.total, almost.standard_error) == pytest.approx((280, 348), abs=0.5)


def test_refuses_when_the_second_pass_found_barely_fewer() -> None:
    with pytest.raises(NotEnoughDataError, match="barely fewer the second time"):
        two_pass_removal(41, 35, 0.3)
    with pytest.raises(NotEnoughDataError):
        two_pass_removal(30, 30, 0.0).interval()
    with pytest.raises(NotEnoughDataError, match="took none"):
        two_pass_removal(0, 0, 0.3)


def test_total_is_never_below_what_was_seen() -> None:
    passes = two_pass_removal(9, 5, 0.3)
    assert passes.interval().low == passes.seen == 14
    assert passes.left_interval().low == 0
