"""Hold a sealed guess against the count that came."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from statistics import NormalDist, fmean

from swardbook.book.guesses import LEVEL, Guess, Settled
from swardbook.evidence.estimates import normal_quantile
from swardbook.evidence.scoring import (
    crps_of_normal,
    crps_of_quantiles,
    interval_score,
    place_in_quantiles,
)
from swardbook.foundation.dates import say
from swardbook.handbook.parameters import value
from swardbook.husbandry.ground import Ground
from swardbook.observations.occasions import Occasion, PlaceFigure, place_figures
from swardbook.review.records import occasions_of, treated


@dataclass(frozen=True, slots=True)
class Scores:
    """How a guess did: see `Settled`."""

    inside: bool | None
    crps: float
    interval_score: float | None
    place: float | None


def settled_by_count(ground: Ground, guess: Guess, today: date, head: str) -> Settled | str:
    """Settle a guess by the first count that fits it, or say in words what it waits for.

    A count fits if it was made after the sealing, within three weeks of the guess's day, in the
    same zone and the same way, at enough places and at least half of those that were to be
    counted again. The first that fits settles it, whenever that is asked for.

    Parameters
    ----------
    ground : Ground
        The ground as it stands.
    guess : Guess
        A guess that is not settled.
    today : date
        The day of settling.
    head : str
        Checksum of the diary's last entry.
    """
    first, last = window(guess)
    slips = []
    for occasion in occasions_of(ground, guess.zone):
        if first <= occasion.day <= min(last, today):
            figures = _figures(treated(ground, guess.zone, occasion), guess)
            slip = _slip(figures, guess)
            if not slip:
                return _settled(guess, occasion.day, figures, today, head)
            slips.append(f"{say(occasion.day)}: {slip}")
    wanted = f"a count of {guess.kind} by {guess.method} in {guess.zone}"
    between = f"between {say(first)} and {say(last)}"
    told = f"No count came: it needed {wanted} {between}." if today > last else (
        f"It waits for {wanted} {between}."
    )  # fmt: skip
    return " ".join([told, *(f"{slip}." for slip in slips)])


def window(guess: Guess) -> tuple[date, date]:
    """Give the first and last day on which a count settles a guess."""
    near = timedelta(days=round(value("compare_season_days")))
    return max(guess.day - near, guess.sealed_on + timedelta(days=1)), guess.day + near


def scores_of(guess: Guess, found: float) -> Scores:
    """Score a guess against what was found.

    Parameters
    ----------
    guess : Guess
        The guess.
    found : float
        Mean over the places. [unit of the guess]
    """
    said = guess.range80
    if guess.levels:
        crps = crps_of_quantiles(guess.levels, guess.quantiles, found)
        place = place_in_quantiles(guess.levels, guess.quantiles, found)
    elif said is not None:
        middle = (said.low + said.high) / 2
        deviation = said.half_width / normal_quantile(LEVEL)
        crps = crps_of_normal(middle, deviation, found, least=0.0)
        below = NormalDist(middle, deviation).cdf(found)
        place = below if found > 0 else below / 2
    else:
        return Scores(None, abs(found - (guess.middle or 0.0)), None, None)
    if said is None:
        return Scores(None, crps, None, place)
    return Scores(not said.excludes(found), crps, interval_score(said, found, LEVEL), place)


def _figures(occasion: Occasion, guess: Guess) -> Mapping[str, PlaceFigure]:
    """Take the places that were to be counted again; by the same counter if they were there."""
    wanted = {place.casefold() for place in guess.places}
    same = guess.counter if guess.counter in occasion.counters else ""
    found: Mapping[str, PlaceFigure] = {}
    for counter in dict.fromkeys((same, "")):
        figures = place_figures(occasion.places, guess.kind, guess.method, counter)
        found = {
            place: figure
            for place, figure in figures.items()
            if not wanted or place.casefold() in wanted
        }
        if not _slip(found, guess):
            break
    return found


def _slip(figures: Mapping[str, PlaceFigure], guess: Guess) -> str:
    if not figures:
        again = " of the places to be counted again" if guess.places else ""
        return f"none{again} counted by {guess.method}"
    least = round(value("compare_places_least"))
    if len(figures) < least:
        return f"{len(figures)} places counted, needs {least}"
    if len(figures) < value("compare_fixed_share") * len(guess.places):
        return f"{len(figures)} of {len(guess.places)} places counted again, needs half"
    return ""


def _settled(
    guess: Guess, day: date, figures: Mapping[str, PlaceFigure], today: date, head: str
) -> Settled:
    found = fmean(each.value for each in figures.values())
    made = scores_of(guess, found)
    counters = tuple(sorted({each.counter for each in figures.values() if each.counter}))
    return Settled(
        guess=guess.id,
        settled_on=today,
        counted_on=day,
        found=_short(found),
        places=len(figures),
        counters=counters,
        inside=made.inside,
        crps=_short(made.crps),
        interval_score=None if made.interval_score is None else _short(made.interval_score),
        place=None if made.place is None else _short(made.place),
        diary_head=head,
        beside=tuple(_beside(guess, len(figures), counters)),
    )


def _beside(guess: Guess, places: int, counters: tuple[str, ...]) -> Iterable[str]:
    if guess.places and places < len(guess.places):
        yield f"{places} of the {len(guess.places)} places were counted again."
    if guess.counter and counters and guess.counter not in counters:
        yield f"Counted by {' and '.join(counters)}; sealed for {guess.counter}'s counting."
    if guess.basis is not None:
        name = guess.basis.programme.get("name", "")
        yield f"Sealed for this way of working: {name}. Whether it was kept to is not looked at."


def _short(number: float) -> float:
    return float(f"{number:.6g}")
