"""Every published value in reach, one test a value."""

import pytest

from swardbook.foundation.provenance import Grade
from swardbook.handbook.sources import source
from tests.support.checks import Check, all_checks

CHECKS = list(all_checks())


def test_each_check_has_its_own_id() -> None:
    ids = [check.id for check in CHECKS]
    assert len(ids) == len(set(ids))


def test_no_value_from_memory_is_called_published() -> None:
    remembered = [each for each in CHECKS if source(each.source).how_read.startswith("from memory")]
    assert remembered
    assert {each.grade for each in remembered} == {Grade.JUDGED}


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_agrees_with_the_value_as_printed(check: Check) -> None:
    assert source(check.source).title
    assert check.place
    assert check.got() == pytest.approx(check.expected, abs=check.tolerance), check.what
