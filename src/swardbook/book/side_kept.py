"""Mixtures side by side as the diary keeps them: means, verdicts, and what they rest on."""

from __future__ import annotations

from math import exp

from swardbook.book.said import listed
from swardbook.book.side_by_side import SideBySide
from swardbook.book.worked_out import Answer
from swardbook.evidence import Verdict
from swardbook.foundation.errors import NotEnoughDataError

ABOUT = "side by side"
"""The name of the question in the diary."""


def side_answer(found: SideBySide) -> Answer:
    """Give mixtures side by side as an answer that may be kept.

    Parameters
    ----------
    found : SideBySide
        What may be said of them.

    Raises
    ------
    NotEnoughDataError
        If mixtures may only be described: there is no answer to keep.
    """
    said = found.said
    if said is None or said.refusals:
        why = "; ".join(said.refusals) if said is not None else "one plot of each"
        raise NotEnoughDataError(
            "an answer to keep", "mixtures that may be ranked, three shuffled plots of each", why
        )
    shown = exp if said.read.are_plants else float
    unit = {"%": "percent", "plants/m2": "per_m2"}.get(said.read.unit, "as_read")
    means = zip(said.means.names, said.means.values, strict=True)
    so_far = "so far, " if said.is_so_far else ""
    if len(said.level) > 1:
        words = f"{so_far}too close to call among {listed(said.level)}"
    else:
        words = f"{so_far}{said.level[0]} clear of every other sown mixture"
    clear = [each for each in said.pairs if each.verdict is Verdict.CLEAR]
    given = {
        "trait": found.trait.words, "day": said.read.day.isoformat(),
        "plots": str(found.asked.how),
        "less is better": "yes" if found.asked.lower_first else "no",
    }  # fmt: skip
    named = {"level with the best found": ", ".join(said.level)}
    named |= {
        f"{each.first} ahead of {each.second}":
        "only just clear" if each.is_only_just else str(each.verdict)
        for each in clear
    }  # fmt: skip
    return Answer(
        ABOUT, f"{found.trait.words} on {said.read.day.isoformat()}: {words}", given,
        {f"{name}_{unit}": round(float(shown(float(mean))), 3) for name, mean in means}, named,
    )  # fmt: skip
