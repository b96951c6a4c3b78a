"""What a task of the week is worth: the change in the look-ahead if it is skipped."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from swardbook.book.compiled import kernel_of
from swardbook.book.kept_worth import kept_worths
from swardbook.book.look_ahead import Asked, chance_of, question_of
from swardbook.book.opening import Book
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.model.growing import Grow, grower
from swardbook.model.look_ahead import Tonight, stand_tonight
from swardbook.model.past import live_through
from swardbook.model.programmes import Programme
from swardbook.model.worth import SkippedWorth, skipped_worth
from swardbook.planning.situation import Situation
from swardbook.planning.tasks import NOT_WORKED_OUT, Worth, WorthOf

DRAWS = 256
"""Draws for the worth of a task: it says more or less, not how much to the seed."""
GENERAL = "general knowledge only"
Zone = tuple[Tonight, Programme, bool]


_MINUTES = Worth("nothing to compare: a look costs minutes")
_NOT_WEIGHED = "nothing to compare: the look-ahead does not weigh it"
_WORDS: Mapping[str, Worth] = {
    **dict.fromkeys(
        ("heads", "tug", "tufts", "refills", "clumps", "seedlings", "disease"), _MINUTES
    ),
    "water": Worth(f"{_NOT_WEIGHED}; seedlings that dry out do not come back"),
    "sow": Worth(f"{_NOT_WEIGHED}; bare ground goes to the nearest seed"),
    "oversow": Worth(f"{_NOT_WEIGHED}; bare ground goes to the nearest seed"),
    "brush": Worth(f"{_NOT_WEIGHED}; leaves smother seedlings in days"),
    "dig clumps": Worth(
        "nothing to compare: the look-ahead follows annual meadow-grass; a clump left widens"
    ),
}
"""What is said of jobs that the model has no equation for."""


def worth_of(
    book: Book, draws: int = DRAWS, tell: Callable[[str], None] = lambda _: None
) -> WorthOf:
    """Give the function that says what skipping a job in a zone would change.

    What was worked out before from the very same book is read from the cache.

    Parameters
    ----------
    book : Book
        The opened book.
    draws : int
        Draws, a multiple of 64.
    tell : callable
        Told in words what is being worked on.

    Returns
    -------
    callable
        Takes a situation and a job; each zone is grown to today once, when first asked for.
    """
    kept = kept_worths(book, draws)
    stood: dict[str, Zone | str] = {}

    def work(sit: Situation, job: str) -> Worth:
        name = sit.zone.name
        grow = grower(kernel_of(book.settings, tell), book.settings.threads)
        if name not in stood:
            tell(f"what the week is worth in {name}")
            stood[name] = _stand(book, name, draws, grow)
        found = stood[name]
        if isinstance(found, str):
            return Worth(f"{NOT_WORKED_OUT.words}; {found}")
        tonight, plan, general = found
        skipped = skipped_worth(tonight.ahead, plan, job, grow, sit.site.weekly_hours or 0.0)
        return Worth(_NOT_WEIGHED) if skipped is None else worth_words(skipped, name, general)

    def worth(sit: Situation, job: str) -> Worth:
        if job in _WORDS:
            return _WORDS[job]
        if sit.weather is None:
            return Worth(f"{NOT_WORKED_OUT.words}; no weather")
        found = kept.find(sit.zone.name, job)
        if found is None:
            found = work(sit, job)
            kept.keep(sit.zone.name, job, found)
        return found

    return worth


def _stand(book: Book, zone: str, draws: int, grow: Grow) -> Zone | str:
    """Grow a zone to today; in words why not, where the book holds too little for it."""
    ground, weather = book.ground(), book.weather()
    if weather is None:
        return "no weather"
    try:
        question, _ = question_of(Asked(ground, weather, book.today, draws), zone)
        chance = chance_of(ground, ground.zone(zone))
        known = live_through(question.story, draws, chance, grow)
        general = bool(known.learned.refusal) or not known.learned.weighings
        if known.learned.refusal:
            blind = replace(question.story, seen=())
            known = live_through(blind, draws, chance, grow)
        return stand_tonight(question, known, chance), question.plans[0], general
    except NotEnoughDataError as short:
        return f"needs {short.needed}"


def worth_words(skipped: SkippedWorth, zone: str, is_general: bool) -> Worth:
    """Say what skipping a job changes by next October, with the range of four in five.

    Parameters
    ----------
    skipped : SkippedWorth
        The change, on the same draws and weather.
    zone : str
        Name of the zone.
    is_general : bool
        Whether no count of the zone stands behind it.
    """
    seed, cover = skipped.seed_m2, skipped.cover_points
    low, high = seed.at80.low, seed.at80.high
    label = f"; {GENERAL}" if is_general else ""
    if round(low) == round(high) == 0:
        told = f"skipping it in {zone} changes nothing that shows by October"
    else:
        told = f"skipping it in {zone} leaves {_more(low, high)} seeds a m² by October"
        if round(cover.at80.low, 1) or round(cover.at80.high, 1):
            told += f" and {cover.at80.low:+.1f} to {cover.at80.high:+.1f} points of cover"
        told += " (four draws in five)"
    numbers = (float(seed.median), float(low), float(high))
    return Worth(f"{told}{label}", *numbers, "seeds m⁻²")


def _more(low: float, high: float) -> str:
    least, most = round(low), round(high)
    if least >= 0:
        return f"{least} to {most} more"
    if most <= 0:
        return f"{-most} to {-least} fewer"
    return f"from {-least} fewer to {most} more"
