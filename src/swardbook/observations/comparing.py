"""Two occasions compared like with like, or refused with the reason."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from math import sqrt

from swardbook.evidence import Comparison, PairedChange, paired_change, paired_log_ratio
from swardbook.foundation.dates import same_season, say
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.handbook.parameters import value
from swardbook.observations.counts import Method
from swardbook.observations.occasions import Occasion, PlaceFigure, methods_used, place_figures
from swardbook.observations.overlap import Overlap
from swardbook.observations.samples import (
    Smallest,
    difference_of_places,
    of_pairs,
    ratio_of_places,
)


class Reason(StrEnum):
    """Why two occasions are not compared."""

    DIFFERENT_SEASON = "different season"
    DIFFERENT_METHOD = "different method"
    TOO_FEW_PLACES = "too few places"
    COUNTER_CHANGED = "counter changed"
    NOT_COUNTED = "not counted"
    NOTHING_TO_TELL = "nothing to tell apart"


@dataclass(frozen=True, slots=True)
class Refusal:
    """A comparison that is not made, and why."""

    reason: Reason
    words: str


@dataclass(frozen=True, slots=True)
class Compared:
    """Two occasions compared, or refused.

    Parameters
    ----------
    kind : str
        Species key, or ``bare``, ``sown`` ...
    method : Method or None
        How both were counted; None if never alike.
    comparison : Comparison or None
        None where it is refused; then the verdict is `not enough data`.
    refusals : tuple of Refusal
        Why it is not made.
    fell, rose, unchanged : int
        How many paired places went which way.
    left_out : tuple of str
        Places not used, because they were not counted both times by the same person.
    """

    kind: str
    method: Method | None
    comparison: Comparison | None
    refusals: tuple[Refusal, ...] = ()
    fell: int = 0
    rose: int = 0
    unchanged: int = 0
    left_out: tuple[str, ...] = ()


def compare_occasions(
    before: Occasion,
    after: Occasion,
    kind: str,
    smallest: Smallest,
    overlap: Overlap | None = None,
) -> Compared:
    """Compare a kind on two occasions at the same places in the same season.

    Parameters
    ----------
    before, after : Occasion
        The two counts.
    kind : str
        Species key, or ``bare``, ``sown`` ...
    smallest : Smallest
        The smallest differences worth acting on.
    overlap : Overlap or None
        Where both counters counted the same places, if the counter changed.

    Returns
    -------
    Compared
        A comparison by place, or two separate samples where the places were not fixed; refused
        across seasons, methods, counters, and with too few places.
    """
    season = _season_refusal(before, after)
    if season is not None:
        return Compared(kind, None, None, (season,))
    ways = [m for m in methods_used(after.places, kind) if m in methods_used(before.places, kind)]
    if not ways:
        return Compared(kind, None, None, (_no_way(before, after, kind),))
    one = place_figures(before.places, kind, ways[0])
    two = place_figures(after.places, kind, ways[0])
    common = [place for place in one if place in two]
    least = int(value("compare_places_least"))
    if len(common) < value("compare_fixed_share") * min(len(one), len(two)):
        return _separate(kind, ways[0], list(one.values()), list(two.values()), smallest)
    pairs, left_out, caution, refusal = _same_counter(one, two, common, overlap)
    refusals = [] if refusal is None else [refusal]
    if len(pairs) < least:
        refusals.append(
            Refusal(
                Reason.TOO_FEW_PLACES,
                f"Needs at least {least} places counted both times; there are {len(pairs)}.",
            )
        )
    if refusals:
        return Compared(kind, ways[0], None, tuple(refusals), left_out=tuple(left_out))
    shift = overlap if caution and overlap is not None and overlap.may_correct else None
    return _paired(kind, pairs, smallest, tuple(left_out), caution, shift)


def compare_pairs(
    untreated: Sequence[PlaceFigure], treated: Sequence[PlaceFigure], kind: str, smallest: Smallest
) -> Compared:
    """Compare treated with untreated strips, pair by pair in order.

    Parameters
    ----------
    untreated, treated : sequence of PlaceFigure
        The strips; the first of each are neighbours, and so on.
    kind : str
        Species key, or ``bare``, ``sown`` ...
    smallest : Smallest
        The smallest differences worth acting on.

    Returns
    -------
    Compared
        Treated less untreated; refused below the least number of pairs.
    """
    least = int(value("compare_strips_least"))
    pairs = list(zip(untreated, treated, strict=False))
    if len(pairs) < least:
        words = f"Needs at least {least} pairs of strips; there are {len(pairs)}."
        return Compared(kind, None, None, (Refusal(Reason.TOO_FEW_PLACES, words),))
    return _paired(kind, pairs, smallest, (), "", None)


def compare_samples(
    untreated: Occasion, treated: Occasion, kind: str, smallest: Smallest
) -> Compared:
    """Compare treated ground with the honest squares on one occasion: two separate samples.

    Parameters
    ----------
    untreated, treated : Occasion
        Counted in the same days.
    kind : str
        Species key, or ``bare``, ``sown`` ...
    smallest : Smallest
        The smallest differences worth acting on.

    Returns
    -------
    Compared
        Treated against untreated; refused with too few places or another method.
    """
    ways = [
        m for m in methods_used(treated.places, kind) if m in methods_used(untreated.places, kind)
    ]
    if not ways:
        return Compared(kind, None, None, (_no_way(untreated, treated, kind),))
    one = list(place_figures(untreated.places, kind, ways[0]).values())
    two = list(place_figures(treated.places, kind, ways[0]).values())
    least = int(value("none_found_places_least"))
    return _separate(kind, ways[0], one, two, smallest, least, honest=True)


def _season_refusal(before: Occasion, after: Occasion) -> Refusal | None:
    within = int(value("compare_season_days"))
    if same_season(before.day, after.day, within):
        return None
    return Refusal(
        Reason.DIFFERENT_SEASON,
        f"Different seasons: not compared. {say(before.day)} and {say(after.day)} are more than"
        f" {within} days apart in the year.",
    )


def _no_way(before: Occasion, after: Occasion, kind: str) -> Refusal:
    if methods_used(before.places, kind) and methods_used(after.places, kind):
        return Refusal(
            Reason.DIFFERENT_METHOD, f"{kind} was counted by points once and by plants once."
            if Method.BY_EYE not in (*methods_used(before.places, kind),
                                     *methods_used(after.places, kind))
            else f"{kind} was seen by eye once: not mixed with counts.",
        )  # fmt: skip
    missing = before if not methods_used(before.places, kind) else after
    return Refusal(Reason.NOT_COUNTED, f"{kind} was not counted on {say(missing.day)}.")


def _same_counter(
    one: Mapping[str, PlaceFigure],
    two: Mapping[str, PlaceFigure],
    common: Sequence[str],
    overlap: Overlap | None,
) -> tuple[list[tuple[PlaceFigure, PlaceFigure]], list[str], str, Refusal | None]:
    """Keep pairs by one counter; with too few of them, all pairs if there is an overlap."""
    alike = [place for place in common if _one_person(one[place].counter, two[place].counter)]
    once = sorted({*one, *two} - set(common))
    if len(alike) == len(common) or len(alike) >= value("compare_places_least"):
        others = [place for place in common if place not in alike]
        return [(one[p], two[p]) for p in alike], once + others, "", None
    pairs = [(one[p], two[p]) for p in common]
    if overlap is None:
        words = "The counter changed, and no places were counted by both: a break in the record."
        return pairs, once, "", Refusal(Reason.COUNTER_CHANGED, words)
    low, high = overlap.interval
    caution = (
        f"The counter changed. {overlap.second} reads {overlap.difference:+.1f}"
        f" ({low:+.1f} to {high:+.1f}) against {overlap.first} on {overlap.n} shared places: "
    )
    return pairs, once, caution + ("put right by that." if overlap.may_correct else
                                   "not enough to put right."), None  # fmt: skip


def _one_person(one: str, two: str) -> bool:
    return one.casefold() == two.casefold() or not one or not two


def _paired(
    kind: str,
    pairs: Sequence[tuple[PlaceFigure, PlaceFigure]],
    smallest: Smallest,
    left_out: tuple[str, ...],
    caution: str,
    shift: Overlap | None,
) -> Compared:
    one, two = [a.value for a, _ in pairs], [b.value for _, b in pairs]
    method = pairs[0][0].method
    try:
        if method is Method.PLANTS and 0 in (sum(one), sum(two)):
            return _separate(kind, method, [a for a, _ in pairs], [b for _, b in pairs], smallest)
        change = paired_log_ratio(one, two) if method is Method.PLANTS else paired_change(one, two)
        if change.standard_error == 0:
            raise NotEnoughDataError(
                "a change", "places that differ", "the same change at every place"
            )
    except NotEnoughDataError as lack:
        return Compared(kind, method, None, (Refusal(Reason.NOTHING_TO_TELL, str(lack)),))
    if shift is not None and method is not Method.PLANTS:
        change = _put_right(change, shift)
    made = of_pairs(kind, change, one, two, method, smallest, caution)
    return Compared(kind, method, made, (), change.fell, change.rose, change.unchanged, left_out)


def _put_right(change: PairedChange, overlap: Overlap) -> PairedChange:
    return PairedChange(
        change.mean - overlap.difference,
        sqrt(change.standard_error**2 + overlap.standard_error**2),
        change.n,
        change.fell,
        change.rose,
        change.unchanged,
    )


def _separate(
    kind: str,
    method: Method,
    one: Sequence[PlaceFigure],
    two: Sequence[PlaceFigure],
    smallest: Smallest,
    least: int | None = None,
    honest: bool = False,
) -> Compared:
    """Compare two separate samples: honest squares, or places that were not fixed."""
    needed = int(value("compare_places_least")) if least is None else least
    fewest = min(len(one), len(two))
    if fewest < needed:
        words = f"Needs at least {needed} places in each sample; there are {fewest}."
        return Compared(kind, method, None, (Refusal(Reason.TOO_FEW_PLACES, words),))
    try:
        made = (
            ratio_of_places(kind, one, two, smallest)
            if method is Method.PLANTS
            else difference_of_places(kind, one, two, smallest)
        )
    except NotEnoughDataError as lack:
        return Compared(kind, method, None, (Refusal(Reason.NOTHING_TO_TELL, str(lack)),))
    if not honest:
        told = "The places were not the same both times: two separate samples."
        made = replace(made, cautions=(*made.cautions, told))
    return Compared(kind, method, made)
