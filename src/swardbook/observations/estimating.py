"""Estimates from one occasion: cover by points, density of plants, cover by eye."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf, sqrt
from statistics import fmean, stdev

from swardbook.evidence import (
    Estimate,
    Interval,
    density,
    places_needed,
    point_cover,
    quadrats_needed,
    t_quantile,
)
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.foundation.workings import Input, Workings
from swardbook.handbook.parameters import value
from swardbook.observations.counts import Method, PlaceCount
from swardbook.observations.occasions import PlaceFigure, methods_used, not_counted, place_figures

UNITS = {Method.POINTS: "%", Method.BY_EYE: "%", Method.PLANTS: "plants/m2"}
LEVEL = 0.95


@dataclass(frozen=True, slots=True)
class KindEstimate:
    """What one occasion says of one kind, counted one way.

    Parameters
    ----------
    kind : str
        Species key, or ``bare``, ``sown`` ...
    method : Method
        How it was counted; estimates of different methods are never mixed.
    estimate : Estimate or None
        The figure; None where there is not enough.
    refusal : str
        Why there is none.
    none_found : bool
        Whether it was looked for and not found.
    still_up_to : tuple of float
        With none found, what that still allows: for points with each point its own look, then
        with each place one look; for plants over the area looked at. [`estimate.unit`]
    looked : float
        Points, or area [m²], looked at in all.
    counters : tuple of str
        Who counted.
    not_counted : tuple of str
        Places visited where it was not counted; never taken as 0.
    places_wanted : int or None
        Places that would bring the range to the smallest change worth acting on, or a density to
        its customary relative error; None where nothing was found or there is no figure.
    """

    kind: str
    method: Method
    estimate: Estimate | None
    refusal: str
    none_found: bool
    still_up_to: tuple[float, ...]
    looked: float
    counters: tuple[str, ...]
    not_counted: tuple[str, ...]
    places_wanted: int | None = None


def estimate_kind(places: Sequence[PlaceCount], kind: str) -> tuple[KindEstimate, ...]:
    """Estimate one kind from the places of one occasion, once for each method used.

    Parameters
    ----------
    places : sequence of PlaceCount
        What was counted on the occasion.
    kind : str
        Species key, or ``bare``, ``sown`` ...

    Returns
    -------
    tuple of KindEstimate
        The method with most places first; empty if the kind was not counted.
    """
    return tuple(_estimated(places, kind, method) for method in methods_used(places, kind))


def _estimated(places: Sequence[PlaceCount], kind: str, method: Method) -> KindEstimate:
    figures = list(place_figures(places, kind, method).values())
    none_found = all(each.found == 0 for each in figures)
    looked = sum(each.looked for each in figures)
    refusal, found = "", None
    limits: tuple[float, ...] = ()
    try:
        if none_found and len(figures) < value("none_found_places_least"):
            raise NotEnoughDataError(
                f"none found of {kind}",
                f"at least {value('none_found_places_least'):g} places looked at",
                f"{len(figures)}",
            )
        found = _MAKERS[method](kind, figures)
        limits = _limits(method, figures) if none_found else ()
    except NotEnoughDataError as lack:
        refusal = str(lack)
    counters = tuple(sorted({each.counter for each in figures if each.counter}))
    absent = not_counted(places, kind)
    wanted = None if found is None or none_found else _wanted(method, figures)
    return KindEstimate(
        kind, method, found, refusal, none_found, limits, looked, counters, absent, wanted
    )


def _wanted(method: Method, figures: Sequence[PlaceFigure]) -> int:
    """Give the places that would make the figure good enough to act on."""
    if method is Method.PLANTS:
        fitted = density([each.found for each in figures], [each.looked for each in figures])
        in_a_frame = fmean(each.found for each in figures)
        return quadrats_needed(in_a_frame, fitted.clumping, value("least_relative_error"))
    spread = stdev(each.value for each in figures)
    return places_needed(spread, value("compare_cover_points"))


def _limits(method: Method, figures: Sequence[PlaceFigure]) -> tuple[float, ...]:
    if method is Method.POINTS:
        cover = point_cover([each.found for each in figures], [each.looked for each in figures])
        by_point, by_place = cover.unseen_limits(LEVEL)
        return (100 * by_point, 100 * by_place)
    if method is Method.PLANTS:
        fitted = density([each.found for each in figures], [each.looked for each in figures])
        return (fitted.interval(LEVEL).high,)
    return ()


def _cover(kind: str, figures: Sequence[PlaceFigure]) -> Estimate:
    hits, points = [each.found for each in figures], [each.looked for each in figures]
    cover = point_cover(hits, points)
    low, high = cover.interval_for_few(LEVEL)
    effect = cover.design_effect
    told = "not known, all or none hit" if effect is None else f"{effect:.2f}"
    workings = Workings(
        question=f"Cover of {kind}",
        answer=f"{100 * cover.share:.0f} % ({100 * low:.0f} to {100 * high:.0f})",
        formula=(
            "hits / points; Wilson interval on points / design effect, the effect being the "
            "variance between places over that of independent points (at least 1), widened by "
            "Student's t for few places"
        ),
        inputs=(
            Input("points hit", sum(hits), "points", source="the counts of this occasion"),
            Input("points looked at", cover.points, "points", source="the counts"),
            Input("places", cover.frames, "places", source="the counts"),
        ),
        arithmetic=(
            f"cover {sum(hits):g} / {cover.points:g} = {cover.share:.4f}",
            f"standard error between places {cover.standard_error:.4f}",
            f"design effect {told}",
            f"effective points {cover.effective_points:.1f}",
        ),
        assumptions=("Places stand for the zone: set out beforehand, not where it looked worst.",),
    )
    return Estimate(
        100 * cover.share,
        Interval(100 * low, 100 * high),
        "%",
        LEVEL,
        cover.frames,
        "points in frames; the place is the unit",
        workings,
        _too_thin(100 * cover.share),
    )


def _too_thin(percent: float) -> tuple[str, ...]:
    least = value("points_cover_least")
    if 0 < percent < least:
        return (f"Below about {least:g} % points work badly: count plants in frames instead.",)
    return ()


def _density(kind: str, figures: Sequence[PlaceFigure]) -> Estimate:
    fitted = density([each.found for each in figures], [each.looked for each in figures])
    low, high = fitted.interval(LEVEL)
    clumping = "independent" if fitted.clumping == inf else f"k = {fitted.clumping:.2f}"
    workings = Workings(
        question=f"Density of {kind}",
        answer=f"{fitted.per_m2:.3g} plants/m2 ({low:.3g} to {high:.3g})",
        formula=(
            "plants / area; range where twice the log-likelihood of the negative binomial, "
            "highest over clumping k, falls by the chi-squared quantile; exact Poisson range "
            "where counts vary no more than independent plants would"
        ),
        inputs=(
            Input("plants", sum(fitted.counts), "plants", source="the counts of this occasion"),
            Input("area", sum(fitted.areas_m2), "m2", source="the counts"),
            Input("places", fitted.frames, "places", source="the counts"),
        ),
        arithmetic=(
            f"{sum(fitted.counts):g} / {sum(fitted.areas_m2):g} m2 = {fitted.per_m2:.4g}",
            f"clumping: {clumping}",
        ),
        assumptions=("Places stand for the zone; a plant missed in a frame is not counted.",),
    )
    method = f"plants in frames; clumping {clumping}; the place is the unit"
    return Estimate(
        fitted.per_m2, Interval(low, high), "plants/m2", LEVEL, fitted.frames, method, workings
    )


def _by_eye(kind: str, figures: Sequence[PlaceFigure]) -> Estimate:
    if len(figures) < 2:
        raise NotEnoughDataError("a range of cover", "at least 2 places", str(len(figures)))
    shares = [each.value for each in figures]
    middle = fmean(shares)
    half = t_quantile(LEVEL, len(shares) - 1) * stdev(shares) / sqrt(len(shares))
    interval = Interval(max(0.0, middle - half), min(100.0, middle + half))
    workings = Workings(
        question=f"Cover of {kind} by eye",
        answer=f"{middle:.0f} % ({interval.low:.0f} to {interval.high:.0f})",
        formula="mean ± t × SD / √n over places",
        inputs=(Input("places", len(shares), "places", source="the counts of this occasion"),),
        arithmetic=(f"mean {middle:.2f}", f"SD {stdev(shares):.2f}", f"n {len(shares)}"),
        assumptions=("Seen by layers, so kinds can overlap and add up to more than 100.",),
    )
    return Estimate(
        middle, interval, "%", LEVEL, len(shares), "by eye, overlapping", workings,
        ("By eye: not mixed with points.",),
    )  # fmt: skip


_MAKERS = {Method.POINTS: _cover, Method.PLANTS: _density, Method.BY_EYE: _by_eye}
