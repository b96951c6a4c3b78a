"""What is wrong: likely causes in order, from signs and weather, with the check that parts them.

A cause is weighed by how common it is in a first year, by each sign seen or looked for in vain, and
by weather, season and stage. What is not known of the weather weighs nothing. Something that is not
listed always stays possible. No product is named.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import log2

from swardbook.evidence.counts import poisson_exact
from swardbook.foundation.errors import BadInputError
from swardbook.foundation.provenance import Sourced
from swardbook.foundation.quantities import require
from swardbook.handbook.parameters import parameter, value
from swardbook.handbook.troubles import Trouble, find_sign, signs, telling_signs, troubles
from swardbook.planning.situation import Situation
from swardbook.planning.states import State
from swardbook.planning.trouble_weather import Fits, fits

LIKELY, POSSIBLE, UNLIKELY, DONT_KNOW = "likely", "possible", "unlikely", "don't know"
OTHER = "other"
GRUBS = {"leatherjackets": "trouble.leatherjackets_m2", "chafers": "trouble.chafers_m2"}
"""Grubs that are counted, with the row of the number from which they matter."""


@dataclass(frozen=True, slots=True)
class Signs:
    """Signs looked for.

    Parameters
    ----------
    seen, not_seen : tuple of str
        Signs that are there, and those looked for in vain.
    """

    seen: tuple[str, ...] = ()
    not_seen: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Cause:
    """One thing it may be.

    Parameters
    ----------
    trouble : Trouble
        What it is.
    share : float
        How likely it is among all, by signs and weather. [-]
    likelihood : str
        ``likely``, ``possible``, ``unlikely``, or ``don't know``.
    speaks_for : tuple of str
        Signs seen that belong to it.
    weather : tuple of Fits
        Each thing it wants of weather, season and stage, with its state.
    favours : tuple of Fits
        What makes it likelier, with its state.
    """

    trouble: Trouble
    share: float
    likelihood: str
    speaks_for: tuple[str, ...]
    weather: tuple[Fits, ...]
    favours: tuple[Fits, ...]


@dataclass(frozen=True, slots=True)
class Diagnosis:
    """What may be wrong in a zone.

    Parameters
    ----------
    signs : Signs
        What was seen.
    causes : tuple of Cause
        The likeliest first.
    other_share : float
        How likely it is something that is not listed. [-]
    next_sign : str
        The sign that would tell most; empty where none would tell enough.
    sentence : str
        The answer in one sentence.
    """

    signs: Signs
    causes: tuple[Cause, ...]
    other_share: float
    next_sign: str
    sentence: str


@dataclass(frozen=True, slots=True)
class Grubs:
    """A count of grubs against the number from which they matter.

    Parameters
    ----------
    kind : str
        ``leatherjackets`` or ``chafers``.
    per_m2, low, high : float
        Density with its 95 % interval. [grubs m⁻²]
    threshold : Sourced
        From how many they matter in poor turf. [grubs m⁻²]
    verdict : str
        ``below it``, ``above it`` or ``too close to call``.
    """

    kind: str
    per_m2: float
    low: float
    high: float
    threshold: Sourced
    verdict: str


def read_signs(seen: Iterable[str], not_seen: Iterable[str] = ()) -> Signs:
    """Read signs as typed.

    Raises
    ------
    UnknownNameError
        If there is no such sign; offers the nearest.
    BadInputError
        If one is both seen and not seen.
    """
    here = tuple(dict.fromkeys(find_sign(each) for each in seen))
    gone = tuple(dict.fromkeys(find_sign(each) for each in not_seen))
    if both := set(here) & set(gone):
        raise BadInputError("a sign", sorted(both)[0], "seen or not seen, not both")
    return Signs(here, gone)


def diagnose(sit: Situation, looked: Signs) -> Diagnosis:
    """Order what may be wrong in a zone by signs and weather.

    Parameters
    ----------
    sit : Situation
        The zone today.
    looked : Signs
        Signs seen, and those looked for in vain.
    """
    weather = {key: tuple(fits(sit, name) for name in each.weather)
               for key, each in troubles().items()}  # fmt: skip
    favours = {key: tuple(fits(sit, name) for name in each.favours)
               for key, each in troubles().items()}  # fmt: skip
    found = _shares(weather, favours, looked)
    order = sorted(troubles(), key=lambda key: (-found[key], key))[: int(value("trouble.few"))]
    causes = tuple(
        Cause(
            troubles()[key], found[key], _likelihood(found[key], weather[key], looked),
            tuple(each for each in looked.seen if each in _all_signs(troubles()[key])),
            weather[key],
            favours[key],
        )
        for key in order
    )  # fmt: skip
    return Diagnosis(
        looked, causes, found[OTHER], _next_sign(found, looked),
        _sentence(causes, found[OTHER], looked),
    )  # fmt: skip


def count_grubs(kind: str, found: int, squares: int, side_mm: float) -> Grubs:
    """Set a count of grubs against the number from which they matter.

    Parameters
    ----------
    kind : str
        ``leatherjackets`` or ``chafers``.
    found : int
        Grubs in all squares together.
    squares : int
        Squares cut.
    side_mm : float
        Side of a square. [mm]

    Raises
    ------
    BadInputError
        If the kind is neither, or a number is out of reach.
    """
    if kind not in GRUBS:
        raise BadInputError("the grubs", kind, " or ".join(GRUBS))
    if squares < 1 or found < 0:
        raise BadInputError("the count", (found, squares), "0 or more grubs in 1 or more squares")
    require("side of a square", side_mm, 50, 1000, "mm", "15 cm is 150 mm.")
    area = squares * (side_mm / 1000) ** 2
    require("grubs in a square metre", found / area, 0, 10_000, "m-2", "In all squares together.")
    interval = poisson_exact(found)
    low, high = interval.low / area, interval.high / area
    threshold = parameter(GRUBS[kind])
    verdict = "too close to call"
    if high < threshold.low:
        verdict = "below it"
    elif low > threshold.high:
        verdict = "above it"
    return Grubs(kind, found / area, low, high, threshold, verdict)


def _all_signs(trouble: Trouble) -> tuple[str, ...]:
    return (*trouble.usual, *trouble.sometimes)


def _chance(key: str, sign: str) -> float:
    """Give how likely a sign is seen where a trouble is [-]."""
    trouble = troubles().get(key)
    if trouble is not None and sign in trouble.usual:
        return value("trouble.sign_usual")
    if trouble is not None and sign in trouble.sometimes:
        return value("trouble.sign_sometimes")
    if sign in telling_signs():
        return value("trouble.sign_telling_else")
    return value("trouble.sign_other" if trouble is None else "trouble.sign_else")


def _shares(
    weather: Mapping[str, tuple[Fits, ...]], favours: Mapping[str, tuple[Fits, ...]], looked: Signs
) -> dict[str, float]:
    weights = {}
    for key in (*troubles(), OTHER):
        weight = parameter(f"trouble.weight.{key}").value
        for sign in sorted(looked.seen):
            weight *= _chance(key, sign)
        for sign in sorted(looked.not_seen):
            weight *= 1 - _chance(key, sign)
        helped = sum(each.state is State.MET for each in favours.get(key, ()))
        weights[key] = weight * _factor(weather.get(key, ())) * value("trouble.favours") ** helped
    whole = sum(weights.values())
    return {key: weight / whole for key, weight in weights.items()}


def _factor(weather: tuple[Fits, ...]) -> float:
    states = [each.state for each in weather]
    if State.NOT_MET in states:
        return value("trouble.against")
    if not states or State.UNKNOWN in states:
        return 1.0
    return value("trouble.fits")


def _likelihood(share: float, weather: tuple[Fits, ...], looked: Signs) -> str:
    is_known = all(each.state is not State.UNKNOWN for each in weather)
    if not looked.seen and not is_known:
        return DONT_KNOW
    if share >= value("trouble.likely") and is_known:
        return LIKELY
    return POSSIBLE if share >= value("trouble.possible") else UNLIKELY


def _next_sign(found: Mapping[str, float], looked: Signs) -> str:
    best, most = "", value("trouble.least_gain")
    for sign in signs():
        if sign in looked.seen or sign in looked.not_seen:
            continue
        gain = _gain(found, sign)
        if gain > most:
            best, most = sign, gain
    return best


def _gain(found: Mapping[str, float], sign: str) -> float:
    chances = {key: _chance(key, sign) for key in found}
    seen = sum(share * chances[key] for key, share in found.items())
    within = sum(share * _bits(chances[key]) for key, share in found.items())
    return _bits(seen) - within


def _bits(chance: float) -> float:
    return -chance * log2(chance) - (1 - chance) * log2(1 - chance)


def _sentence(causes: tuple[Cause, ...], other: float, looked: Signs) -> str:
    first = causes[0]
    if not looked.seen:
        return (
            "No sign was said, so weather and season alone speak:"
            f" {first.trouble.english} first, likelihood {first.likelihood}."
        )
    if other > first.share:
        return (
            "No listed cause fits well; it may be something else."
            f" {first.trouble.english[0].upper()}{first.trouble.english[1:]} fits best,"
            f" likelihood {first.likelihood}."
        )
    return f"{first.trouble.english[0].upper()}{first.trouble.english[1:]}: {first.likelihood}."
