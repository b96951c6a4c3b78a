"""One's own earlier sowings beside the model's days, for `sow when` and `sow watch`."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from swardbook.cli.wrapping import under

if TYPE_CHECKING:
    from swardbook.book.own_emergence import OwnEmergence, OwnResult


def own_payload(own: OwnEmergence) -> list[dict[str, Any]]:
    """Give one's own earlier sowings, the latest first."""
    return [_own(each) for each in own.results]


def _own(each: OwnResult) -> dict[str, Any]:
    return {
        "zone": each.zone, "sown_on": each.day.isoformat(), "species": each.species,
        "seen_after_days": each.seen_after, "first_cut_after_days": each.cut_after,
        "model_days": None if each.model is None else dict(
            zip(("low", "middle", "high"), each.model, strict=True)),
        "watering_not_noted": each.water_unknown,
    }  # fmt: skip


def own_lines(own: OwnEmergence, what: str) -> list[str]:
    """Say how one's own earlier sowings came up, and what that does to the chances or windows."""
    from swardbook.foundation.dates import say
    from swardbook.handbook.species import find_species

    if not own.results:
        return []
    lines = ["", "Your own sowings:"]
    for each in own.results:
        name = find_species(each.species).english
        told = f"{name}, {each.zone}, sown {say(each.day)}: first seen after {each.seen_after} days"
        if each.model is not None:
            low, middle, high = each.model
            late = "later than was followed" if high is None else str(high)
            told += f", where the model says {middle} ({low} to {late})"
        elif each.water_unknown:
            told += "; no watering is noted, so it is not held against the model"
        if each.cut_after is not None:
            told += f"; first cut after {each.cut_after}"
        lines += under("·", f"{told}.")
    weighed = f"The {what} give most weight to what would have foretold these days; cuts wait for" \
              " other things too, and only stand beside."  # fmt: skip
    if own.is_left_out:
        weighed = "Hardly anything the model holds possible would have foretold these: they only" \
                  " stand beside."  # fmt: skip
    elif not own.is_used:
        weighed = "They only stand beside."
    return [*lines, *under("", weighed, 0)]
