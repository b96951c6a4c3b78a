"""Pictures of mixtures side by side: means, paths over time, and the plan by figure."""

from __future__ import annotations

from math import exp
from statistics import median
from typing import TYPE_CHECKING

from swardbook.book.pictures import note_of
from swardbook.foundation.dates import say
from swardbook.foundation.errors import NotEnoughDataError
from swardbook.husbandry.happenings import Changed, Cut, Feed, Sow
from swardbook.review.words import figure

if TYPE_CHECKING:
    from swardbook.book.opening import Book
    from swardbook.book.side_by_side import SideBySide
    from swardbook.figures.picture import Picture
    from swardbook.figures.trial_paths import Event
    from swardbook.trials.said import DaySaid


def draw_means(book: Book, found: SideBySide) -> Picture:
    """Draw the means of the day with their ranges.

    Raises
    ------
    NotEnoughDataError
        If nothing is repeated.
    """
    from swardbook.figures.trial_means import MeanDrawn, picture_of_means

    said = _said(found)
    shown = exp if said.read.are_plants else float
    drawn = []
    for at in said.means.ordered(found.asked.lower_first):
        low, high = said.means.own_interval(at)
        if said.read.unit == "%":
            low, high = max(low, 0.0), min(high, 100.0)
        value = shown(float(said.means.values[at]))
        drawn.append(
            MeanDrawn(
                said.means.names[at], value, shown(low), shown(high),
                "" if said.refusals else said.marks[at], int(said.means.plots[at]),
                said.means.names[at] in found.asked.controls,
                figure(value, 0 if value >= 10 or said.read.unit == "%" else 1),
            )
        )  # fmt: skip
    key = (
        "Mixtures that share a group mark, at the right, are not told apart."
        if not said.refusals
        else ""
    )
    plots = int(said.means.plots.sum())
    foot = f"{plots} plots, adjusted for blocks; the plot is the unit. {' '.join(said.refusals)}"
    return picture_of_means(
        _sentence(found, said), drawn, _unit(said), key, foot.strip(), note_of(book)
    )


def draw_paths(book: Book, found: SideBySide) -> Picture:
    """Draw every mixture over time with what was done.

    Raises
    ------
    NotEnoughDataError
        If there are fewer than two days.
    """
    from swardbook.figures.trial_paths import PathDrawn, picture_of_paths

    if len(found.paths) < 2:
        raise NotEnoughDataError("paths over time", "two days or more", str(len(found.paths)))
    shown = exp if found.trait.days[-1].are_plants else float
    names = sorted(name for name in found.paths[-1][1].names
                   if all(name in means.names for _, means in found.paths))  # fmt: skip
    drawn = [
        PathDrawn(
            name, tuple(day for day, _ in found.paths),
            tuple(shown(float(m.values[m.place(name)])) for _, m in found.paths),
        )
        for name in names
    ]  # fmt: skip
    turned = len(found.crossings)
    told = "no two changed places clearly" if not turned else (
        f"{turned} pair{'s' * (turned > 1)} changed places"
    )  # fmt: skip
    sentence = (f"{found.zone}, {found.trait.words} over {len(found.paths)} counts:"
                f" {told}.")  # fmt: skip
    gap = None
    if found.said is not None and found.said.pairs and not found.said.read.are_plants:
        gap = median(each.needed_planned for each in found.said.pairs)
    unit = "plants a m²" if found.trait.days[-1].are_plants else found.trait.days[-1].unit
    return picture_of_paths(sentence, drawn, unit, _events(book, found), note_of(book), gap)


def draw_values(book: Book, found: SideBySide) -> Picture:
    """Draw the plan with the figure of each plot.

    Raises
    ------
    NotEnoughDataError
        If the book does not know where plots lie.
    """
    from swardbook.figures.trial_values import ValuesDrawn, picture_of_values

    plots = found.trait.plots
    if not all(plot.row and plot.column for plot in plots):
        raise NotEnoughDataError("the plan by figure", "rows and columns of plots", "none")
    read = found.trait.day(found.read_on) if found.said is None else found.said.read
    out = {} if found.said is None else {e.plot: e.why for e in found.said.chosen.left_out}
    sentence = f"{found.zone}: {found.trait.words}, plot by plot, {say(read.day)}."
    unit = "plants a m²" if read.are_plants else read.unit
    return picture_of_values(ValuesDrawn(sentence, plots, read.figures, out, unit), note_of(book))


def _said(found: SideBySide) -> DaySaid:
    if found.said is None:
        raise NotEnoughDataError("means with ranges", "three plots of each mixture", "fewer")
    return found.said


def _sentence(found: SideBySide, said: DaySaid) -> str:
    so_far = " so far" if said.is_so_far else ""
    head = f"{found.zone}, {found.trait.words}{so_far}, {say(said.read.day)}"
    if said.refusals:
        return f"{head}: described, not ranked."
    if len(said.level) > 1:
        return f"{head}: too close to call among {', '.join(said.level)}."
    return f"{head}: {said.level[0]} stands clear of the others."


def _unit(said: DaySaid) -> str:
    if said.read.are_plants:
        return "plants a m²"
    return "% of the ground" if said.read.unit == "%" else said.read.unit


def _events(book: Book, found: SideBySide) -> list[Event]:
    from swardbook.figures.trial_paths import Event

    events, height = [], None
    for entry in book.ground().entries(found.zone):
        if entry.zone != found.zone or not entry.when.is_dated:
            continue
        what = entry.what
        if isinstance(what, Sow):
            events.append(Event(entry.day, "sown"))
        elif isinstance(what, Feed):
            events.append(Event(entry.day, "fed"))
        elif isinstance(what, Changed) and what.after == "left out":
            events.append(Event(entry.day, "plot left out"))
        elif isinstance(what, Cut) and what.height_of_cut_mm not in (None, height):
            height = what.height_of_cut_mm
            events.append(Event(entry.day, "height of cut changed"))
    return list(dict.fromkeys(events))
