"""Set a trial out: what is compared, drawn and laid out, what it can show, what would spoil it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import sqrt
from zlib import crc32

from swardbook.book.fields import quantity
from swardbook.book.mowing import one_zone, sides_of
from swardbook.book.opening import Book
from swardbook.book.trial_care import SET_OUT
from swardbook.book.trial_entries import read_entries
from swardbook.book.trial_shows import OnceShown, what_it_shows, what_once_shows
from swardbook.book.trial_traits import Measure, measure_of
from swardbook.foundation.errors import BadInputError
from swardbook.handbook.parameters import value
from swardbook.husbandry.ground import Zone
from swardbook.seed.comfort import weigh_comfort
from swardbook.trials.bags import Bag, Entry, Weighed, bags, weighed
from swardbook.trials.design import Design, Drawn, Kind, read_kind, shape
from swardbook.trials.layout import Laid, PlotSize, fits, lay, size_of_plot
from swardbook.trials.power import Shown
from swardbook.trials.shuffling import draw, tub_moves
from swardbook.trials.spoils import Facts, Look, what_spoils

__all__ = ["SET_OUT", "TrialAsked", "TrialSetOut", "describe", "set_out_trial"]


@dataclass(frozen=True, slots=True)
class TrialAsked:
    """A trial as it is asked for; what is empty or None takes the usual.

    Parameters
    ----------
    mixtures : tuple of str
        ``Bobbin``, ``BB-0417`` or ``Bobbin=30``; bare rates are g/m².
    design : str
        A design by its word: ``blocks``, ``latin`` ...
    repeats : int or None
        Blocks, or plots of each.
    control : bool
        Whether an unsown control is added.
    within, once : tuple of str
        Heights or feeds within mixtures; mixtures that stand once.
    rows : int
        Rows of a block or square; 0 lets the ground choose.
    plot, path, guard, sides, height : str
        Lengths as typed: ``1.5x2``, ``0.75``, ``1``, ``20.25x9.5``, ``10``.
    passes : int or None
        Mower passes across a plot.
    ends, across : str
        Words for first and last end, and for left and right: ``wet south, dry north``.
    tap, sun, favourite : str
        Where the tap is, where it is sunniest, which mixture is liked already.
    is_along : bool
        Whether blocks are wanted along the way in which the ground changes.
    trait : str
        What the trial is to show; empty takes cover of annual meadow-grass, colour for tubs.
    gap, sd, sd_whole : float or None
        Gap to be found, spread from plot to plot, and spread of whole plots beyond it in a split
        plot. [unit of the trait]
    level : float or None
        Supposed ground cover where it is lower. [%]
    seed : int or None
        Seed of the draw.
    """

    mixtures: tuple[str, ...]
    design: str = "blocks"
    repeats: int | None = None
    control: bool = True
    within: tuple[str, ...] = ()
    once: tuple[str, ...] = ()
    rows: int = 0
    plot: str = ""
    path: str = ""
    guard: str = ""
    sides: str = ""
    height: str = ""
    passes: int | None = None
    ends: str = ""
    across: str = ""
    tap: str = ""
    sun: str = ""
    favourite: str = ""
    is_along: bool = False
    trait: str = ""
    gap: float | None = None
    sd: float | None = None
    seed: int | None = None
    sd_whole: float | None = None
    level: float | None = None


@dataclass(frozen=True, slots=True)
class TrialSetOut:
    """A trial set out.

    Parameters
    ----------
    zone : str
        Where.
    asked : TrialAsked
        What was asked.
    drawn : Drawn
        The draw.
    laid : Laid or None
        Where plots lie; None where the book does not know it.
    entries : mapping of str to Entry
        What is compared, by name.
    bags : tuple of Bag
        Seed of every plot.
    weighed : tuple of Weighed
        What to weigh out of each lot.
    measure : Measure
        What it is set out to show.
    shown : Shown or None
        What it can show; None where nothing is left to judge by.
    within : Shown or None
        The same for heights or feeds within a mixture.
    facts : Facts
        What is known of the ground.
    looks : tuple of Look
        What would spoil it.
    odd : tuple of str
        What looked odd in what was typed, and whether it fits the ground.
    moves : tuple of tuple of str
        Tubs by name in the order of their places, after each move; empty for plots.
    once : OnceShown or None
        What it can show of mixtures that stand once.
    """

    zone: str
    asked: TrialAsked
    drawn: Drawn
    laid: Laid | None
    entries: Mapping[str, Entry]
    bags: tuple[Bag, ...]
    weighed: tuple[Weighed, ...]
    measure: Measure
    shown: Shown | None
    within: Shown | None
    facts: Facts
    looks: tuple[Look, ...]
    odd: tuple[str, ...]
    moves: tuple[tuple[str, ...], ...] = ()
    once: OnceShown | None = None

    @property
    def title(self) -> str:
        """What it is, in words."""
        design = self.drawn.design
        number = len(design.entries) + len(design.new)
        times = f"{design.blocks} blocks" if design.kind is Kind.BLOCKS else design.kind.value
        things = "tubs" if design.kind is Kind.TUBS else "plots"
        times = "shuffled over the bench" if design.kind is Kind.TUBS else times
        return f"{self.zone}: {number} entries, {len(self.drawn.slots)} {things}, {times}"


def set_out_trial(book: Book, zone: str, asked: TrialAsked) -> TrialSetOut:
    """Set a trial out in a zone.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        The zone by name; none where there is only one.
    asked : TrialAsked
        What is asked.

    Raises
    ------
    BadInputError
        If it cannot be drawn, or does not fit the ground.
    UnknownNameError
        If a mixture, trait, design or zone is not known.
    """
    ground = book.ground()
    place = ground.zone(one_zone(book, zone))
    entries = read_entries(ground, asked.mixtures, asked.control)
    new = read_entries(ground, asked.once, False)
    kind = read_kind(asked.design)
    size = plot_size(place, asked, kind)
    guard = _metres(asked.guard, "--guard", 0.0 if kind is Kind.TUBS else value("trial.guard"))
    path = _metres(asked.path, "--path", 0.0 if kind is Kind.TUBS else value("trial.path"))
    sides = sides_of(ground, place.name, asked.sides)
    names = tuple(entry.name for entry in entries)
    design = Design(kind, names, _repeats(asked, kind, len(entries)), asked.within,
                    tuple(entry.name for entry in new), asked.rows)  # fmt: skip
    design = _with_rows(design, size, _room(sides, guard, path, design.blocks))
    drawn = draw(design, _seed(book, place.name, asked))
    laid = lay(drawn, size, path, guard)
    named = {entry.name: entry for entry in (*entries, *new)}
    return describe(book, place, asked, drawn, laid, named, _fit(laid, sides, place, kind))


def describe(
    book: Book, place: Zone, asked: TrialAsked, drawn: Drawn, laid: Laid | None,
    entries: Mapping[str, Entry], odd: tuple[str, ...] = (), uneven: tuple[str, ...] = (),
    is_sown: bool = False,
) -> TrialSetOut:  # fmt: skip
    """Say of a plan what it can show and what would spoil it.

    Parameters
    ----------
    book : Book
        The opened book.
    place : Zone
        Where.
    asked : TrialAsked
        What was asked.
    drawn : Drawn
        The draw.
    laid : Laid or None
        Where plots lie.
    entries : mapping of str to Entry
        What is compared, by name.
    odd, uneven : tuple of str
        What looked odd, and care that was not alike, in words.
    is_sown : bool
        Whether it is sown, so that the plan stands.
    """
    usual = "colour" if drawn.design.kind is Kind.TUBS else "annual meadow-grass"
    measure = measure_of(book.ground(), asked.trait or usual, asked.gap, asked.sd,
                         asked.level)  # fmt: skip
    facts = replace(_facts(asked, place, entries, uneven), is_sown=is_sown)
    every = bags(laid, entries) if laid is not None else ()
    spare = value("trial.spare")
    return TrialSetOut(
        place.name, asked, drawn, laid, entries, every, weighed(every, spare), measure,
        what_it_shows(drawn, measure, sd_whole=_above_nought(asked.sd_whole)),
        what_it_shows(drawn, measure, within=True), facts,
        what_spoils(drawn, laid, facts), odd, _moves(drawn), what_once_shows(drawn, measure),
    )  # fmt: skip


def plot_size(place: Zone, asked: TrialAsked, kind: Kind) -> PlotSize:
    """Give the size of a plot in passes of the zone's mower; tubs and single plots need none.

    Raises
    ------
    BadInputError
        If the sides cannot be read, or passes do not cover them.
    """
    width = length = None
    if asked.plot:
        parts = re.split(r"\s*[x×]\s*", asked.plot.strip(), flags=re.IGNORECASE)
        if len(parts) != 2 or not all(parts):
            raise BadInputError("--plot", asked.plot, "width and length, such as 1.5x2")
        width, length = (quantity(part, "m", "--plot") / 1000 for part in parts)
    if kind is Kind.TUBS:
        if width is None:
            raise BadInputError("--plot", "none", "the sides of a tub, such as 0.4x0.6")
        return size_of_plot(None, width, length)
    if kind is Kind.STRIPS and length is None:
        length = value("trial.strip_length_least") / 1000
    return size_of_plot(place.mower.width_mm / 1000, width, length, asked.passes)


def _above_nought(spread: float | None) -> float | None:
    if spread is not None and not spread > 0:
        raise BadInputError("--sd-whole", spread, "above 0")
    return spread


def _moves(drawn: Drawn) -> tuple[tuple[str, ...], ...]:
    if drawn.design.kind is not Kind.TUBS or drawn.seed is None:
        return ()
    return tub_moves(drawn, round(value("trial.tub_moves")))


def _room(
    sides: tuple[float, float] | None, guard: float, path: float, blocks: int
) -> tuple[float, float]:
    """Width and length that a block may have; nought where the ground is not known."""
    if sides is None:
        return 0.0, 0.0
    long = (max(sides) - 2 * guard - (blocks - 1) * path) / blocks
    return max(min(sides) - 2 * guard, 0.0), max(long, 0.0)


def _with_rows(design: Design, size: PlotSize, room_m: tuple[float, float]) -> Design:
    in_block = len(design.entries)
    if design.kind is Kind.TUBS:
        in_block, room_m = in_block * design.blocks, (0.0, 0.0)
    if design.rows or design.kind in {Kind.LATIN, Kind.SPLIT}:
        return design
    rows = 1
    if design.kind is Kind.ROW_COLUMN:
        rows = _oblong(design.plots, design.blocks)
    elif design.kind in {Kind.BLOCKS, Kind.TUBS, Kind.SINGLE}:
        rows = shape(in_block, size.width_m, size.length_m, *room_m)
    elif design.kind is Kind.AUGMENTED:
        in_block += -(-len(design.new) // design.blocks)
        rows = shape(in_block, size.width_m, size.length_m, *room_m)
    return Design(design.kind, design.entries, design.blocks, design.levels, design.new, rows)


def _oblong(plots: int, repeats: int) -> int:
    """Rows for rows and columns: as many as repeats if that divides, else nearest a square."""
    if repeats > 1 and plots % repeats == 0:
        return repeats
    return max(rows for rows in range(1, round(sqrt(plots)) + 1) if plots % rows == 0)


def _repeats(asked: TrialAsked, kind: Kind, entries: int) -> int:
    if asked.repeats is not None:
        return asked.repeats
    usual = {Kind.LATIN: entries, Kind.SINGLE: 1, Kind.TUBS: round(value("trial.tubs"))}
    return usual.get(kind, round(value("trial.blocks")))


def _seed(book: Book, zone: str, asked: TrialAsked) -> int:
    if asked.seed is not None:
        return asked.seed
    text = "|".join((zone, f"{book.today}", asked.design, *asked.mixtures, *asked.once))
    return crc32(text.encode())


def _metres(text: str, name: str, usual_mm: float) -> float:
    return quantity(text, "m", name) / 1000 if text else usual_mm / 1000


def _fit(laid: Laid, sides: tuple[float, float] | None, place: Zone, kind: Kind) -> tuple[str, ...]:
    """Refuse what does not fit; say where only the area is known."""
    needed = f"{laid.length_m:g} by {laid.width_m:g} m, guards included"
    if kind is Kind.TUBS:
        return ()
    if sides is None:
        if laid.length_m * laid.width_m > place.area_m2 + 0.01:
            raise BadInputError(
                "the ground", f"{place.area_m2:g} m²", f"at least {needed}",
                "Fewer plots, smaller ones, or another zone.",
            )  # fmt: skip
        told = "the sides of the zone are not known: tape them and give --sides"
        return (f"It takes {needed}; {told}.",)
    along, across = fits(laid, sides)
    if along:
        return ()
    if across:
        return ("It fits with its length along the short side of the zone.",)
    raise BadInputError(
        "the ground", f"{sides[0]:g} by {sides[1]:g} m", f"at least {needed}",
        "Fewer plots, smaller ones, other rows (--rows), or another zone.",
    )  # fmt: skip


def _facts(
    asked: TrialAsked, place: Zone, entries: Mapping[str, Entry], uneven: tuple[str, ...]
) -> Facts:
    height = quantity(asked.height, "mm", "--height") if asked.height else place.height_of_cut_mm
    comfort = {e.name: weigh_comfort(e.parts, height) for e in entries.values() if e.parts}
    return Facts(
        _two(asked.ends, "--ends"), _two(asked.across, "--across"), asked.tap, asked.sun,
        not asked.is_along, height, comfort, uneven, asked.favourite,
    )  # fmt: skip


def _two(text: str, name: str) -> tuple[str, str]:
    if not text.strip():
        return "", ""
    parts = [part.strip() for part in re.split(r",| to ", text)]
    if len(parts) != 2 or not all(parts):
        raise BadInputError(name, text, "two ends, such as 'wet south, dry north'")
    return parts[0], parts[1]
