"""A zone's year in plain words, for somebody who reads it once and never counted a weed."""

from __future__ import annotations

from math import exp

from swardbook.evidence import Comparison, Estimate, Verdict
from swardbook.observations.comparing import Reason
from swardbook.review.better_or_worse import HonestContrast, Year, ZoneReview
from swardbook.review.words import decimals, figure, range_words

_OF_VERDICT = {
    Verdict.CLEAR: "That is clear",
    Verdict.CLEAR_BUT_SMALL: "That is clear but small",
    Verdict.AS_GOOD_AS_EQUAL: "That is as good as equal",
    Verdict.TOO_CLOSE: "That is too close to call",
}
_FEW = 10
"""Plants below which a tenth is told."""
_WHY = {
    Reason.TOO_FEW_PLACES: "too few places were counted both times",
    Reason.COUNTER_CHANGED: "someone else counted the second time",
    Reason.DIFFERENT_METHOD: "it was counted in two different ways",
    Reason.DIFFERENT_SEASON: "the counts stand in different seasons",
    Reason.NOT_COUNTED: "it was not counted both times",
    Reason.NOTHING_TO_TELL: "next to nothing was found both times",
}


def plain_estimate(made: Estimate, plants: str = "") -> str:
    """Write an estimate as ``14 in 100 (10 to 19)`` or ``2.4 on a square metre (1.4 to 4.3)``.

    Parameters
    ----------
    made : Estimate
        The estimate.
    plants : str
        What is counted, to stand before a square metre.
    """
    if made.unit == "%":
        return f"{figure(made.value)} in 100 ({range_words(made.interval)})"
    places = 1 if made.value < _FEW else decimals(made.interval)
    told = f"{figure(made.value, places)} {plants}on a square metre"
    return f"{told} ({range_words(made.interval, places)})"


def plain_change(made: Comparison) -> str:
    """Say in which range the true change lies, and what may be said of it."""
    low, high = made.spread.at95
    unit = " in 100"
    if made.is_log_ratio:
        low, high, unit = 100 * (exp(low) - 1), 100 * (exp(high) - 1), " %"
    one, two = round(low), round(high)
    if one >= 0:
        told = f"The true rise is most likely {one} to {two}{unit}."
    elif two <= 0:
        told = f"The true drop is most likely {-two} to {-one}{unit}."
    else:
        told = f"The true change may be a drop of {-one}{unit}, a rise of {two}{unit}, or between."
    return f"{told} {_said(made)}."


def plain_year(review: ZoneReview, then: Estimate, now: Estimate) -> str:
    """Say how a zone did, from its latest two counts of one season; empty where it cannot be.

    Parameters
    ----------
    review : ZoneReview
        The zone's year.
    then, now : Estimate
        What the two counts say.
    """
    made = review.pairs[-1].made if review.pairs else None
    if made is None or review.word is Year.CANNOT_SAY:
        return ""
    pair = review.pairs[-1]
    return (
        f"{review.zone} is {review.word}. In {pair.before:%B %Y} the weed took"
        f" {plain_estimate(then)}. In {pair.after:%B %Y} it took {plain_estimate(now)}."
        f" {plain_change(made)}"
        if then.unit == "%" else
        f"{review.zone} is {review.word}. In {pair.before:%B %Y} there were"
        f" {plain_estimate(then, 'weed plants ')}. In {pair.after:%B %Y} there were"
        f" {plain_estimate(now)}. {plain_change(made)}"
    )  # fmt: skip


def plain_contrast(
    zone: str, honest: HonestContrast, without: Estimate, with_work: Estimate
) -> str:
    """Say what was counted with the work and without it; empty where it was not compared.

    Parameters
    ----------
    zone : str
        The zone.
    honest : HonestContrast
        The comparison with its honest squares.
    without, with_work : Estimate
        What the squares and the zone had.
    """
    made = honest.compared.comparison
    if made is None:
        return ""
    plants = "" if without.unit == "%" else "weed plants "
    was = "the weed took" if without.unit == "%" else "there were"
    return (
        f"Some squares in {zone} were left alone, to show what the work does. In"
        f" {honest.day:%B %Y} {was} {plain_estimate(without, plants)} there. Where we worked"
        f" {'it took' if without.unit == '%' else was} {plain_estimate(with_work)}."
        f" {_said(made)}."
    )


def _said(made: Comparison) -> str:
    if made.verdict is Verdict.LEANING:
        way = "better" if made.difference < 0 else "worse"
        return f"It is leaning {way}, but that is not clear"
    return _OF_VERDICT[made.verdict]


def plain_why_not(review: ZoneReview) -> str:
    """Say why nothing can be said of a zone's year, as a clause; empty where something is."""
    if review.word is not Year.CANNOT_SAY:
        return ""
    if not review.pairs:
        return "it was not counted twice in one season"
    compared = review.pairs[-1].compared
    made = compared.comparison
    if made is None:
        return _WHY[compared.refusals[0].reason] if compared.refusals else "too little was counted"
    if made.verdict is Verdict.LEANING:
        return "the counts lean to worse, but that is not clear"
    return "the counts are too close to call"
