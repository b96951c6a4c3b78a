"""Comparisons as one object, for other programs."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from swardbook.book.comparing import SharesCompared
    from swardbook.evidence import Comparison
    from swardbook.observations.comparing import Compared
    from swardbook.review.better_or_worse import ZoneReview
    from swardbook.review.pulling import Pulling, Removal


def _comparison(made: Comparison | None) -> dict[str, Any]:
    if made is None:
        return {"verdict": "not enough data"}
    unit = "log_ratio" if made.is_log_ratio else "points"
    values = "plants_m2" if made.value_unit == "plants/m2" else "percent"
    payload: dict[str, Any] = {
        "verdict": str(made.verdict),
        f"before_{values}": made.before,
        f"after_{values}": made.after,
        f"difference_{unit}": made.difference,
        f"interval_95_{unit}": list(made.spread.at95),
        f"interval_90_{unit}": list(made.spread.at90),
        f"interval_80_{unit}": list(made.spread.at80),
        f"smallest_worth_acting_on_{unit}": made.smallest,
        "n_places": made.n,
        "method": made.method,
        "cautions": list(made.cautions),
    }
    if made.ratio is not None and made.ratio_at95 is not None:
        payload |= {"ratio": made.ratio, "interval_95_ratio": list(made.ratio_at95)}
    return payload


def compared_payload(compared: Compared) -> dict[str, Any]:
    """Lay two compared samples out."""
    return {
        **_comparison(compared.comparison),
        "counted_by": str(compared.method) if compared.method else None,
        "places_fell": compared.fell,
        "places_rose": compared.rose,
        "places_unchanged": compared.unchanged,
        "left_out": list(compared.left_out),
        "refusals": [
            {"reason": str(each.reason), "words": each.words} for each in compared.refusals
        ],
    }


def review_payload(review: ZoneReview) -> dict[str, Any]:
    """Lay a zone's year out."""
    from swardbook.review.better_or_worse import MARKS

    honest = review.honest
    return {
        "zone": review.zone,
        "word": str(review.word),
        "mark": MARKS[review.word],
        "sentence": review.sentence,
        "same_season": [
            {
                "before": pair.before.isoformat(),
                "after": pair.after.isoformat(),
                "renovated_between": pair.renovated,
                "untouched_ground": list(pair.context),
                **compared_payload(pair.compared),
            }
            for pair in review.pairs
        ],
        "honest_squares": None
        if honest is None
        else {"day": honest.day.isoformat(), **compared_payload(honest.compared)},
        "leading_signs": [
            {"name": sign.name, "words": sign.words, "day": sign.day.isoformat()}
            for sign in review.signs
        ],
        "tolerance": review.tolerance,
        "look_at": review.look_at,
    }


def shares_payload(made: SharesCompared) -> dict[str, Any]:
    """Lay two shares out."""
    return {
        "first": {"name": made.first_name, "hits": made.first[0], "n": made.first[1]},
        "second": {"name": made.second_name, "hits": made.second[0], "n": made.second[1]},
        **_comparison(made.comparison),
        "refusals": [],
    }


def pulls_payload(zone: str, made: Pulling) -> dict[str, Any]:
    """Lay pull passes out."""
    pace = made.pace
    return {
        "zone": zone,
        "removals": [_removal(each) for each in made.removals],
        "search_s_m2": None if pace is None else 3600 * pace.search_h_m2,
        "handling_s_plant": None if pace is None else 3600 * pace.handling_h,
        "pace": made.pace_words,
    }


def _removal(each: Removal) -> dict[str, Any]:
    passes = each.passes
    return {
        "first_on": each.first_on.isoformat(),
        "second_on": each.second_on.isoformat() if each.second_on else None,
        "first_plants": each.first,
        "second_plants": each.second,
        "total_plants": None if passes is None else passes.total,
        "standard_error_plants": None if passes is None else passes.standard_error,
        "interval_total_plants": None if passes is None else list(passes.interval()),
        "left_plants": None if passes is None else passes.left,
        "interval_left_plants": None if passes is None else list(passes.left_interval()),
        "catch_rate": None if passes is None else passes.catch_rate,
        "may_headline_left": each.may_headline_left,
        "next_pass_plants": each.next_plants,
        "next_pass_hours": each.next_hours,
        "cautions": list(each.cautions),
        "refusals": [each.refusal] if each.refusal else [],
    }
