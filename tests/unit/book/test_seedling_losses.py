"""What may take seedlings in the first weeks is reached by its sign; it names nothing to put on."""

import re
from datetime import date, timedelta

import pytest

from swardbook.book.seedling_watch import FIRST_WEEKS, loss_signs
from swardbook.handbook.troubles import troubles
from swardbook.husbandry.happenings import Sow
from swardbook.planning.situation import Situation
from swardbook.planning.troubles import diagnose, read_signs
from tests.support.grounds import look, on, weather

TODAY = date(2011, 10, 12)
PRODUCT = re.compile(
    r"pesticid|herbicid|fungicid|insecticid|molluscicid|pellet|metaldehyd|pyreth|chlor|nematod"
    r"|\bspray|\bdose\b|\bg/m|\bml\b",
    re.I,
)


def seedbed() -> Situation:
    """A bed sown a fortnight ago, in a wet autumn."""
    sky = weather(TODAY - timedelta(days=120), TODAY, tmin=7.0, tmax=14.0, rain=2.0, humidity=90.0)
    return look(on(TODAY - timedelta(days=14), Sow("BB-0417", 30.0)), today=TODAY, sky=sky)


@pytest.mark.parametrize("key", [key for key in FIRST_WEEKS if key != "slow_seed"])
def test_each_loss_is_reached_by_its_own_signs(key: str) -> None:
    trouble = troubles()[key]
    assert set(trouble.usual) <= set(loss_signs())
    first = [each.trouble.key for each in diagnose(seedbed(), read_signs(trouble.usual, ())).causes]
    assert key in first[:2]


@pytest.mark.parametrize("key", FIRST_WEEKS)
def test_each_comes_with_a_check_and_names_nothing_to_put_on(key: str) -> None:
    trouble = troubles()[key]
    assert all((trouble.check, trouble.do, trouble.not_do))
    told = " ".join((trouble.check, trouble.do, trouble.not_do))
    assert PRODUCT.search(told) is None


def test_every_loss_of_the_first_weeks_is_there() -> None:
    asked = {"birds", "slugs", "frit_fly", "worm_casts", "cats", "leaf_smother", "wash_off"}
    assert asked <= set(FIRST_WEEKS)
