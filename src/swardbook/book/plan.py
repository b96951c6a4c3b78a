"""What to do and why: the seeding clock, fit today, the week and the morning look."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from swardbook.book.opening import Book
from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.foundation.workings import Workings
from swardbook.handbook.cautions import Caution
from swardbook.husbandry.doubt import Doubt
from swardbook.planning.clock import SeedingClock, seeding_clock
from swardbook.planning.comfort import too_low_for
from swardbook.planning.counts_now import is_cared_for
from swardbook.planning.feeding import feeding
from swardbook.planning.fit import JOBS, Fit, fit_today, fit_workings
from swardbook.planning.how import cautions_of
from swardbook.planning.morning import Morning, morning_look
from swardbook.planning.pulling import pulling
from swardbook.planning.situation import Situation, situation
from swardbook.planning.sowing import sowing_answer
from swardbook.planning.stock import lot_for
from swardbook.planning.tasks import WorthOf
from swardbook.planning.water import seedbed_water, young_seedbed
from swardbook.planning.week import Week, no_worth, plan_week


def situations(book: Book, zone: str = "") -> list[Situation]:
    """Look at one zone, or at every zone, on the book's today.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        Name of the zone; empty for all.

    Raises
    ------
    UnknownNameError
        If there is no such zone.
    BadInputError
        If the book has no zone yet.
    """
    ground, weather = book.ground(), book.weather()
    names = [ground.zone(zone).name] if zone else [each.name for each in ground.zones]
    if not names:
        raise BadInputError(
            "the zones",
            "none",
            "a book with at least one zone",
            "Add one first: `swardbook zone add NAME --use 'family lawn' --sides 12x9"
            " --height-of-cut 25`.",
        )
    return [situation(ground, name, weather, book.today) for name in names]


def clocks(book: Book, zone: str = "") -> list[SeedingClock]:
    """Read the seeding clock of one zone, or of every zone that weed work is done in."""
    found = situations(book, zone)
    return [seeding_clock(sit) for sit in found if zone or is_cared_for(sit)]


def fits(book: Book, zone: str = "", job: str = "") -> list[Fit]:
    """Check one job or all jobs in one zone or all zones today.

    Raises
    ------
    UnknownNameError
        If there is no such zone or job.
    """
    jobs = [job.strip().casefold()] if job else list(JOBS)
    return [fit_today(sit, each) for sit in situations(book, zone) for each in jobs]


def cautions_today(book: Book, zone: str, job: str) -> tuple[Caution, ...]:
    """Give the cautions of a job that hold today in one zone, or in any of all zones."""
    found = (each for sit in situations(book, zone) for each in cautions_of(sit, job))
    return tuple(dict.fromkeys(found))


def doubt_of_job(job: str) -> Doubt | None:
    """Ask about a job that was held off and that the plan has no such word for.

    Raises
    ------
    BadInputError
        If no job is said.
    """
    if not job.strip():
        raise BadInputError("the job", job, ", ".join(JOBS))
    if job.strip().casefold() in JOBS:
        return None
    told = UnknownNameError("job", job.strip(), JOBS)
    change = f"job={told.nearest[0]}" if told.nearest else ""
    return Doubt(f"{told} Kept as typed; the plan passes it over.", change)


def sown_too_low(book: Book, zone: str) -> tuple[str, ...]:
    """Name what was sown in a zone and does not live with the zone's height of cut."""
    [sit] = situations(book, zone)
    return too_low_for(sit, sit.zone.height_of_cut_mm)


def week(book: Book, zone: str = "", worth: WorthOf = no_worth) -> Week:
    """Plan the week of one zone or of the whole site."""
    return plan_week(situations(book, zone), worth)


def morning(book: Book, worth: WorthOf = no_worth) -> Morning:
    """Take the morning look at the whole site."""
    return morning_look(situations(book), worth)


def plan_workings(book: Book, figure: str, zone: str, job: str = "") -> Workings:
    """Show how a figure of the plan was reached.

    Parameters
    ----------
    book : Book
        The opened book.
    figure : str
        ``clock``, ``fit``, ``sow``, ``water``, ``feed`` or ``pull``.
    zone : str
        Name of the zone.
    job : str
        The job, for ``fit``.

    Raises
    ------
    UnknownNameError
        If there is no such figure, zone or job.
    BadInputError
        If the figure needs something the book does not have.
    """
    if figure not in FIGURES:
        raise UnknownNameError("figure of the plan", figure, FIGURES)
    sit = situations(book, zone)[0]
    if figure == "fit":
        return fit_workings(fit_today(sit, job or "verticut"), sit)
    return FIGURES[figure](sit)


def _sow(sit: Situation) -> Workings:
    stock = lot_for(sit)
    if stock is None:
        raise BadInputError("the lot", "none", "a zone with a lot to sow", "See `swardbook lot`.")
    return sowing_answer(sit, stock.lot).workings


def _water(sit: Situation) -> Workings:
    found = seedbed_water(sit, young_seedbed(sit) or sit.zone.area_m2)
    if found is None:
        raise BadInputError(
            "the weather", "none for today", "weather that reaches today",
            "See `swardbook weather`.",
        )  # fmt: skip
    return found.workings


FIGURES: Mapping[str, Callable[[Situation], Workings]] = {
    "clock": lambda sit: seeding_clock(sit).workings,
    "fit": lambda sit: fit_workings(fit_today(sit, "verticut"), sit),
    "sow": _sow,
    "water": _water,
    "feed": lambda sit: feeding(sit).workings,
    "pull": lambda sit: pulling(sit).workings,
}
