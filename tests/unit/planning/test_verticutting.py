"""A verticut planned: depth with its datum, line, what it opens, and when that closes."""

from datetime import date, timedelta
from math import log

import pytest

from swardbook.foundation.errors import BadInputError, OutOfRangeError
from swardbook.husbandry.happenings import Cut, Feed, Heads, Verticut
from swardbook.planning.states import Overall
from swardbook.planning.verticutting import (
    ABOVE_SOIL,
    BELOW_CUT,
    BELOW_SURFACE,
    VerticutPlan,
    opened_share,
    plan_verticut,
    read_depth,
)
from tests.support.grounds import MAY, grown, look, mild_may, on, zone

LAWN = zone(height_of_cut_mm=35.0)


def ago(number: int, what: object) -> object:
    return on(MAY - timedelta(days=number), what)  # type: ignore[arg-type]


def planned(*entries: object, depth: float | None = None, datum: str = "", passes: int = 1,
            **sky: object) -> VerticutPlan:  # fmt: skip
    fed = ago(5, Feed("spring feed", 25.0, 12.0))
    sit = look(*grown(), fed, *entries, sky=mild_may(**sky))  # type: ignore[arg-type]
    return plan_verticut(sit, depth, datum, passes)


def test_each_datum_puts_the_tips_at_a_height_above_the_soil() -> None:
    sit = look(ago(2, Cut(8.0)))  # type: ignore[arg-type]
    assert read_depth(sit, 2, BELOW_CUT).above_soil_mm == 6
    assert read_depth(sit, 2, ABOVE_SOIL).above_soil_mm == 2
    assert read_depth(sit, 2, BELOW_SURFACE).above_soil_mm == -2
    assert read_depth(sit, 8, BELOW_CUT).reaches == "soil"


def test_the_usual_datum_is_the_height_of_cut_on_fine_turf_and_the_soil_on_lawns() -> None:
    assert read_depth(look(), None).datum == BELOW_CUT
    lawn = read_depth(look(of=LAWN), None)
    assert (lawn.datum, lawn.because) == (ABOVE_SOIL, "usual")
    assert 0 <= lawn.depth_mm <= 5


def test_a_depth_below_nothing_asks_what_is_meant() -> None:
    with pytest.raises(BadInputError, match="above the soil, or below the surface"):
        read_depth(look(), -2)
    with pytest.raises(OutOfRangeError, match="no verticut"):
        read_depth(look(), 60)


def test_the_bare_ground_added_is_that_of_what_the_blades_meet() -> None:
    sit = look()
    tips = opened_share(read_depth(sit, 2, ABOVE_SOIL), 1)
    sward = opened_share(read_depth(sit, 2, BELOW_CUT), 1)
    soil = opened_share(read_depth(sit, 2, BELOW_SURFACE), 1)
    heavy = opened_share(read_depth(sit, 8, BELOW_SURFACE), 1)
    assert [tips.value, sward.value, soil.value] == pytest.approx([0.003, 0.01, 0.07])
    assert heavy.value > soil.value
    assert tips.low == pytest.approx(0)
    twice = opened_share(read_depth(sit, 2, BELOW_CUT), 2)
    assert twice.value == pytest.approx(1 - 0.99**2)


def test_it_closes_over_sooner_in_growth_and_later_in_cold_or_drought() -> None:
    best = planned().recovers_days
    assert best is not None
    assert best.low < best.value < best.high
    cold, dry = planned(tmin=1.0, tmax=9.0).recovers_days, planned(rain=0.0).recovers_days
    assert cold is not None
    assert cold.value > best.value
    assert dry is None or dry.value > best.value
    assert planned(tmin=-4.0, tmax=0.0).recovers_days is None


def test_the_days_are_the_usual_of_full_growth_over_the_growth_there_is() -> None:
    found = planned()
    assert found.growth is not None
    assert found.recovers_days is not None
    assert found.recovers_days.value == pytest.approx(7 / found.growth.of_full)
    deeper = planned(depth=3, datum=BELOW_SURFACE).recovers_days
    assert deeper is not None
    assert deeper.value == pytest.approx(28 / found.growth.of_full)


def test_bare_spots_close_at_the_rate_that_was_measured_for_gaps() -> None:
    """At 13 °C with water, nitrogen and light enough: ln 10 over 0.05 times 13/15."""
    found = planned()
    assert found.growth is not None
    assert found.gaps_days is not None
    held = found.growth.water * found.growth.nitrogen * found.growth.light
    assert found.gaps_days.value == pytest.approx(log(10) / (0.05 * 13 / 15 * held))
    assert found.gaps_days.low == pytest.approx(found.gaps_days.value / 2)


def test_the_line_crosses_the_last_one_that_was_noted() -> None:
    found = planned(ago(20, Verticut(1.0, line_deg=20.0)), ago(12, Verticut(1.0)))
    assert (found.line_deg, found.last_deg, found.crosses_deg) == (None, 20.0, None)
    noted = planned(ago(20, Verticut(1.0, line_deg=20.0)))
    assert (noted.line_deg, noted.crosses_deg) == (-20.0, 40.0)


def test_what_to_do_straight_after_holds_cut_box_heads_and_washing() -> None:
    told = " ".join(planned(ago(3, Heads(True))).after)
    for words in ("Cut straight after with the box on", "heads and spoil off the site",
                  "washed before the next zone", "flagged tufts"):  # fmt: skip
        assert words in told
    assert "sow the zone's own lot" not in told
    assert "sow the zone's own lot" in " ".join(planned(depth=3, datum=BELOW_SURFACE).after)


def test_below_the_surface_it_is_held_to_the_rules_of_scarifying() -> None:
    found = planned(depth=3, datum=BELOW_SURFACE)
    assert found.fit.job == "scarify"
    assert found.fit.overall is Overall.NOT_FIT
    assert planned().fit.job == "verticut"


def test_in_autumn_it_says_that_growth_falls_off() -> None:
    october = date(2011, 10, 8)
    found = plan_verticut(look(today=october, sky=mild_may(october)))
    assert any("falls off from here" in each for each in found.not_known)


def test_without_weather_no_day_is_made_up() -> None:
    found = plan_verticut(look(*grown()))
    assert found.recovers_days is None
    assert found.gaps_days is None
    assert any("weather" in each for each in found.not_known)
