"""What passes of pulling say, in sentences for the phone and the command line."""

from __future__ import annotations

from swardbook.foundation.dates import say
from swardbook.review.pulling import Pulling, Removal


def pull_words(made: Pulling) -> list[str]:
    """Say what the last removal in a zone comes to, and what the pace rests on.

    Parameters
    ----------
    made : Pulling
        All removals of one weed in one zone.
    """
    if not made.removals:
        return ["No passes yet.", made.pace_words]
    return [*removal_words(made.removals[-1]), made.pace_words]


def removal_words(removal: Removal) -> list[str]:
    """Say what one removal comes to: what was taken, what is left, what another pass would find.

    Parameters
    ----------
    removal : Removal
        One removal, of one pass or two.

    Returns
    -------
    list of str
        What was taken comes first.
    """
    when = say(removal.first_on) + (f" and {say(removal.second_on)}" if removal.second_on else "")
    taken = f"{removal.first:,}"
    taken += "" if removal.second is None else f", then {removal.second:,}"
    words = [f"{when}: {taken} plants."]
    if removal.passes is None:
        return [*words, removal.refusal]
    low, high = removal.passes.interval()
    below, above = removal.passes.left_interval()
    total = f"about {removal.passes.total:,.0f} in all ({low:,.0f} to {high:,.0f})"
    rate = f"a pass took {100 * removal.passes.catch_rate:.0f} % of what stood"
    if not removal.may_headline_left:
        return [*words, f"{total.capitalize()}, {rate}.",
                *(f"Caution: {each}" for each in removal.cautions)]  # fmt: skip
    words.append(
        f"{removal.passes.left:,.0f} left ({below:,.0f} to {above:,.0f}); {total}; {rate}."
    )
    if removal.next_hours is not None and removal.next_plants is not None:
        words.append(
            f"One more pass straight after: about {_time(removal.next_hours)} for about"
            f" {removal.next_plants:,.0f} plants, searching the whole zone."
        )
    return words


def _time(hours: float) -> str:
    minutes = 60 * hours
    return f"{minutes:.0f} minutes" if minutes < 90 else f"{hours:.1f} h"
