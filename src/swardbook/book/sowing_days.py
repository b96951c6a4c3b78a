"""One day of sowing after another: how likely seedlings, cover and a first mow are by when."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any

import numpy as np

from swardbook.book.from_seed import Years
from swardbook.book.oversowing import Oversower
from swardbook.book.own_emergence import OwnEmergence
from swardbook.handbook.parameters import value
from swardbook.handbook.species import find_species
from swardbook.model.chance import Array
from swardbook.model.compiling import Kernel
from swardbook.model.from_seed import NEVER, Bed, Days, Grown, Seeding, grow_from_seed
from swardbook.model.oversow import Stood
from swardbook.model.prospects import Range
from swardbook.planning.situation import Situation
from swardbook.planning.sow_when import DateAnswer, answers_on, whole
from swardbook.seed import LotPart, Method, usual_rate
from swardbook.seed.mixture import OTHERS

MIXTURE = "the mixture"


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
        How likely it has come by the day asked; of cover of a standing sward, how likely it has it
        on that day. [-]
    chances : tuple of float
        The same week by week from the sowing. [-]
    without : float or None
        How likely it has come by that day with the same work and no seed; None in a bare bed. [-]
    """

    name: str
    low: int | None
    middle: int | None
    high: int | None
    by: float
    chances: tuple[float, ...]
    without: float | None = None


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
    added : Range or None
        Sown grass that the seed adds to a standing sward by the day asked; None in a bed. [-]
    """

    name: str
    rate_g_m2: float
    events: tuple[Event, ...]
    answer: DateAnswer
    added: Range | None = None


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
class Looker:
    """Looks at one day of sowing after another.

    Parameters
    ----------
    sit : Situation
        The zone on its day.
    bed : Bed
        The bed.
    years : Years
        The weather ahead.
    kernel : Kernel
        The compiled model.
    threads : int
        Threads; change no bit.
    parts : tuple of LotPart
        What is sown.
    method : Method
        How it is put down.
    rate_g_m2 : float or None
        Rate; None is the usual one. [g m⁻²]
    by : date or None
        The day chances are told by; None is some weeks after each sowing.
    own : OwnEmergence
        What one's own sowings say.
    sward : Oversower or None
        The standing sward; None is a bare bed, or a sward that nothing is known of.
    """

    sit: Situation
    bed: Bed
    years: Years
    kernel: Kernel
    threads: int
    parts: tuple[LotPart, ...]
    method: Method
    rate_g_m2: float | None
    by: date | None
    own: OwnEmergence
    sward: Oversower | None = None

    def day(self, day: date) -> SowingDay:
        """Look at one day of sowing."""
        by = self.by or day + timedelta(days=round(value("sow_when.by_days")))
        span = (by - day).days
        species = list(dict.fromkeys(p.species for p in self.parts if p.species != OTHERS))
        answers = answers_on(self.sit, [find_species(each) for each in species], day)
        rate = self.rate_g_m2 or usual_rate(self.parts, self.method).middle
        together = self._grow(self.parts, rate, day)
        slots = {kind.species: slot for slot, kind in enumerate(together.kinds.kinds)}
        up = {each: together.emerged(slot) for each, slot in slots.items()}
        first = np.min(list(up.values()), axis=0)
        if self.method.is_oversowing:
            oversown = self._oversown(rate, species, answers, up, first, day, span)
            return SowingDay(day, by, *oversown)
        stands = []
        for each, answer in zip(species, answers, strict=True):
            alone = (LotPart(each, 1.0),)
            own = usual_rate(alone, Method.SEEDBED).middle
            grown = self._grow(alone, own, day)
            shown = up.get(each, grown.emerged(0))
            stands.append(Stand(each, own, self._in_bed(grown, shown, span, [each]), answer))
        events = self._in_bed(together, first, span, species)
        return SowingDay(day, by, Stand(MIXTURE, rate, events, whole(answers)), tuple(stands))

    def _grow(self, parts: tuple[LotPart, ...], rate: float, day: date) -> Grown:
        return grow_from_seed(
            Seeding(parts, rate, day), self.bed, self.years.courses, round(value("sow_when.days")),
            self.years.chance, self.kernel, threads=self.threads,
        )  # fmt: skip

    def _in_bed(self, grown: Grown, up: Days, span: int, species: list[str]) -> tuple[Event, ...]:
        """Tell emergence, cover and first mow in a bare bed."""
        weights = self.own.of(species, len(up))
        groups = {find_species(each).group for each in species}
        mow = value("first_cut_ryegrass" if "ryegrass" in groups else "first_cut_fine")
        covers = [
            event_of(_cover_name(share), grown.covered(share), span, weights)
            for share in covers_told()
        ]
        return (
            event_of("emergence", up, span, weights), *covers,
            event_of("first mow", grown.first_mow(mow), span, weights),
        )  # fmt: skip

    def _oversown(
        self, rate: float, species: list[str], answers: tuple[DateAnswer, ...],
        up: dict[str, Days], first: Days, day: date, span: int,
    ) -> tuple[Stand, tuple[Stand, ...]]:  # fmt: skip
        """Tell emergence as in a bed, and cover and first mow of the sward that stands there."""
        weights = self.own.of(species, len(first))
        emergence = event_of("emergence", first, span, weights)
        rates = {each: usual_rate((LotPart(each, 1.0),), self.method).middle for each in species}
        each_up = {
            each: event_of("emergence", up.get(each, first), span, self.own.of([each], len(first)))
            for each in species
        }
        if self.sward is None:
            alone = tuple(
                Stand(each, rates[each], (each_up[each],), answer)
                for each, answer in zip(species, answers, strict=True)
            )
            return Stand(MIXTURE, rate, (emergence,), whole(answers)), alone
        bare = self.sward.without(day)
        mow = event_of("first mow", self.sward.first_mow(self.parts, rate, day), span)

        def stand(parts: tuple[LotPart, ...], name: str, rate: float, event: Event,
                  answer: DateAnswer) -> Stand:  # fmt: skip
            assert self.sward is not None
            stood = self.sward.seeded(parts, rate, day)
            covers = tuple(_standing_at(stood, bare, share, span) for share in covers_told())
            added = Range.of(stood.at(span) - bare.at(span))
            return Stand(name, rate, (event, *covers, mow), answer, added)

        return stand(self.parts, MIXTURE, rate, emergence, whole(answers)), tuple(
            stand((LotPart(each, 1.0),), each, rates[each], each_up[each], answer)
            for each, answer in zip(species, answers, strict=True)
        )


def covers_told() -> tuple[float, float]:
    """Give the two shares of cover that are told [-]."""
    return value("sow_when.cover_first"), value("sow_when.cover_full")


def _cover_name(share: float) -> str:
    return f"{100 * share:.0f} % cover"


def event_of(name: str, days: Days, span: int, weights: Array | None = None) -> Event:
    """Tell when something comes over draws.

    Parameters
    ----------
    name : str
        What comes.
    days : array of int
        Days from sowing, one a draw; `NEVER` where it does not come. [d]
    span : int
        Days from sowing by which its chance is told. [d]
    weights : array or None
        How much each draw counts; they add up to 1. None: alike. [-]
    """
    weigh = np.full(len(days), 1.0 / len(days)) if weights is None else weights
    order = np.argsort(days, kind="stable")
    reached = np.cumsum(weigh[order])
    low, middle, high = (
        _day(days[order[min(int(np.searchsorted(reached, share, "right")), len(days) - 1)]])
        for share in (0.1, 0.5, 0.9)
    )
    weeks = range(7, round(value("sow_when.days")) + 1, 7)
    chances = tuple(round(float(np.sum(weigh[days <= week])), 4) for week in weeks)
    by = min(float(np.sum(weigh[days <= span])), 1.0)
    return Event(name, low, middle, high, by, chances)


def _standing_at(stood: Stood, bare: Stood, share: float, span: int) -> Event:
    """Tell a cover of a standing sward: that of the day itself, as a sward also thins."""
    first = event_of(_cover_name(share), stood.covered(share), span)
    weeks = range(7, round(value("sow_when.days")) + 1, 7)
    return replace(
        first,
        by=float(np.mean(stood.at(span) >= share)),
        chances=tuple(round(float(np.mean(stood.at(week) >= share)), 4) for week in weeks),
        without=float(np.mean(bare.at(span) >= share)),
    )


def _day(days: Any) -> int | None:
    return None if days == NEVER else int(days)
