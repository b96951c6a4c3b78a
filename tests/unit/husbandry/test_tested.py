"""A germination test in the diary goes before the label; the latest one counts."""

from datetime import date

import pytest

from swardbook.husbandry.happenings import GerminationTest
from swardbook.husbandry.tested import latest_test, parts_as_known
from tests.support.grounds import BOBBIN, RYE, ground, on


def test_the_latest_test_of_that_lot_counts() -> None:
    held = ground(
        on(date(2011, 2, 9), GerminationTest("bb-0417", 100, 74)),
        on(date(2010, 8, 1), GerminationTest("BB-0417", 100, 90)),
        on(date(2011, 3, 1), GerminationTest("GP-2240", 50, 20)),
        lots=(BOBBIN, RYE),
    )
    found = latest_test(held, BOBBIN)
    assert found is not None
    assert (found.test.germinated, found.entry.day) == (74, date(2011, 2, 9))
    assert parts_as_known(held, RYE)[0].germination == pytest.approx(0.4)


def test_without_a_test_the_label_stands() -> None:
    assert latest_test(ground(), BOBBIN) is None
    assert parts_as_known(ground(), BOBBIN) == BOBBIN.parts
