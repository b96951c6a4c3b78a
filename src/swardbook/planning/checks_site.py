"""Conditions of the site: closures, quiet weekdays, and restrictions on the hose."""

from __future__ import annotations

from swardbook.foundation.dates import WEEKDAYS, say
from swardbook.husbandry.happenings import Closure
from swardbook.planning.situation import Happened, Situation
from swardbook.planning.states import Condition, Rank, State

QUIET_SOURCE = "site: quiet weekdays"


def closed_to(sit: Situation, what: str) -> Happened[Closure] | None:
    """Find a closure to some use that holds today; a later note that ends it has until today."""
    for each in reversed(sit.happened(Closure)):
        if each.what.what == what:
            ends = each.what.until
            return each if ends is None or ends >= sit.today else None
    return None


def open_to_feet(sit: Situation) -> Condition:
    """Tell whether the zone is open to people."""
    return _closure(sit, ("feet",))


def open_to_machines(sit: Situation) -> Condition:
    """Tell whether the zone is open to machines, today being no quiet day."""
    day = WEEKDAYS[sit.today.weekday()]
    if day in {each.casefold() for each in sit.site.no_machines_on}:
        return Condition(
            "closures", State.NOT_MET, f"no machines on {day.capitalize()}s", QUIET_SOURCE,
            rank=Rank.SAFETY, until="tomorrow, or the next day that is not quiet",
        )  # fmt: skip
    return _closure(sit, ("machines", "feet"))


def open_to_play(sit: Situation) -> Condition:
    """Tell whether the zone is open to play."""
    return _closure(sit, ("play", "feet"))


def open_to_hose(sit: Situation) -> Condition:
    """Tell whether a hose may be used; cans and stored rain stay possible."""
    found = closed_to(sit, "hose")
    if found is None:
        told = "no restriction noted; rules can change, ask your supplier"
        return Condition("hose", State.MET, told, "diary", rank=Rank.SAFETY)
    return Condition(
        "hose", State.NOT_MET, "hose restriction noted: cans and stored rain only; "
        "ask your supplier", f"diary, {say(found.day)}", rank=Rank.SAFETY,
        until=_until(found),
    )  # fmt: skip


def _closure(sit: Situation, uses: tuple[str, ...]) -> Condition:
    for use in uses:
        found = closed_to(sit, use)
        if found is not None:
            reason = found.what.reason.rstrip(". ")
            why = f": {reason[0].lower()}{reason[1:]}" if reason else ""
            return Condition(
                "closures", State.NOT_MET, f"closed to {use}{why}", f"diary, {say(found.day)}",
                rank=Rank.SAFETY, until=_until(found),
            )  # fmt: skip
    return Condition("closures", State.MET, "open", "diary", rank=Rank.SAFETY)


def _until(found: Happened[Closure]) -> str:
    return (
        f"{say(found.what.until)} is past" if found.what.until else "the closure is noted as over"
    )
