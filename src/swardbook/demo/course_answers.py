"""What the book answers to each question of the course: worked out every time, never kept.

Each gives the choice that is right as the book stands, and what it rests on.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date

from swardbook.book.comparing import (
    compare_days,
    compare_refills,
    compare_strips,
    pulling,
    zone_review,
)
from swardbook.book.mixtures_beside import mixtures_beside
from swardbook.book.opening import Book
from swardbook.book.side_by_side import SideAsked, asked_of
from swardbook.book.squaring import square_up_sowing
from swardbook.book.trial_days import trial_trait
from swardbook.demo.names import (
    APRON,
    INES,
    LIME_WALK,
    MAIN,
    MEADOW_GRASS,
    ODALYS,
    SHORT,
    SURROUND,
    TRIAL,
)
from swardbook.evidence import Verdict
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.handbook.parameters import value
from swardbook.observations.comparing import Compared
from swardbook.observations.counts import Method
from swardbook.observations.overlap import counters_overlap
from swardbook.observations.samples import Smallest
from swardbook.planning.cut_gaps import analyse_gaps
from swardbook.planning.situation import situation
from swardbook.review.better_or_worse import Year, ZoneReview
from swardbook.review.records import occasions_of
from swardbook.review.words import change_words, points_words
from swardbook.trials.pair_verdicts import PairSaid
from swardbook.trials.said import pairs_of

CANNOT = "cannot"
"""The choice that it cannot be told."""
AUGUST = (date(2010, 8, 7), date(2011, 8, 6))
_TOLD = (Verdict.CLEAR, Verdict.CLEAR_BUT_SMALL)


@dataclass(frozen=True, slots=True)
class Answered:
    """What the book answers.

    Parameters
    ----------
    right : str
        The choice that is right.
    because : tuple of str
        What it rests on, in sentences.
    """

    right: str
    because: tuple[str, ...]


def pair_in_trial(book: Book, one: str, two: str) -> PairSaid:
    """Give two mixtures of the trial side by side, on its last count.

    Raises
    ------
    NotEnoughDataError
        If they may not be ranked.
    """
    ground = book.ground()
    trait = trial_trait(ground, TRIAL, MEADOW_GRASS)
    asked = asked_of(ground, TRIAL, trait, SideAsked(TRIAL))
    means, pairs = pairs_of(trait.plots, trait.day(), asked)
    for pair in pairs:
        if pair.names() == {one, two}:
            return pair
    least = int(value("trial.ranked_from"))
    few = [f"{plots:g} of {name}" for name, plots in zip(means.names, means.plots, strict=True)
           if plots < least]  # fmt: skip
    raise NotEnoughDataError(
        f"{one} beside {two}",
        f"{least} plots of each mixture to rank any",
        ", ".join(few) or "none",
    )


def pair_told(pair: PairSaid) -> str:
    """Say two mixtures side by side in a sentence."""
    less, more = -pair.spread.at95.low, pair.spread.at95.high
    span = f"{more:.0f} more to {less:.0f} less" if more > 0 else f"{-more:.0f} to {less:.0f}"
    return (
        f"{pair.first} has {abs(pair.difference):.0f} points less than {pair.second} ({span});"
        f" {pair.needed:.0f} are needed of a pair picked after looking: {pair.verdict.value}."
    )


def compared_told(compared: Compared) -> tuple[str, ...]:
    """Say a comparison, or why it is not made, in sentences."""
    if compared.comparison is None:
        return tuple(each.words for each in compared.refusals)
    made = compared.comparison
    return (f"{made.verdict.value.capitalize()}: {change_words(made)}.", *made.cautions)


def _way(compared: Compared, fell: str, rose: str, same: str) -> str:
    made = compared.comparison
    if made is not None and made.verdict is Verdict.AS_GOOD_AS_EQUAL:
        return same
    if made is None or made.verdict not in _TOLD:
        return CANNOT
    return fell if made.difference < 0 else rose


def _review(book: Book, zone: str) -> ZoneReview:
    return zone_review(book, zone, MEADOW_GRASS, Smallest.customary())


def _main_court(book: Book) -> Answered:
    review = _review(book, MAIN)
    words = {Year.HOLDING: "holding", Year.BETTER: "falling", Year.SLIPPING: "rising"}
    pairs = [told for pair in review.pairs for told in compared_told(pair.compared)[:1]]
    return Answered(words.get(review.word, CANNOT), (review.sentence, *pairs))


def _may(book: Book) -> Answered:
    days = compare_days(
        book, MAIN, MEADOW_GRASS, Smallest.customary(), date(2011, 5, 7), AUGUST[1]
    )  # fmt: skip
    return Answered(_way(days.compared, "all", CANNOT, CANNOT), compared_told(days.compared))


def _surround(book: Book) -> Answered:
    days = compare_days(book, SURROUND, MEADOW_GRASS, Smallest.customary(), *AUGUST)
    return Answered(_way(days.compared, "fell", "rose", "same"), compared_told(days.compared))


def _squares(book: Book) -> Answered:
    review = _review(book, SHORT)
    alone = review.pairs[-1].compared if review.pairs else None
    beside = None if review.honest is None else review.honest.compared
    right = CANNOT
    if beside is not None and _way(beside, "squares", "squares", CANNOT) != CANNOT:
        right = "squares"
    if alone is not None and _way(alone, "court", "court", CANNOT) != CANNOT:
        right = "court"
    told = [f"The court alone: {each}" for each in (compared_told(alone)[:1] if alone else ())]
    told += [
        f"Against the squares: {each}" for each in (compared_told(beside)[:1] if beside else ())
    ]
    return Answered(right, (review.sentence, *told))


def _apron(book: Book) -> Answered:
    review = _review(book, APRON)
    words = {Year.HOLDING: "holding", Year.BETTER: "better", Year.SLIPPING: "worse"}
    last = compared_told(review.pairs[-1].compared) if review.pairs else ()
    return Answered(words.get(review.word, CANNOT), (review.sentence, *last))


def _lime_walk(book: Book) -> Answered:
    review = _review(book, LIME_WALK)
    right = "shade" if "shade" in review.look_at else CANNOT
    return Answered(right, (review.sentence, review.look_at))


def _bobbin(book: Book) -> Answered:
    pair = pair_in_trial(book, "Bobbin", "Thimble")
    right = pair.first.casefold() if pair.verdict in _TOLD else CANNOT
    if pair.verdict is Verdict.AS_GOOD_AS_EQUAL:
        right = "equal"
    return Answered(right, (pair_told(pair),))


def _haystack(book: Book) -> Answered:
    pair = pair_in_trial(book, "Bobbin", "Haystack")
    beside, _ = mixtures_beside(book.ground(), TRIAL, TRIAL, book.today)
    comfort = beside["Haystack"].comfort
    if pair.verdict not in _TOLD:
        return Answered(CANNOT, (pair_told(pair),))
    told = [
        f"{part.species.capitalize()}, {part.share_by_weight:.0%} by weight, is cut"
        f" {part.below_mm:.0f} mm below the range it is comfortable in."
        for part in comfort.below
    ]
    blocks = "Every block has a plot of each, so wet ground is shared alike."
    return Answered("height" if told else "nothing", (pair_told(pair), *told, blocks))


def _bags(book: Book) -> Answered:
    found = square_up_sowing(
        book, TRIAL, "1 September 2010", ("PW-0555=550", "TC-0771=685")
    ).found  # fmt: skip
    if found.is_square:
        return Answered("agree", ("All weights agree.",))
    right = "plot" if found.mix_ups else "spill"
    return Answered(right, tuple(each.told for each in found.mix_ups))


def _counters(book: Book) -> Answered:
    day = next(
        each for each in occasions_of(book.ground(), TRIAL)
        if {INES, ODALYS} <= {place.counter for place in each.places}
    )  # fmt: skip
    found = counters_overlap(day.places, MEADOW_GRASS, Method.POINTS, INES, ODALYS)
    return Answered("whole" if found.may_correct else CANNOT, (found.words,))


def _strips(book: Book) -> Answered:
    treated = tuple(f"V{n}" for n in range(1, 6))
    rest = tuple(f"N{n}" for n in range(1, 6))
    found = compare_strips(book, MAIN, MEADOW_GRASS, Smallest.customary(), treated, rest)
    made = found.compared.comparison
    told = () if made is None else (f"{points_words(made)}: {made.verdict.value}.",)
    return Answered(_way(found.compared, "works", "not", "not"), (*told, *found.beside))


def _refills(book: Book) -> Answered:
    shares = compare_refills(book, Smallest.customary())
    made = shares.comparison
    told = (
        f"{shares.first[0]} of {shares.first[1]} {shares.first_name};"
        f" {shares.second[0]} of {shares.second[1]} {shares.second_name}.",
        f"{made.verdict.value.capitalize()}: {points_words(made)}.",
        *made.cautions,
    )
    return Answered("differ" if made.verdict in _TOLD else CANNOT, told)


def _pull(book: Book) -> Answered:
    last = pulling(book, SHORT, MEADOW_GRASS).removals[-1]
    if last.passes is None:
        return Answered(CANNOT, (last.refusal,))
    told = f"First pass {last.first}, second {last.second}: about {last.passes.left:.0f} left."
    return Answered("yes" if last.may_headline_left else "caution", (told, *last.cautions))


def _july(book: Book) -> Answered:
    sit = situation(book.ground(), MAIN, book.weather(), book.today)
    july = analyse_gaps(sit, date(2011, 7, 1), date(2011, 7, 31))
    if july.incomplete_months or not july.gaps:
        return Answered(CANNOT, (f"{july.reason[:1].upper()}{july.reason[1:]}.",))
    longest = max(gap.days for gap in july.gaps)
    outside = any(each.exposed_days > 0 for each in july.what_if[:1])
    return Answered("outside" if outside else "inside", (f"The longest gap: {longest} days.",))


ANSWERS: Mapping[str, Callable[[Book], Answered]] = {
    "main_court_year": _main_court, "may_against_august": _may, "nothing_sown": _surround,
    "untouched_squares": _squares, "six_places": _apron, "lime_walk": _lime_walk,
    "bobbin_or_thimble": _bobbin, "haystack": _haystack, "bags": _bags,
    "second_counter": _counters, "strips": _strips, "autumn_or_spring": _refills,
    "august_pull": _pull, "july_cuts": _july,
}  # fmt: skip
"""How each question is answered from the book."""
