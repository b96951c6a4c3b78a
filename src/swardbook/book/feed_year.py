"""The year of feed of a zone of the book, with what its soil test says."""

from __future__ import annotations

from swardbook.book.feed_materials import SOIL_NEED, soil_need, tests_of_zone
from swardbook.book.fields import quantity
from swardbook.book.opening import Book
from swardbook.book.worked_out import Answer, last_answer
from swardbook.handbook.parameters import value
from swardbook.husbandry.ground import Ground
from swardbook.planning.feed_year import FeedYear, feed_year, what_is_due
from swardbook.planning.feeding import PLAN, planned_year
from swardbook.planning.situation import situation


def feed_year_of(book: Book, zone: str, nitrogen: str = "") -> FeedYear:
    """Plan the year of feed in a zone and add up what it had.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        The zone by name.
    nitrogen : str
        Nitrogen of the year as typed; empty takes that of the year's last plan kept, else the
        middle of what is common for this turf.
    """
    ground = book.ground()
    name = ground.zone(zone).name
    wanted = quantity(nitrogen, "g/m2", "--nitrogen") if nitrogen else None
    sit = situation(ground, name, book.weather(), book.today)
    if wanted is None:
        wanted = planned_year(sit)
    return feed_year(sit, wanted, _phosphorus_ample(ground, name, wanted))


def planned_dose(book: Book, zone: str) -> float | None:
    """Give the next dose of the year's feed plan kept for a zone, within its limits [g m⁻²].

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        The zone by name.

    Returns
    -------
    float or None
        None where no plan is kept for this year of feed, or nothing is due by it. [g m⁻²]
    """
    ground = book.ground()
    sit = situation(ground, ground.zone(zone).name, book.weather(), book.today)
    if planned_year(sit) is None:
        return None
    dose = feed_year_of(book, zone).next_g_m2
    return dose if dose >= value("kept_feed_least") else None


def kept_plan(year: FeedYear) -> Answer:
    """Give the plan as an answer to keep."""
    return Answer(
        PLAN,
        f"{year.year_g_m2:.1f} g N/m² for the year; {what_is_due(year)}",
        {},
        {"year_g_m2": year.year_g_m2, "given_g_m2": year.given, "left_g_m2": year.left},
    )


def _phosphorus_ample(ground: Ground, zone: str, nitrogen: float | None) -> bool | None:
    kept = last_answer(ground, SOIL_NEED, zone)
    if kept is not None and "p_need_g_m2" in kept.answer.found:
        return kept.answer.found["p_need_g_m2"] == 0
    tests = tests_of_zone(ground, zone)
    if "P" not in tests:
        return None
    return soil_need({"P": tests["P"]}, 10.0 if nitrogen is None else nitrogen).is_ample("P")
