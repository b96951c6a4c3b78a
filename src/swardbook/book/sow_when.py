"""When to sow: how likely seedlings, cover and a first mow are by date; go, wait or too late."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import numpy as np

from swardbook.book.compiled import kernel_of
from swardbook.book.forecast import forecast_of
from swardbook.book.from_seed import Years, bed_of, names_known, years_ahead
from swardbook.book.opening import Book
from swardbook.book.seed import question_of_lot, work_out
from swardbook.book.survey_facts import SLOPE
from swardbook.book.worked_out import Answer as Kept
from swardbook.book.worked_out import last_answer
from swardbook.foundation.errors import BadInputError, NotEnoughDataError, UnknownNameError
from swardbook.handbook.mixtures import mixture_kinds
from swardbook.handbook.parameters import value
from swardbook.handbook.species import find_species
from swardbook.husbandry.ground import Ground, Zone
from swardbook.husbandry.happenings import Sow
from swardbook.model.compiling import Kernel
from swardbook.model.from_seed import NEVER, Bed, Days, Grown, Seeding, grow_from_seed
from swardbook.planning.situation import Situation, situation
from swardbook.planning.sow_when import DateAnswer, Said, answers_on, conditions, whole
from swardbook.planning.sowing import Answer
from swardbook.planning.states import Condition, State, deciding
from swardbook.seed import LotPart, Method, usual_rate
from swardbook.seed.mixture import OTHERS

Tell = Callable[[str], None]
ABOUT = "when to sow"
"""The name of the question in the diary."""


@dataclass(frozen=True, slots=True)
class Event:
    """Something a sowing comes to.

    Parameters
    ----------
    name : str
        ``emergence``, ``60 % cover``, ``90 % cover`` or ``first mow``.
    low, middle, high : int or None
        Days from sowing, of one case in ten, the middle one and nine in ten; None where it does
        not come within the days followed. [d]
    by : float
        How likely it has come by the day asked. [-]
    chances : tuple of float
        How likely it has come, week by week from the sowing. [-]
    """

    name: str
    low: int | None
    middle: int | None
    high: int | None
    by: float
    chances: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Stand:
    """What is sown as one: the mixture, or one of its components alone at its usual rate.

    Parameters
    ----------
    name : str
        ``the mixture`` or the species key.
    rate_g_m2 : float
        Rate. [g m⁻²]
    events : tuple of Event
        What it comes to.
    answer : DateAnswer
        Go, wait or too late; for the mixture that of the component that decides.
    """

    name: str
    rate_g_m2: float
    events: tuple[Event, ...]
    answer: DateAnswer


@dataclass(frozen=True, slots=True)
class SowingDay:
    """One day of sowing.

    Parameters
    ----------
    day, by : date
        The day, and the day its chances are told by.
    mixture : Stand
        The mixture as it is.
    components : tuple of Stand
        Each component, emergence in the mixture and the rest sown alone.
    """

    day: date
    by: date
    mixture: Stand
    components: tuple[Stand, ...]


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
    """

    zone: str
    title: str
    method: Method
    days: tuple[SowingDay, ...]
    conditions: tuple[Condition, ...]
    past_years: tuple[int, ...]
    is_thin: bool
    forecast_to: date | None

    @property
    def first(self) -> tuple[Answer, str]:
        """The answer for the first day: go only where no condition forbids it."""
        found = self.days[0].mixture.answer
        against = [each for each in deciding(self.conditions) if each.state is State.NOT_MET]
        stops = [each for each in against if each.blocks]
        if found.answer is Answer.GO and stops:
            return Answer.WAIT, f"{stops[0].name}: {stops[0].because}"
        return found.answer, f"{find_species(found.species).english}: {found.because}"

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
    number = asked.number or round(value("sow_when.dates"))
    step = timedelta(days=round(value("sow_when.step")))
    follow = round(value("sow_when.days"))
    said = _with_book(ground, zone, asked.said)
    said = replace(said, forecast=forecast_of(book, asked.forecast))
    last = first + (number - 1) * step + timedelta(days=follow)
    years = years_ahead(book, zone, last, said.forecast)
    sit = situation(ground, zone.name, book.all_weather(), book.today)
    watered = ground.site.hose_l_min is not None if said.is_watered is None else said.is_watered
    bed = bed_of(book, zone, zone.height_of_cut_mm, watered)
    kernel = kernel_of(book.settings, tell)
    looker = _Looker(sit, bed, years, kernel, book.settings.threads, asked, parts)
    return SowWhen(
        zone.name, title, asked.method,
        tuple(looker.day(first + n * step) for n in range(number)),
        conditions(sit, said, first), years.past, years.is_thin,
        said.forecast.last if said.forecast is not None else None,
    )  # fmt: skip


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


@dataclass(frozen=True, slots=True)
class _Looker:
    """Looks at one day of sowing after another."""

    sit: Situation
    bed: Bed
    years: Years
    kernel: Kernel
    threads: int
    asked: Asked
    parts: tuple[LotPart, ...]

    def day(self, day: date) -> SowingDay:
        """Look at one day of sowing."""
        asked = self.asked
        by = asked.by or day + timedelta(days=round(value("sow_when.by_days")))
        species = list(dict.fromkeys(p.species for p in self.parts if p.species != OTHERS))
        answers = answers_on(self.sit, [find_species(each) for each in species], day)
        rate = asked.rate_g_m2 or usual_rate(self.parts, asked.method).middle
        together = self._grow(self.parts, rate, day)
        slots = {kind.species: slot for slot, kind in enumerate(together.kinds.kinds)}
        stands = []
        for each, answer in zip(species, answers, strict=True):
            alone = (LotPart(each, 1.0),)
            own = usual_rate(alone, Method.SEEDBED).middle
            grown = self._grow(alone, own, day)
            up = together.emerged(slots[each]) if each in slots else grown.emerged(0)
            stands.append(Stand(each, own, self._events(grown, up, day, by, (each,)), answer))
        up = np.min([together.emerged(slot) for slot in slots.values()], axis=0)
        events = self._events(together, up, day, by, tuple(species))
        return SowingDay(day, by, Stand("the mixture", rate, events, whole(answers)), tuple(stands))

    def _grow(self, parts: tuple[LotPart, ...], rate: float, day: date) -> Grown:
        return grow_from_seed(
            Seeding(parts, rate, day), self.bed, self.years.courses, round(value("sow_when.days")),
            self.years.chance, self.kernel, threads=self.threads,
        )  # fmt: skip

    def _events(
        self, grown: Grown, up: Days, day: date, by: date, species: Sequence[str]
    ) -> tuple[Event, ...]:
        """Tell emergence, and in a bare bed cover and first mow too."""
        span = (by - day).days
        told = [_event("emergence", up, span)]
        if self.asked.method.is_oversowing:
            return tuple(told)
        groups = {find_species(each).group for each in species}
        mow = value("first_cut_ryegrass" if "ryegrass" in groups else "first_cut_fine")
        told += [
            _event(f"{100 * share:.0f} % cover", grown.covered(share), span)
            for share in (value("sow_when.cover_first"), value("sow_when.cover_full"))
        ]
        told.append(_event("first mow", grown.first_mow(mow), span))
        return tuple(told)


def _event(name: str, days: Days, span: int) -> Event:
    ordered = np.sort(days)
    low, middle, high = (
        _day(ordered[min(int(share * len(ordered)), len(ordered) - 1)]) for share in (0.1, 0.5, 0.9)
    )
    weeks = range(7, round(value("sow_when.days")) + 1, 7)
    chances = tuple(round(float(np.mean(days <= week)), 4) for week in weeks)
    return Event(name, low, middle, high, float(np.mean(days <= span)), chances)


def _day(days: Any) -> int | None:
    return None if days == NEVER else int(days)


def _seed(book: Book, ground: Ground, zone: Zone, what: str) -> tuple[str, tuple[LotPart, ...]]:
    """Find what is to be sown: a lot, a kind, or what was sown there last."""
    lots: Mapping[str, str] = {lot.mixture.casefold(): lot.code for lot in reversed(ground.lots)}
    lots = {**lots, **{lot.code.casefold(): lot.code for lot in ground.lots}}
    wanted = what.strip().casefold()
    if not wanted:
        sown = [
            entry.what.lot
            for entry in ground.entries(zone.name, Sow.kind)
            if isinstance(entry.what, Sow) and entry.what.lot and entry.day <= book.today
        ]
        if not sown:
            raise NotEnoughDataError(
                f"when to sow {zone.name}", "a lot or a kind of mixture",
                "none named, and no sowing in the book",
            )  # fmt: skip
        wanted = sown[-1].casefold()
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
