"""What a trial taught the model, and how a mixture stands in it: as one object and in lines."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from swardbook.book.trial_learning import TrialLearned
    from swardbook.book.trial_standing import TrialStanding


def learned_payload(found: TrialLearned) -> dict[str, Any] | None:
    """Put what is leaned on of a trial in one object; None where there is no trial."""
    from swardbook.book.trial_learned_words import learned_sentences
    from swardbook.handbook.parameters import parameter
    from swardbook.model.narrowing import range_of

    if not found.zone:
        return None
    return {
        "zone": found.zone, "leaned_on": bool(found.ranges), "why_not": found.why_not or None,
        "last_count": None if found.last is None else found.last.isoformat(),
        "mixtures": found.mixtures, "plots": found.plots, "blocks": found.blocks,
        "draws": found.draws, "effective_draws": round(found.effective),
        "ranges": [
            {
                "key": each.key, "unit": parameter(each.key).unit,
                "handbook": [round(end, 4) for end in range_of(each.key)],
                "measured_here": [round(end, 4) for end in range_of(each.key, each)],
            }
            for each in found.ranges
        ],
        "says": list(learned_sentences(found)),
    }  # fmt: skip


def learned_told(found: TrialLearned) -> list[tuple[str, str]]:
    """Give the sentences of what is leaned on, each with the mark before it."""
    from swardbook.book.trial_learned_words import learned_sentences

    return [("-" if number else "", words) for number, words in enumerate(learned_sentences(found))]


def standing_payload(each: TrialStanding) -> dict[str, Any]:
    """Put how a mixture stands in a trial in one object."""
    low, high = each.interval
    return {
        "zone": each.zone, "day": each.day.isoformat(), "under": each.under,
        "annual_meadow_grass": {"mean": round(each.mean, 2), "low": round(low, 2),
                                "high": round(high, 2), "unit": each.unit},
        "plots": each.plots, "blocks": each.blocks, "so_far": each.is_so_far,
        "verdict": each.verdict, "clearly_behind": list(each.behind),
        "only_just_behind": list(each.only_just), "level_with_best": list(each.level),
        "not_like_for_like": list(each.unlike), "moves_the_order": each.counts,
        "says": each.words,
    }  # fmt: skip
