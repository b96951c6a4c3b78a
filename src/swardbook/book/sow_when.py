"""When to sow: how likely seedlings, cover and a first mow are by date; go, wait or too late."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from pathlib import Path

from swardbook.book.compiled import kernel_of
from swardbook.book.forecast import forecast_of
from swardbook.book.from_seed import bed_of, names_known, years_ahead
from swardbook.book.kept_mixtures import mixture_of_zone
from swardbook.book.opening import Book
from swardbook.book.oversowing import Oversower, Present, oversower_of
from swardbook.book.own_emergence import NONE, OwnEmergence, own_emergence
from swardbook.book.seed import question_of_lot, work_out
from swardbook.book.sowing_days import Event, Looker, SowingDay, Stand
from swardbook.book.survey_facts import SLOPE
from swardbook.book.worked_out import Answer as Kept
from swardbook.book.worked_out import last_answer
from swardbook.foundation.dates import say
from swardbook.foundation.errors import BadInputError, NotEnoughDataError, UnknownNameError
from swardbook.handbook.mixtures import mixture_kinds
from swardbook.handbook.parameters import value
from swardbook.handbook.species import find_species
from swardbook.husbandry.ground import Ground, Zone
from swardbook.husbandry.happenings import Sow
from swardbook.planning.situation import situation
from swardbook.planning.sow_when import Said, conditions, is_kept_damp
from swardbook.planning.sowing import Answer
from swardbook.planning.states import Condition, State
from swardbook.seed import LotPart, Method
from swardbook.seed.mixture import OTHERS

__all__ = ["Asked", "Event", "SowWhen", "SowingDay", "Stand", "sow_when", "when_answer"]
Tell = Callable[[str], None]
ABOUT = "when to sow"
"""The name of the question in the diary."""


@dataclass(frozen=True, slots=True)
class SowWhen:
    """When to sow a mixture in a zone.

    Parameters
    ----------
    zone : str
        Name of the zone.
    title : str
        What is sown.
    method : Method
        How it is put down.
    days : tuple of SowingDay
        Day by day of sowing.
    conditions : tuple of Condition
        Of the first day.
    past_years : tuple of int
        Years of weather used.
    is_thin : bool
        Whether they are few.
    forecast_to : date or None
        The last day of a forecast laid over them.
    is_watered : bool
        Whether the chances are those of a bed that is kept damp.
    own : OwnEmergence
        What one's own sowings say, and whether the chances are weighed by it.
    present : Present or None
        The sward that stands there, for an oversowing.
    withheld : str
        Why cover and first mow of an oversowing are not told; empty if they are.
    """

    zone: str
    title: str
    method: Method
    days: tuple[SowingDay, ...]
    conditions: tuple[Condition, ...]
    past_years: tuple[int, ...]
    is_thin: bool
    forecast_to: date | None
    is_watered: bool = False
    own: OwnEmergence = NONE
    present: Present | None = None
    withheld: str = ""

    @property
    def first(self) -> tuple[Answer, str]:
        """The answer for the first day: go only where no condition forbids it.

        What speaks against it and does not forbid is told with the reason.
        """
        found = self.days[0].mixture.answer
        ordered = sorted(self.conditions, key=lambda each: each.rank.order)
        against = [each for each in ordered if each.state is State.NOT_MET]
        stops = [each for each in against if each.blocks]
        if found.answer is Answer.GO and stops:
            return Answer.WAIT, "; ".join(f"{each.name}: {each.because}" for each in stops)
        told = f"{find_species(found.species).english}: {found.because}"
        if found.answer is Answer.GO and against:
            told += f". Against it: {'; '.join(f'{each.name}, {each.because}' for each in against)}"
        return found.answer, told

    @property
    def sentence(self) -> str:
        """The answer in one sentence."""
        answer, because = self.first
        return f"{answer.value}. {because}"


UNSAID = Said()


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked about a sowing.

    Parameters
    ----------
    zone : str
        The zone.
    what : str
        A lot, its name or a kind of mixture; empty takes what was sown there last.
    first : date or None
        The first day of sowing looked at; None is tomorrow.
    number : int or None
        How many days of sowing, a week apart.
    by : date or None
        The day chances are told by; None is eight weeks after each sowing.
    rate_g_m2 : float or None
        Rate; None is the usual one. [g m⁻²]
    method : Method
        How it is put down.
    said : Said
        Water, people, slope.
    forecast : Path or None
        A file of forecast days; None takes what the book has after today.
    """

    zone: str
    what: str = ""
    first: date | None = None
    number: int | None = None
    by: date | None = None
    rate_g_m2: float | None = None
    method: Method = Method.SEEDBED
    said: Said = UNSAID
    forecast: Path | None = None


def sow_when(book: Book, asked: Asked, tell: Tell = lambda _: None) -> SowWhen:
    """Look at sowings a week apart under every past year of the site.

    Parameters
    ----------
    book : Book
        The opened book.
    asked : Asked
        What is asked.
    tell : callable
        Told in words what is being worked on.

    Raises
    ------
    UnknownNameError
        If there is no such zone, lot or kind.
    BadInputError
        If a day is past, or the forecast is no weather.
    NotEnoughDataError
        If there is no whole past year of weather, or nothing is known to have been sown.
    """
    ground = book.ground()
    zone = ground.zone(asked.zone)
    title, parts = _seed(book, ground, zone, asked.what)
    first = asked.first or book.today + timedelta(days=1)
    if first <= book.today:
        raise BadInputError("the first day", str(first), "a day after today")
    if asked.by is not None and asked.by <= first:
        raise BadInputError("--by", say(asked.by), f"a day after the sowing of {say(first)}")
    number = asked.number or round(value("sow_when.dates"))
    step = timedelta(days=round(value("sow_when.step")))
    follow = round(value("sow_when.days"))
    forecast = forecast_of(book, asked.forecast)
    said = replace(_with_book(ground, zone, asked.said), forecast=forecast)
    last = first + (number - 1) * step + timedelta(days=follow)
    years = years_ahead(book, zone, last, forecast)
    sit = situation(ground, zone.name, book.all_weather(), book.today)
    watered = is_kept_damp(sit, said)
    bed = bed_of(book, zone, zone.height_of_cut_mm, watered)
    kernel = kernel_of(book.settings, tell)
    species = list(dict.fromkeys(part.species for part in parts if part.species != OTHERS))
    own = own_emergence(book, species, years, kernel)
    looker = Looker(
        sit, bed, years, kernel, book.settings.threads, parts, asked.method, asked.rate_g_m2,
        asked.by, own,
    )  # fmt: skip
    sward, withheld = _standing(book, zone, looker, first, tell)
    looker = replace(looker, sward=sward)
    return SowWhen(
        zone.name, title, asked.method,
        tuple(looker.day(first + n * step) for n in range(number)),
        conditions(sit, said, first), years.past, years.is_thin,
        None if forecast is None else forecast.last, watered, own,
        None if sward is None else sward.present, withheld,
    )  # fmt: skip


def _standing(
    book: Book, zone: Zone, looker: Looker, first: date, tell: Tell
) -> tuple[Oversower | None, str]:
    """Stand the present sward ready for an oversowing; else say why it cannot be."""
    if not looker.method.is_oversowing:
        return None, ""
    try:
        return oversower_of(
            book, zone, looker.parts, looker.method, first, looker.years, looker.kernel,
            looker.bed.is_watered, tell,
        ), ""  # fmt: skip
    except NotEnoughDataError as lacking:
        return None, str(lacking)


def when_answer(made: SowWhen) -> Kept:
    """Give the answer as the diary keeps it."""
    found = {}
    for each in made.days:
        for event in each.mixture.events:
            name = event.name.replace(" % ", "_percent_").replace(" ", "_")
            found[f"{each.day.isoformat()}_{name}_by_{each.by.isoformat()}_share"] = round(
                event.by, 3
            )
    named = {each.day.isoformat(): each.mixture.answer.answer.value for each in made.days}
    return Kept(ABOUT, made.sentence, {"sown": made.title}, found, named)


def _seed(book: Book, ground: Ground, zone: Zone, what: str) -> tuple[str, tuple[LotPart, ...]]:
    """Find what is to be sown: a lot, a kind, the mixture kept since, or what was sown last."""
    lots: Mapping[str, str] = {lot.mixture.casefold(): lot.code for lot in reversed(ground.lots)}
    lots = {**lots, **{lot.code.casefold(): lot.code for lot in ground.lots}}
    wanted = what.strip().casefold()
    if not wanted:
        sown = [
            (entry.day, entry.what.lot)
            for entry in ground.entries(zone.name, Sow.kind)
            if isinstance(entry.what, Sow) and entry.what.lot and entry.day <= book.today
        ]
        kept = mixture_of_zone(ground, zone.name, sown[-1][0] if sown else date.min)
        if kept is not None and ", lot " not in kept[0]:
            return kept
        if kept is None and not sown:
            raise NotEnoughDataError(
                f"when to sow {zone.name}", "a lot or a kind of mixture",
                "none named, no mixture kept, and no sowing in the book",
            )  # fmt: skip
        named = sown[-1][1] if kept is None else kept[0].rpartition(", lot ")[2]
        wanted = named.casefold()
    if wanted in lots:
        lot, question = question_of_lot(book, lots[wanted])
        work_out(question)
        return f"{lot.mixture}, lot {lot.code}", question.known_parts
    if wanted in mixture_kinds():
        kind = mixture_kinds()[wanted]
        return kind.name, tuple(LotPart(part, share) for part, share in kind.shares)
    raise UnknownNameError("lot or kind of mixture", what, names_known(ground))


def _with_book(ground: Ground, zone: Zone, said: Said) -> Said:
    """Take the slope a survey kept where none is said."""
    kept = last_answer(ground, SLOPE, zone.name)
    if said.slope is not None or kept is None or "slope_percent" not in kept.answer.found:
        return said
    return replace(said, slope=kept.answer.found["slope_percent"] / 100)
