"""A zone's year in one sentence to be read out: the word, the figures, their range, the verdict."""

from __future__ import annotations

from collections.abc import Iterator
from math import exp

from swardbook.evidence import Comparison, Verdict
from swardbook.review.better_or_worse import Year, ZoneReview
from swardbook.review.seasons import SeasonPair
from swardbook.review.words import figure

MOST_WORDS = 29
"""Words a sentence may have: under thirty."""


def one_sentence(review: ZoneReview) -> str:
    """Say a zone's year in one sentence of under thirty words, with nothing promised.

    Parameters
    ----------
    review : ZoneReview
        The zone's year.

    Returns
    -------
    str
        The fullest way to say it that is short enough.
    """
    told = ""
    for told in _ways(review):
        if len(told.split()) <= MOST_WORDS:
            return told
    return told


def honest_sentence(review: ZoneReview) -> str:
    """Say how the zone stands to its honest squares; empty where none were counted beside it.

    Parameters
    ----------
    review : ZoneReview
        The zone's year.
    """
    made = None if review.honest is None else review.honest.compared.comparison
    if made is None:
        return ""
    places = 0 if made.value_unit == "%" else 1
    return (
        f"With the work {figure(made.after, places)}, on the honest squares without it"
        f" {figure(made.before, places)} {_unit(made)}; {change_range(made)}: {made.verdict}."
    )


def earlier_sentence(review: ZoneReview) -> str:
    """Say what the pair before the latest showed, so that none is hidden; empty without one.

    Parameters
    ----------
    review : ZoneReview
        The zone's year.
    """
    told = [pair for pair in review.pairs[:-1] if pair.made is not None]
    if not told:
        return ""
    pair = told[-1]
    made = pair.made
    assert made is not None
    places = 0 if made.value_unit == "%" else 1
    over = " The zone was renovated in between." if pair.renovated else ""
    return (
        f"The pair before, {_months(pair)}: {figure(made.before, places)} to"
        f" {figure(made.after, places)} {_unit(made)}, {change_range(made)}:"
        f" {made.verdict}{_leaning(made)}.{over}"
    )


def change_range(made: Comparison) -> str:
    """Say the 95 % range of a change: ``between 6 and 22 points less``.

    Parameters
    ----------
    made : Comparison
        The comparison; a ratio is said in percent fewer or more.
    """
    low, high = made.spread.at95
    if made.is_log_ratio:
        return _between(100 * (exp(low) - 1), 100 * (exp(high) - 1), " %", ("fewer", "more"))
    return _between(low, high, " points", ("less", "more"))


def _between(low: float, high: float, unit: str, ways: tuple[str, str]) -> str:
    fewer, more = ways
    one, two = round(low), round(high)
    if one >= 0:
        return f"between {one} and {two}{unit} {more}"
    if two <= 0:
        return f"between {-two} and {-one}{unit} {fewer}"
    return f"between {-one}{unit} {fewer} and {two}{unit} {more}"


def _ways(review: ZoneReview) -> Iterator[str]:
    """Give ways to say it, the fullest first."""
    is_told = review.word is not Year.CANNOT_SAY
    head = f"{review.zone} is {review.word}:" if is_told else f"{review.zone}: cannot say,"
    if not review.pairs:
        yield f"{head} for there are no two counts of one season yet."
        return
    pair, made = review.pairs[-1], review.pairs[-1].made
    if made is None:
        why = pair.compared.refusals[0].words.rstrip(".") if pair.compared.refusals else ""
        yield (
            f"{head} not enough data: {why[:1].lower()}{why[1:]}."
            if why
            else (f"{head} not enough data.")
        )
        yield f"{head} not enough data, {_months(pair)}."
        return
    places = 0 if made.value_unit == "%" else 1
    figures = f"{figure(made.before, places)} to {figure(made.after, places)} {_unit(made)}"
    told = f"the change lies {change_range(made)}: {made.verdict}{_leaning(made)}."
    yield f"{head} {figures} {_named(review, made)}, {_months(pair)}; {told}"
    yield f"{head} {figures}, {_months(pair)}; {told}"
    yield f"{head} {figures}; {told}"
    yield f"{head} {figures}, {change_range(made)}: {made.verdict}{_leaning(made)}."


def _named(review: ZoneReview, made: Comparison) -> str:
    return review.kind if made.value_unit == "%" else f"({review.kind})"


def _unit(made: Comparison) -> str:
    return "%" if made.value_unit == "%" else "plants a square metre"


def _months(pair: SeasonPair) -> str:
    return f"{pair.before:%B} to {pair.after:%B}"


def _leaning(made: Comparison) -> str:
    if made.verdict is not Verdict.LEANING:
        return ""
    return " better" if made.difference < 0 else " worse"
