"""A trial as it happened: sown, mixed up, left out with reason, cared for unevenly, read by two."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from itertools import combinations

from swardbook.book.diary import read_past, write
from swardbook.book.fields import quantity
from swardbook.book.opening import Book
from swardbook.book.trial_care import CARE, SET_OUT, PlotJob, care_by_plot, sown_on
from swardbook.book.trial_kept import kept_trial, trial_zone
from swardbook.book.worked_out import last_answer
from swardbook.evidence.paired import PairedChange, paired_change
from swardbook.foundation.dates import say
from swardbook.foundation.errors import BadInputError, RefusedError, UnknownNameError
from swardbook.handbook.traits import all_traits
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground, Plot
from swardbook.husbandry.happenings import Count, PlotCare, PlotReadings, Sow
from swardbook.trials.bags import grams

_LEVEL = 0.95


@dataclass(frozen=True, slots=True)
class TwoReaders:
    """How far a second person reads from a first on the same plots.

    Parameters
    ----------
    trait, first, second : str
        What was read, and by whom.
    change : PairedChange
        Second less first, plot by plot. [unit of the trait]
    """

    trait: str
    first: str
    second: str
    change: PairedChange

    @property
    def words(self) -> str:
        """Tell the difference with its 95 % range."""
        low, high = self.change.interval(_LEVEL)
        unit = all_traits()[self.trait].unit if self.trait in all_traits() else ""
        unit = "steps" if unit == "1-9" else unit
        return (
            f"{self.trait}: {self.second} reads {self.change.mean:+.1f} {unit} ({low:+.1f} to"
            f" {high:+.1f}) against {self.first} on {self.change.n} plots"
        )


@dataclass(frozen=True, slots=True)
class PlotsShown:
    """The plots of a trial as they stand.

    Parameters
    ----------
    zone : str
        Where.
    plots : tuple of Plot
        The plots.
    sown_on : date or None
        When it was first sown.
    care : tuple of PlotJob
        Care since then, job by job.
    read : tuple of tuple
        Traits read: name, day, plots with a reading, plots without.
    readers : tuple of TwoReaders
        Two people on the same plots.
    """

    zone: str
    plots: tuple[Plot, ...]
    sown_on: date | None
    care: tuple[PlotJob, ...]
    read: tuple[tuple[str, date, int, int], ...]
    readers: tuple[TwoReaders, ...]


def show_plots(book: Book, zone: str = "") -> PlotsShown:
    """Give the plots of a trial as they stand: planned, sown, out, cared for, read."""
    name = trial_zone(book, zone)
    ground = book.ground()
    plots = _plots(ground, name)
    own = [plot.name for plot in plots]
    return PlotsShown(
        name, plots, sown_on(ground, name), care_by_plot(ground, name, own),
        tuple(_read(ground, name)), tuple(_readers(ground, name)),
    )  # fmt: skip


def record_sown(
    book: Book, zone: str, when: str, used: Mapping[str, str], who: str = "", note: str = ""
) -> tuple[DiaryEntry, ...]:
    """Record that a kept trial was sown as planned, one sowing for each lot, all or none.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        Zone of the trial; none where there is only one.
    when : str
        The day as typed.
    used : mapping of str to str
        Lot or mixture to the weight used, where it was weighed.
    who, note : str
        As said.

    Raises
    ------
    BadInputError
        If no plan with rates is kept.
    RefusedError
        If it was sown already.
    UnknownNameError
        If a weight is for no mixture of the trial.
    """
    name = trial_zone(book, zone)
    ground = book.ground()
    if last_answer(ground, SET_OUT, name) is None:
        raise BadInputError(f"the trial of {name}", "no plan", "`swardbook set-out --keep` first")
    found = kept_trial(book, name)
    if found.facts.is_sown:
        raise RefusedError(f"Sow the trial of {name} again", "it was sown before.",
                           "A second sowing of a plot goes in with `swardbook sow`.")  # fmt: skip
    assert found.laid is not None
    weights = _weights(used, [(e.name, e.lot) for e in found.entries.values()])
    day, entries = read_past(when, book.today), []
    with book.store.together():
        for entry in found.entries.values():
            own = [plot.name for plot in found.laid.plots if plot.slot.entry == entry.name]
            if entry.is_control or not own:
                continue
            area = found.laid.size.area_m2
            planned = round(len(own) * grams(entry.rate_g_m2, area), 1)
            what = Sow(entry.lot, entry.rate_g_m2, round(area * len(own), 4),
                       weights.get(entry.name, planned), "seedbed")  # fmt: skip
            told = f"{entry.name} on plots {', '.join(own)}. {note}".strip()
            entries.append(write(book, what, day, zone=name, who=who, note=told))
    return tuple(entries)


def record_sown_as(
    book: Book, zone: str, pairs: Sequence[str], reason: str, when: str = "today", who: str = ""
) -> tuple[Plot, ...]:
    """Put plots right that were sown with something else than planned; both are kept.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        Zone of the trial; none where there is only one.
    pairs : sequence of str
        ``3-08=Pocketwatch``; the planned mixture takes an earlier correction back.
    reason : str
        How it was found; kept with the change.
    when : str
        The day it was found.
    who : str
        Who found it.

    Raises
    ------
    BadInputError
        If no reason is given, or a pair names no mixture.
    UnknownNameError
        If there is no such plot or mixture.
    """
    _needs(reason, "how it was found")
    name = trial_zone(book, zone)
    ground = book.ground()
    known = [*dict.fromkeys(p.planned for p in _plots(ground, name)),
             *(lot.mixture for lot in ground.lots)]  # fmt: skip
    fresh = []
    for pair in pairs:
        plot_name, sign, text = pair.partition("=")
        if not sign:
            raise BadInputError("the plot", pair, "PLOT=MIXTURE, such as 3-08=Pocketwatch")
        plot = _plot(ground, name, plot_name)
        mixture = next((k for k in known if k.casefold() == text.strip().casefold()), None)
        if mixture is None:
            raise UnknownNameError("mixture", text.strip(), dict.fromkeys(known))
        fresh.append(replace(plot, sown="" if mixture == plot.planned else mixture))
    return _save(book, fresh, reason, when, who)


def leave_out(
    book: Book, zone: str, names: Sequence[str], reason: str, when: str = "today", who: str = "",
    is_back: bool = False,
) -> tuple[Plot, ...]:  # fmt: skip
    """Leave plots out from a day on, with the reason, or take them back in.

    What was read before that day stands; results are shown with and without such plots.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        Zone of the trial; none where there is only one.
    names : sequence of str
        The plots.
    reason : str
        Why; kept with the plot.
    when : str
        From which day.
    who : str
        Who decided.
    is_back : bool
        Whether they are taken back in.

    Raises
    ------
    BadInputError
        If no reason is given.
    UnknownNameError
        If there is no such plot.
    """
    _needs(reason, "why")
    zone_name = trial_zone(book, zone)
    ground = book.ground()
    day = read_past(when, book.today).first
    plots = [_plot(ground, zone_name, each) for each in names]
    if is_back:
        fresh = [replace(plot, left_out_from=None, why_left_out="") for plot in plots]
    else:
        fresh = [replace(plot, left_out_from=day, why_left_out=reason) for plot in plots]
    return _save(book, fresh, reason, when, who)


def read_since(book: Book, zone: str, day: date) -> bool:
    """Tell whether plots of a zone were counted or read from a day on."""
    return any(
        entry.day >= day and isinstance(entry.what, Count | PlotReadings)
        for entry in book.ground().entries(zone)
    )


def record_care(
    book: Book, zone: str, job: str, names: Sequence[str], when: str = "today", amount: str = "",
    reason: str = "", who: str = "",
) -> DiaryEntry:  # fmt: skip
    """Record care that only some plots got, so that it shows beside the result.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        Zone of the trial; none where there is only one.
    job : str
        ``cut``, ``water``, ``feed`` ...
    names : sequence of str
        The plots that got it; ``block 2`` for a whole block.
    when : str
        The day.
    amount : str
        How much, such as ``4 mm`` or ``10 g/m2``.
    reason, who : str
        Why only these, and who did it.

    Raises
    ------
    UnknownNameError
        If there is no such job or plot.
    """
    zone_name = trial_zone(book, zone)
    ground = book.ground()
    kinds = [each.kind for each in CARE]
    word = job.strip().casefold()
    if word not in kinds:
        raise UnknownNameError("care of plots", job, kinds)
    plots: dict[str, None] = {}
    for each in names:
        plots |= dict.fromkeys(_named(ground, zone_name, each))
    unit = {"water": "mm", "feed": "g/m2", "cut": "mm"}.get(word, "")
    much = quantity(amount, unit or "g/m2", "--amount") if amount else None
    what = PlotCare(word, tuple(plots), much, unit if amount else "", reason)
    return write(book, what, read_past(when, book.today), zone=zone_name, who=who)


def _named(ground: Ground, zone: str, text: str) -> list[str]:
    word, _, number = text.strip().casefold().partition(" ")
    if word == "block" and number.isdigit():
        own = [plot.name for plot in _plots(ground, zone) if plot.block == int(number)]
        if own:
            return own
    return [_plot(ground, zone, text).name]


def _plots(ground: Ground, zone: str) -> tuple[Plot, ...]:
    own = (plot for plot in ground.plots if plot.zone == zone)
    return tuple(sorted(own, key=lambda plot: (plot.block, plot.number)))


def _plot(ground: Ground, zone: str, name: str) -> Plot:
    for plot in _plots(ground, zone):
        if plot.name.casefold() == name.strip().casefold():
            return plot
    raise UnknownNameError("plot", name.strip(), [plot.name for plot in _plots(ground, zone)])


def _save(book: Book, plots: Sequence[Plot], reason: str, when: str, who: str) -> tuple[Plot, ...]:
    day = read_past(when, book.today).first
    with book.store.together():
        for plot in plots:
            book.store.save_plot(plot, on=day, who=who, reason=reason)
    return tuple(plots)


def _needs(reason: str, what: str) -> None:
    if not reason.strip():
        raise BadInputError("--reason", "none", f"{what}; it is kept with the plot")


def _weights(used: Mapping[str, str], entries: Sequence[tuple[str, str]]) -> dict[str, float]:
    names = {each.casefold(): name for name, lot in entries for each in (name, lot) if each}
    found = {}
    for what, text in used.items():
        if what.strip().casefold() not in names:
            raise UnknownNameError("mixture or lot of the trial", what, list(names.values()))
        found[names[what.strip().casefold()]] = quantity(text, "g", "--used")
    return found


def _read(ground: Ground, zone: str) -> list[tuple[str, date, int, int]]:
    found = []
    for entry in ground.entries(zone, PlotReadings.kind):
        what = entry.what
        if isinstance(what, PlotReadings):
            read = {each.plot for each in what.readings if each.value is not None}
            missing = {each.plot for each in what.readings} - read
            found.append((what.trait, entry.day, len(read), len(missing)))
    return found


def _readers(ground: Ground, zone: str) -> list[TwoReaders]:
    by: dict[tuple[str, date], dict[str, dict[str, float]]] = {}
    for entry in ground.entries(zone, PlotReadings.kind):
        what = entry.what
        if isinstance(what, PlotReadings):
            for each in what.readings:
                who = each.counter or entry.who
                if each.value is not None and who:
                    own = by.setdefault((what.trait, entry.day), {}).setdefault(who, {})
                    own[each.plot] = each.value
    found = []
    for (trait, _), people in by.items():
        for first, second in combinations(sorted(people), 2):
            shared = [plot for plot in people[first] if plot in people[second]]
            if len(shared) > 1:
                change = paired_change([people[first][p] for p in shared],
                                       [people[second][p] for p in shared])  # fmt: skip
                found.append(TwoReaders(trait, first, second, change))
    return found


def plot_words(plot: Plot) -> str:
    """Tell how a plot stands: as planned, mis-sown, or out since when and why."""
    told = []
    if plot.sown:
        told.append(f"mis-sown: {plot.sown}, planned {plot.planned}")
    if plot.left_out_from is not None:
        told.append(f"out from {say(plot.left_out_from)}: {plot.why_left_out}")
    return "; ".join(told) or "in"
