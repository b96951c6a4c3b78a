"""Mowing and verticutting: the one-third rule, time for an area, cuts a metre, vibration."""

from __future__ import annotations

from functools import partial
from math import floor

from swardbook.foundation.provenance import Grade
from swardbook.husbandry.cylinder import (
    Clip,
    clip_against_height,
    clip_mm,
    clips_a_turn,
    cuts_per_metre,
    fastest_m_s,
    ground_driven_clip_mm,
)
from swardbook.husbandry.lowering import cuts_to_lower, days_to_due, due_height_mm
from swardbook.husbandry.passes import hours_for, over_oblong
from swardbook.husbandry.slits import strike_pitch_mm
from swardbook.husbandry.vibration import LIMIT_M_S2, hours_to, points
from tests.support.checks import Check

IN, FT = 25.4, 0.3048
KMH, MPH = 1 / 3.6, 0.44704
ACRE_M2 = 4046.8564224
WEEKLY = 1.5 * IN / 7
"""Growth of an inch and a half a week [mm d⁻¹]."""


def _whole_days(inches: float) -> float:
    return floor(round(days_to_due(inches * IN, WEEKLY), 6))


def _area_an_hour(overlap_ft: float) -> float:
    """Area that a 5 ft deck mows in an hour at 8.5 mph, turns left out [m² h⁻¹]."""
    width, overlap, number, long = 5 * FT, overlap_ft * FT, 400, 1000.0
    short = number * width - (number - 1) * overlap
    mown = over_oblong((long, short), width, overlap)
    assert mown.number == number
    return long * short / hours_for(mown, 8.5 * MPH, 0)


def _cuts(speed_kmh: float, turns: float, blades: int) -> float:
    return cuts_per_metre(clip_mm(speed_kmh * KMH, turns, blades))


THIRD = [
    Check("third_3_in", "height at which a lawn kept at 3 in is mown [in]", "cornell_one_third",
          "text: about 4.5 inches", 4.5, 0.01, Grade.PUBLISHED, lambda: due_height_mm(3 * IN) / IN),
    Check("third_1_5_in", "growth after which a lawn kept at 1.5 in is mown [in]",
          "cornell_one_third", "text: 3/4 of an inch", 0.75, 0.001, Grade.PUBLISHED,
          lambda: due_height_mm(1.5 * IN) / IN - 1.5),
    Check("third_3_in_growth", "growth after which a lawn kept at 3 in is mown [in]",
          "cornell_one_third", "text: twice as much, 1.5 inches", 1.5, 0.001, Grade.PUBLISHED,
          lambda: due_height_mm(3 * IN) / IN - 3),
    Check("third_2_in", "height at which smooth-stalked meadow-grass kept at 2 in is mown [in]",
          "kansas_one_third", "page: no higher than three inches", 3.0, 0.001,
          Grade.PUBLISHED, lambda: due_height_mm(2 * IN) / IN),
    Check("third_7_days", "1.5 in of growth a week, kept at 3 in: days between cuts",
          "nebraska_mowing_2019", "printed 7", 7, 0.01, Grade.PUBLISHED,
          lambda: days_to_due(3 * IN, WEEKLY)),
    Check("third_4_days", "the same kept at 2 in: whole days", "nebraska_mowing_2019", "printed 4",
          4, 1e-9, Grade.PUBLISHED, partial(_whole_days, 2)),
    Check("third_3_days", "the same kept at 1.5 in: whole days", "nebraska_mowing_2019",
          "printed 3", 3, 1e-9, Grade.PUBLISHED, partial(_whole_days, 1.5)),
    *(
        Check(f"third_due_{height}".replace(".", "_"),
              f"height at which a lawn kept at {height} mm is mown [mm]", "nebraska_mowing_2019",
              "half as much again", due, 0.06, Grade.DEFINED, partial(due_height_mm, height))
        for height, due in ((76.2, 114.3), (50.8, 76.2), (38.1, 57.2), (15, 22.5))
    ),
    *(
        Check(f"third_days_{height}".replace(".", "_"),
              f"days between cuts at {height} mm, growing 5.44 mm a day", "nebraska_mowing_2019",
              f"{days:g} before whole days are taken", days, 0.05, Grade.DEFINED,
              partial(days_to_due, height, 5.44))
        for height, days in ((76.2, 7.0), (50.8, 4.67), (38.1, 3.5))
    ),
    *(
        Check(f"cuts_for_{height}", f"cuts per metre of a clip as long as {height} mm is high",
              "fairway_manual", "clip no longer than the height of cut", cuts, 0.5,
              Grade.DEFINED, partial(cuts_per_metre, height))
        for height, cuts in ((25, 40), (12, 83), (6, 167))
    ),
    Check("third_15_mm", "2 mm a day, kept at 15 mm: days between cuts", "practice",
          "half the height over growth", 3.75, 1e-6, Grade.DEFINED, lambda: days_to_due(15, 2)),
    Check("third_60_to_25", "cuts of a third from 60 to 25 mm", "practice", "ln(60/25) / ln 1.5",
          3, 1e-9, Grade.DEFINED, lambda: cuts_to_lower(60, 25)),
]  # fmt: skip

TIME = [
    Check("mown_no_overlap", "5 ft deck at 8.5 mph, no overlap [ft² h⁻¹]",
          "contractors_productivity", "printed 224,400", 224_400, 50, Grade.PUBLISHED,
          lambda: _area_an_hour(0) / FT**2),
    Check("mown_fifth_overlap", "the same with a fifth of overlap [acre h⁻¹]",
          "contractors_productivity", "printed 4.12", 4.12, 0.006, Grade.PUBLISHED,
          lambda: _area_an_hour(1) / ACRE_M2),
]  # fmt: skip

CUTS = [
    *(
        Check(f"cuts_a_metre_{turns}_{blades}",
              f"cuts per metre at {speed:g} km/h, {turns} turns a minute, {blades} blades",
              "fairway_manual", "1000 over the clip", expected, 0.05, Grade.DEFINED,
              partial(_cuts, speed, turns, blades))
        for speed, turns, blades, expected in (
            (4, 2000, 8, 240.0), (3.5, 900, 10, 154.3), (4, 600, 5, 45.0),
        )
    ),
    Check("cuts_a_metre_4_mph", "cuts per metre at 4 mph, 2000 turns, 8 blades", "fairway_manual",
          "1000 over the clip", 149.1, 0.05, Grade.DEFINED,
          lambda: cuts_per_metre(clip_mm(4 * MPH, 2000, 8))),
    Check("cuts_a_metre_wheel", "cuts per metre, 10.25 in wheel, 63 to 14 teeth, 6 blades",
          "reel_gearing", "27 cuts in 32.2 in of ground", 33, 0.05, Grade.DEFINED,
          lambda: cuts_per_metre(ground_driven_clip_mm(10.25 * IN, clips_a_turn(63, 14, 6)))),
    Check("clip_equals_height", "a clip as long as the height of cut is good (1 for yes)",
          "fairway_manual", "clip no longer than the height of cut", 1, 1e-9, Grade.PUBLISHED,
          lambda: float(clip_against_height(12, 12) is Clip.GOOD)),
    Check("fastest_10_blades", "10 blades, 720 turns, 10 mm: fastest [m/s]", "fairway_manual",
          "clip no longer than the height of cut", 1.2, 1e-9, Grade.DEFINED,
          lambda: fastest_m_s(10, 720, 10)),
    Check("strike_pitch", "4 km/h, 2000 turns, 8 tips: from strike to strike [mm]",
          "fairway_manual", "formula of the clip", 4.167, 0.001, Grade.DEFINED,
          lambda: strike_pitch_mm(4 * KMH, 2000, 8)),
]  # fmt: skip

VIBRATION = [
    Check("reckoner_5_3", "5 m/s² for 3 hours [points]", "hse_ready_reckoner_2009",
          "worked illustration", 150, 1e-9, Grade.PUBLISHED, lambda: points(5, 3)),
    Check("reckoner_action", "the action value, 2.5 m/s² for 8 hours [points]",
          "hse_ready_reckoner_2009", "equal to 100 points", 100, 1e-9, Grade.PUBLISHED,
          lambda: points(2.5, 8)),
    Check("reckoner_limit", "the limit value, 5 m/s² for 8 hours [points]",
          "hse_ready_reckoner_2009", "equal to 400 points", 400, 1e-9, Grade.PUBLISHED,
          lambda: points(5, 8)),
    Check("limit_at_5", "5 m/s² to the limit value [h]", "eu_vibration_2002", "article 3", 8,
          1e-9, Grade.DEFINED, lambda: hours_to(LIMIT_M_S2, 5)),
    Check("limit_at_10", "10 m/s² to the limit value [h]", "eu_vibration_2002", "article 3", 2,
          1e-9, Grade.DEFINED, lambda: hours_to(LIMIT_M_S2, 10)),
]  # fmt: skip

CHECKS: list[Check] = [*THIRD, *TIME, *CUTS, *VIBRATION]
