"""What the order of programmes lets one say."""

import numpy as np

from swardbook.evidence.verdicts import Verdict
from swardbook.model.leading import Leading, leading
from swardbook.model.prospects import order

DRAWS = np.linspace(0.0, 1.0, 401)


def said(**outcomes: np.ndarray) -> Leading:
    found = leading(order(outcomes), outcomes, is_density=False)
    assert found is not None
    return found


def test_a_leader_is_named_only_where_it_is_apart_from_every_other() -> None:
    found = said(dig=0.10 + 0.02 * DRAWS, cut=0.30 + 0.02 * DRAWS, box=0.25 + 0.02 * DRAWS)
    assert found.is_leader
    assert found.group == ("dig",)
    assert found.verdict is Verdict.CLEAR
    assert set(found.behind) == {"cut", "box"}


def test_programmes_within_the_needed_gap_are_a_group_without_a_leader() -> None:
    noise = 0.2 * (DRAWS - 0.5)
    found = said(dig=0.20 + 0 * DRAWS, box=0.201 + noise, cut=0.5 + 0 * DRAWS)
    assert not found.is_leader
    assert set(found.group) == {"dig", "box"}
    assert found.verdict is Verdict.TOO_CLOSE
    assert found.behind == ("cut",)


def test_the_weakest_verdict_speaks_for_a_leader() -> None:
    leans = 0.05 + 0.2 * (DRAWS - 0.3)
    found = said(dig=0.20 + 0 * DRAWS, box=0.2 + leans, cut=0.5 + 0 * DRAWS)
    assert found.is_leader
    assert found.verdict is Verdict.LEANING


def test_a_programme_against_its_own_copy_is_as_good_as_equal() -> None:
    assert said(one=DRAWS, two=DRAWS.copy()).verdict is Verdict.AS_GOOD_AS_EQUAL


def test_one_programme_alone_has_nothing_to_lead() -> None:
    assert leading(["cut"], {"cut": DRAWS}, is_density=False) is None
