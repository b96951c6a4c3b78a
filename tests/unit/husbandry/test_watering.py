import pytest

from swardbook.husbandry.ground import Site
from swardbook.husbandry.happenings import Water
from swardbook.husbandry.watering import depth_mm
from tests.support.books import MAIN, SITE


def test_litres_and_minutes_become_mm_over_the_zone() -> None:
    assert depth_mm(Water(litres=819.2), MAIN, SITE) == pytest.approx(1.0)
    assert depth_mm(Water(minutes=60, by="hose"), MAIN, SITE) == pytest.approx(14 * 60 / 819.2)
    assert depth_mm(Water(depth_mm=3, litres=1), MAIN, SITE) == 3


@pytest.mark.parametrize(
    "water",
    [Water(minutes=60, by="can"), Water(litres=10, place="refills"), Water()],
)
def test_what_cannot_be_known_is_not_made_up(water: Water) -> None:
    assert depth_mm(water, MAIN, SITE) is None


def test_without_a_hose_rate_or_a_zone_minutes_stay_minutes() -> None:
    assert depth_mm(Water(minutes=60), MAIN, Site("Fennowick", 52, 62)) is None
    assert depth_mm(Water(minutes=60), None, SITE) is None
