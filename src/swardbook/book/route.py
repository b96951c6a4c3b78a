"""Mend or start again, for a zone of the book: what each route takes, and which is advised."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from swardbook.book.opening import Book
from swardbook.book.plan import situations
from swardbook.book.survey_facts import SHADE, at_place
from swardbook.book.survey_known import drainage_by_place, thatch_of
from swardbook.book.worked_out import Answer, last_answer
from swardbook.foundation.dates import say
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.handbook.cautions import Caution, cautions
from swardbook.handbook.parameters import value
from swardbook.husbandry.ground import Ground, Zone
from swardbook.husbandry.happenings import Closure, Scarify, Seedlings, Strip
from swardbook.planning.kinds import is_annual_meadow_grass
from swardbook.planning.routes import Band, Route, RouteCost, band_of, route_costs
from swardbook.planning.sowing import ComponentAnswer, sowing_answer
from swardbook.review.keepers import Keepers, grass_worth_keeping

ABOUT = "route"
QUESTION = "which route"
_NOUNS = {
    Route.OVERSOW: "oversowing", Route.RENOVATE: "a hard renovation",
    Route.START_AGAIN: "starting again",
}  # fmt: skip
_CAUTIONS = ("thrown", "vibration", "noise", "dust", "services", "lift", "treatments")


@dataclass(frozen=True, slots=True)
class Fault:
    """A fault of the ground that comes before any route.

    Parameters
    ----------
    what : str
        ``drainage``, ``thatch`` or ``light``.
    words : str
        What was measured, and what to do about it.
    """

    what: str
    words: str


@dataclass(frozen=True, slots=True)
class OutOfUse:
    """How long a zone of the book was closed to play for such work; winters count."""

    zone: str
    first: date
    weeks: float
    reason: str


@dataclass(frozen=True, slots=True)
class RouteAnswer:
    """Three routes for a zone, with one advised or the reason why none is.

    Parameters
    ----------
    zone : Zone
        The zone.
    costs : tuple of RouteCost
        What each route takes.
    keepers : Keepers or None
        Grass worth keeping, if it was counted.
    creeping : bool
        Whether creeping perennials stand throughout.
    band : Band or None
        What the count speaks for.
    faults : tuple of Fault
        What comes first.
    advised : Route or None
        The route; None where it is withheld.
    lack : NotEnoughDataError or None
        What is missing for an advice.
    sentence : str
        The answer with its reason.
    closures : tuple of OutOfUse
        How long zones of this book were closed before.
    weekly_hours : float or None
        Hours of work there are in a week. [h]
    currency : str
        What money is in.
    cautions : tuple of Caution
        For the work of these routes.
    """

    zone: Zone
    costs: tuple[RouteCost, ...]
    keepers: Keepers | None
    creeping: bool
    band: Band | None
    faults: tuple[Fault, ...]
    advised: Route | None
    lack: NotEnoughDataError | None
    sentence: str
    closures: tuple[OutOfUse, ...]
    weekly_hours: float | None
    currency: str
    cautions: tuple[Caution, ...]

    @property
    def verdict(self) -> str:
        """The route that is advised, or that none is, with the reason."""
        if self.advised is None:
            lack = self.lack or NotEnoughDataError(
                QUESTION, "a count of grass worth keeping", "none"
            )
            return f"No route is advised yet: it needs {lack.needed}. There is {lack.found}."
        first = [each.what for each in self.faults]
        after = f", once {' and '.join(first)} {'is' if len(first) == 1 else 'are'} put right"
        told = _NOUNS[self.advised]
        return f"{told[0].upper()}{told[1:]} is advised{after if first else ''}."


def route_answer(book: Book, zone: str, *, creeping: bool | None = None) -> RouteAnswer:
    """Weigh the three routes for a zone.

    Without a count of grass worth keeping, a ring test and thatch cores that still speak for the
    ground, what each route takes is told and no route is advised.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        The zone by name.
    creeping : bool, optional
        Whether creeping perennials stand throughout; by the count if not said.
    """
    ground = book.ground()
    found = ground.zone(zone)
    keepers, lacks = _keepers(ground, found, book.today)
    faults, missing = _faults(ground, found, book.today)
    lacks += missing
    throughout = creeping
    if throughout is None:
        throughout = keepers is not None and keepers.creeping_share >= value(
            "route_creeping_throughout"
        )
    band = band_of(keepers.estimate, creeping=throughout) if keepers else None
    lack = None
    if lacks:
        lack = _lack_of(lacks)
    advised = band.route if band is not None and lack is None else None
    answer = RouteAnswer(
        found, route_costs(ground, found), keepers, throughout, band, faults, advised, lack, "",
        _closures(ground, book.today), ground.site.weekly_hours, ground.site.currency,
        tuple(cautions()[key] for key in _CAUTIONS),
    )  # fmt: skip
    return replace(answer, sentence=_sentence(answer))


def route_as_answer(found: RouteAnswer) -> Answer:
    """Give what the diary keeps of an answer.

    Raises
    ------
    NotEnoughDataError
        If no route is advised: there is nothing to keep.
    """
    if found.advised is None:
        raise found.lack or NotEnoughDataError(QUESTION, "a count of grass worth keeping", "none")
    cost = next(each for each in found.costs if each.route is found.advised)
    assert found.keepers is not None
    numbers = {
        "grass_worth_keeping_percent": found.keepers.estimate.value,
        "hours": cost.hours.middle, "hours_low": cost.hours.low, "hours_high": cost.hours.high,
        "money": cost.money.middle, "money_low": cost.money.low, "money_high": cost.money.high,
        "weeks_out_of_use": cost.weeks.middle,
    }  # fmt: skip
    named = {"route": found.advised.value, "first": ", ".join(each.what for each in found.faults)}
    return Answer(ABOUT, found.sentence, {}, numbers, named)


def _lack_of(lacks: Sequence[tuple[str, str]]) -> NotEnoughDataError:
    """Put what is missing into one refusal; what is there stands with what it falls short of."""
    needed = "; ".join(
        f"{need} (there is {there})" if there != "none" else need for need, there in lacks
    )
    return NotEnoughDataError(QUESTION, needed, "none of it yet" if len(lacks) > 1 else lacks[0][1])


def _keepers(
    ground: Ground, zone: Zone, today: date
) -> tuple[Keepers | None, list[tuple[str, str]]]:
    try:
        return grass_worth_keeping(ground, zone.name, today), []
    except NotEnoughDataError as lack:
        return None, [(lack.needed, lack.found)]


def _faults(
    ground: Ground, zone: Zone, today: date
) -> tuple[tuple[Fault, ...], list[tuple[str, str]]]:
    faults, lacks = [], []
    places = drainage_by_place(ground, zone.name, today)
    if not places:
        lacks.append(("a ring test since the ground was worked", "none"))
    for place, rings in places.items():
        if rings.middle < value("drains_slowly"):
            few = "" if rings.is_enough else ", few rings: do three before calling it the cause"
            faults.append(Fault(
                "drainage",
                f"it drains {rings.word}{at_place(place)} ({rings.slowest:.0f} to"
                f" {rings.fastest:.0f} mm/h{few}): relieve it first, and test again",
            ))  # fmt: skip
            break
    thatch = thatch_of(ground, zone.name, today)
    if thatch is None:
        lacks.append(("thatch cores since it was last scarified", "none"))
    elif thatch[0] > value("thatch_act"):
        faults.append(Fault("thatch", f"thatch is {thatch[0]:.0f} mm: take it out first"))
    kept = last_answer(ground, SHADE, zone.name)
    dark = [] if kept is None else [
        season for season, word in kept.answer.named.items() if word.startswith("too dark")
    ]  # fmt: skip
    if dark:
        faults.append(Fault(
            "light", f"it is too dark for lawn grass in {' and '.join(dark)}: no seed mends that"
        ))  # fmt: skip
    return tuple(faults), lacks


def _sentence(found: RouteAnswer) -> str:
    told = ""
    if found.keepers is not None and found.band is not None:
        share = found.keepers.estimate
        comma = "," if found.band.doubt.startswith("on the edge") else ""
        told = (
            f"Grass worth keeping {share.value:.0f} % ({share.interval.low:.0f} to"
            f" {share.interval.high:.0f}), counted {say(found.keepers.day)}: "
        )
        told += (
            "creeping perennials stand throughout, so starting again"
            if found.creeping else f"{found.band.doubt}{comma} {_band_words(found)}"
        )  # fmt: skip
    if found.faults:
        after = "Put that right first, or any route fails the same way"
        faults = "; ".join(each.words for each in found.faults)
        told += f". But {faults}. {after}" if told else f"First: {faults}. {after}"
    if found.lack is not None:
        told += f"{'. ' if told else ''}No route is advised yet"
    return f"{told}."


def _band_words(found: RouteAnswer) -> str:
    assert found.band is not None
    so = "so" if found.lack is None else "which alone would speak for"
    upper, lower = (100 * value(f"route_{end}_from") for end in ("oversow", "renovate"))
    lies = {
        Route.OVERSOW: f"over about {upper:.0f}",
        Route.RENOVATE: f"between about {lower:.0f} and {upper:.0f}",
        Route.START_AGAIN: f"under about {lower:.0f}",
    }
    return f"{lies[found.band.route]}, {so} {_NOUNS[found.band.route]}"


def _closures(ground: Ground, today: date) -> tuple[OutOfUse, ...]:
    found = []
    for entry in ground.diary:
        what = entry.what
        if not isinstance(what, Closure) or what.what != "play" or what.until is None:
            continue
        began = any(
            isinstance(other.what, (Strip, Scarify))
            and other.zone.casefold() == entry.zone.casefold()
            and abs((other.day - entry.day).days) <= value("route_closure_days")
            for other in ground.diary
        )
        if began and what.until <= today:
            weeks = (what.until - entry.day).days / 7
            found.append(OutOfUse(entry.zone, entry.day, weeks, what.reason))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class StaleSeedbed:
    """Flushes of weed seedlings let up on bare ground, and what another would cost.

    Parameters
    ----------
    zone : str
        Name of the zone.
    bare_since : date
        Day the ground was opened.
    flushes : tuple of tuple
        Day and seedlings of each flush seen. [plants m⁻²]
    another_until : date
        About when another flush would be up.
    components : tuple of ComponentAnswer
        Last sowing dates by component of the lot; empty without a lot.
    too_late : tuple of str
        Components whose last date comes before another flush is up.
    """

    zone: str
    bare_since: date
    flushes: tuple[tuple[date, float], ...]
    another_until: date
    components: tuple[ComponentAnswer, ...]
    too_late: tuple[str, ...]


def stale_seedbed(book: Book, zone: str, lot: str = "") -> StaleSeedbed:
    """Look at the flushes on a stale seedbed, and whether there is time for another.

    No ratio is carried forward: a flush in August says nothing of September's.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        The zone by name.
    lot : str
        The lot to be sown, for the last dates of its components.

    Raises
    ------
    NotEnoughDataError
        If the ground was not opened within the season, or no flush was counted since.
    """
    sit = situations(book, zone)[0]
    within = value("stale_opened_days")
    opened = [
        *(each.day for each in sit.happened(Strip, within)),
        *(each.day for each in sit.happened(Scarify, within)),
    ]
    if not opened:
        raise NotEnoughDataError(
            "a stale seedbed", "ground stripped or scarified within four months", "none"
        )
    since = max(opened)
    flushes = tuple(
        (each.day, each.what.per_m2)
        for each in sit.happened(Seedlings)
        if each.day >= since and each.what.per_m2 is not None
        and is_annual_meadow_grass(each.what.species)
    )  # fmt: skip
    if not flushes:
        raise NotEnoughDataError(
            "a stale seedbed", "annual meadow-grass seedlings counted in small frames"
            f" since {say(since)}", "none",
        )  # fmt: skip
    up = date.fromordinal(book.today.toordinal() + round(value("stale_flush_days")))
    parts = sowing_answer(sit, book.ground().lot(lot)).components if lot else ()
    late = tuple(each.species for each in parts if each.last_day is not None and each.last_day < up)
    return StaleSeedbed(sit.zone.name, since, flushes, up, tuple(parts), late)
