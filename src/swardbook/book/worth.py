"""What a task of the week is worth: the change in the look-ahead if it is skipped."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from swardbook.book.look_ahead import Asked, chance_of, question_of
from swardbook.book.opening import Book
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.model.compiling import load_kernel
from swardbook.model.growing import grower
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


def worth_of(
    book: Book, draws: int = DRAWS, tell: Callable[[str], None] = lambda _: None
) -> WorthOf:
    """Give the function that says what skipping a job in a zone would change.

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
    grow = grower(load_kernel(book.settings.cache, tell), book.settings.threads)
    stood: dict[str, Zone | str] = {}

    def stand(zone: str) -> Zone | str:
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

    def worth(sit: Situation, job: str) -> Worth:
        name = sit.zone.name
        if name not in stood:
            tell(f"what the week is worth in {name}")
            stood[name] = stand(name)
        found = stood[name]
        if isinstance(found, str):
            return Worth(f"{NOT_WORKED_OUT.words}; {found}")
        tonight, plan, general = found
        skipped = skipped_worth(tonight.ahead, plan, job, grow, sit.site.weekly_hours or 0.0)
        return NOT_WORKED_OUT if skipped is None else worth_words(skipped, name, general)

    return worth


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
    return Worth(f"{told}{label}", seed.median, low, high, "seeds m⁻²")


def _more(low: float, high: float) -> str:
    least, most = round(low), round(high)
    if least >= 0:
        return f"{least} to {most} more"
    if most <= 0:
        return f"{-most} to {-least} fewer"
    return f"from {-least} fewer to {most} more"
