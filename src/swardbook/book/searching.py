"""The best programme for the hours there are in a zone, and the curve of hours against weed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from swardbook.book.compiled import kernel_of
from swardbook.book.forecast import courses_told
from swardbook.book.kept_learning import learner_of
from swardbook.book.look_ahead import FULL, GENERAL, LEARNED, Asked, chance_of, question_of
from swardbook.book.opening import Book
from swardbook.book.programmes import place_of
from swardbook.book.trial_learning import learned_for
from swardbook.foundation.dates import month_here
from swardbook.foundation.errors import BadInputError, NotEnoughDataError
from swardbook.model.compiling import Kernel
from swardbook.model.costs import season_weeks
from swardbook.model.growing import grower
from swardbook.model.kernel_text import LANES
from swardbook.model.look_ahead import Question, stand_tonight
from swardbook.model.never import Place
from swardbook.model.past import Learn, live_through
from swardbook.model.prospects import Contrast, Range, contrast
from swardbook.model.search import Curve, Point, Tried, choices, judge_of, search

DRAWS = 1024
"""Draws of a search: 16 blocks, so that every course of the weather ahead is met."""
Tell = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class ZoneSearch:
    """What a search for a programme came to.

    Parameters
    ----------
    zone : str
        Name of the zone.
    label : str
        What it rests on.
    draws : int
        How many draws.
    by_plants : bool
        Whether weed grass is told in plants; else in cover.
    hours : float or None
        The hours a week that were asked about; None where none are known. [h]
    curve : Curve
        Hours against what is left.
    asked : Point or None
        The best within those hours; None where they suffice for nothing.
    recorded : Range or None
        What the way recorded so far leaves; None where too little is recorded. [m⁻² or %]
    recorded_hours : float or None
        Hours a week that it takes. [h]
    against_recorded : Contrast or None
        The best against the way recorded.
    tolerance : float
        Annual meadow-grass that is fine there, share of ground. [-]
    notes : tuple of str
        What the zone says of its own height of cut and of what is assumed.
    by_month : str
        The month of the autumn that it looks to.
    """

    zone: str
    label: str
    draws: int
    by_plants: bool
    hours: float | None
    curve: Curve
    asked: Point | None
    recorded: Range | None
    recorded_hours: float | None
    against_recorded: Contrast | None
    tolerance: float
    notes: tuple[str, ...]
    by_month: str = "October"


def search_programme(
    book: Book, zone: str, hours: float | None = None, draws: int = DRAWS,
    tell: Tell = lambda _: None,
) -> ZoneSearch:  # fmt: skip
    """Search for the programme that leaves least weed grass within the hours there are.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        Name of the zone.
    hours : float, optional
        Hours a week for this zone; the site's if not given. [h]
    draws : int
        How many draws, a multiple of 64.
    tell : callable
        Told in words what is being worked on.

    Raises
    ------
    NotEnoughDataError
        If there is no weather, or no one mixture.
    BadInputError
        If the draws are no multiple of 64, or the hours are not above 0.
    """
    if draws < LANES or draws % LANES:
        raise BadInputError("the draws", draws, f"a multiple of {LANES}", f"Try {DRAWS}.")
    if hours is not None and not 0 < hours <= 168:
        raise BadInputError("--hours", hours, "hours a week, above 0")
    ground, weather = book.ground(), book.all_weather()
    ground.zone(zone)
    if weather is None:
        raise NotEnoughDataError("a search", "daily weather of the site", "none")
    kernel = kernel_of(book.settings, tell)
    trial = learned_for(book, ground.zone(zone), kernel, tell)
    asked = Asked(ground, weather, book.today, draws, trial=trial, told=courses_told(book))
    learn, threads = learner_of(book.settings), book.settings.threads
    return zone_search(asked, zone, kernel, hours, threads=threads, tell=tell, learn=learn)


def zone_search(
    asked: Asked, zone: str, kernel: Kernel, hours: float | None = None, *, threads: int = 1,
    tell: Tell = lambda _: None, learn: Learn = live_through,
) -> ZoneSearch:  # fmt: skip
    """Search for one zone of a ground; see `search_programme`."""
    question, missing = question_of(asked, zone)
    grow, chance = grower(kernel, threads), chance_of(asked.ground, question.story.zone)
    tell("growing the zone from its start to today")
    known = learn(question.story, asked.draws, chance, grow)
    general = bool(known.learned.refusal) or not known.learned.weighings
    if known.learned.refusal:
        blind = replace(question.story, seen=())
        known = learn(blind, asked.draws, chance, grow)
    tonight = stand_tonight(question, known, chance)
    judge = judge_of(tonight.ahead, grow, by_plants=question.by_plants, weeks=season_weeks())
    place = place_of(asked.ground, zone)
    there = hours or asked.ground.site.weekly_hours
    steps = [*choices()["hours"], *([there] if there else [])]
    # The hours are what the curve is drawn over, so the site's do not fence it.
    free = replace(place, weekly_hours=None)
    curve = search(free, judge, steps, by_plants=question.by_plants, tell=tell)
    first = question.plans[0]
    recorded = judge([first])[0] if first.key == "as_recorded" else None
    label = GENERAL if general else (LEARNED if missing else FULL)
    return _told(question, place, label, there, curve, recorded)


def _told(
    question: Question, place: Place, label: str, there: float | None, curve: Curve,
    recorded: Tried | None,
) -> ZoneSearch:  # fmt: skip
    by_plants = question.by_plants
    best = curve.at(there) if there else None
    against = None
    if recorded is not None and best is not None:
        against = contrast(
            "best", best.best.weed, "as_recorded", recorded.weed, is_density=by_plants
        )
    return ZoneSearch(
        zone=place.zone.name,
        label=label,
        draws=question.draws,
        by_plants=by_plants,
        hours=there,
        curve=curve,
        asked=best,
        recorded=recorded.left(by_plants=by_plants) if recorded else None,
        recorded_hours=recorded.hours_week if recorded else None,
        against_recorded=against,
        tolerance=place.zone.tolerance.annual_meadow_grass,
        notes=(*_low(place), *question.story.assumed),
        by_month=month_here(10, question.story.latitude),
    )


def _low(place: Place) -> list[str]:
    height = place.zone.height_of_cut_mm
    return [
        f"{kind} likes {least:g} mm and more; this zone is cut at {height:g} mm"
        for kind, least in place.comfort
        if height < least
    ]
