"""The one object that ``swardbook cut plan`` gives."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from swardbook.planning.leaf_growth import LeafGrowth
    from swardbook.planning.mowing import Grass, NextCut


def next_cut_payload(told: NextCut) -> dict[str, Any]:
    """Give when to cut next, and all it rests on."""
    third, line = told.third, told.line
    return {
        "zone": told.zone,
        "cut_on": told.cut_on.isoformat() if told.cut_on else None,
        "decides": told.decides or None,
        "because": told.because,
        "cut_height_mm": told.cut_mm,
        "height_wanted_mm": told.wanted_mm,
        "growth": _growth(told.growth),
        "grass": _grass(told.grass),
        "one_third_rule": None if third is None else {
            "due_height_mm": round(third.due_mm, 2), "in_days": _round(third.in_days),
            "soonest_days": _round(third.soonest), "latest_days": _round(third.latest),
            "warns_only": third.is_warning_only,
        },
        "seeding_clock": {"state": told.clock.state.value, "in_days": _round(told.clock_days),
                          "because": told.clock.because},
        "down": [
            {"days_after_first": cut.day, "grass_mm": round(cut.grass_mm, 1),
             "cut_mm": round(cut.cut_mm, 1), "share_off": round(cut.share_off, 3),
             "more_than_a_third": cut.is_over_third}
            for cut in told.down
        ],
        "lower_waits_for": told.lower_waits or None,
        "too_low_for": list(told.too_low),
        "line": {"next_deg": line.line_deg, "last_deg": line.last_deg,
                 "last_on": line.last_day.isoformat() if line.last_day else None,
                 "because": line.because},
        "fit_today": told.fit.overall.value,
        "fit_deciding": [f"{each.name}: {each.because}" for each in told.fit.deciding],
        "days_ahead_from": told.ahead_from or None,
        "forecast_to": told.forecast_to.isoformat() if told.forecast_to else None,
        "not_known": list(told.not_known),
    }  # fmt: skip


def _growth(growth: LeafGrowth | None) -> dict[str, Any] | None:
    if growth is None:
        return None
    low, high = growth.rate_range
    ratio_low, ratio_high = growth.measured.range()
    return {
        "mm_per_day": round(growth.rate, 2),
        "likely_low_mm_per_day": round(low, 2),
        "likely_high_mm_per_day": round(high, 2),
        "response_to_warmth": round(growth.warmth, 2),
        "response_to_water": round(growth.water, 2),
        "response_to_nitrogen": round(growth.nitrogen, 2),
        "response_to_light": round(growth.light, 2),
        "held_back_by": growth.held_back_by or None,
        "measured_spells": [
            {"from": each.first.isoformat(), "to": each.last.isoformat(),
             "grew_mm": round(each.grew_mm, 1), "expected_mm": round(each.expected_mm, 1)}
            for each in growth.measured.spells
        ],
        "measured_ratio": round(growth.measured.ratio, 3),
        "measured_ratio_likely_low": round(ratio_low, 3),
        "measured_ratio_likely_high": round(ratio_high, 3),
    }  # fmt: skip


def _grass(grass: Grass | None) -> dict[str, Any] | None:
    if grass is None:
        return None
    return {
        "height_mm": round(grass.height_mm, 1),
        "likely_low_mm": round(grass.likely.low, 1),
        "likely_high_mm": round(grass.likely.high, 1),
        "reckoned_from": grass.because,
        "reckoned_from_day": grass.since.isoformat(),
    }


def _round(number: float | None) -> float | None:
    return None if number is None else round(number, 1)
