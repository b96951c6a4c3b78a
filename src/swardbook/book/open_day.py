"""Open day: guesses first, then the counts; a shuffle to be watched, and the blocks explained.

Guesses are kept as numbers of people and nothing else: no visitor's name or word is asked for.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from swardbook.book.open_day_guesses import (
    OTHER,
    QUESTIONS,
    guesses_kept,
    mixtures_of,
    question_of,
)
from swardbook.book.open_day_told import Tellings, Told
from swardbook.book.opening import Book
from swardbook.book.pictures import note_of
from swardbook.book.trial_kept import trial_zone
from swardbook.figures.picture import Picture
from swardbook.foundation.dates import say
from swardbook.foundation.errors import BadInputError, NotEnoughDataError
from swardbook.handbook.species import ANNUAL_MEADOW_GRASS
from swardbook.review.words import figure
from swardbook.trials.luck_shown import Dealt, as_dealt, dealt_anew

MOST_SHUFFLES = 200


@dataclass(frozen=True, slots=True)
class Ranked:
    """One mixture: how many guessed it, and what was measured of it; None where nothing was."""

    name: str
    guesses: int
    measured: float | None
    words: str


@dataclass(frozen=True, slots=True)
class Reveal:
    """Eyes beside counts.

    Parameters
    ----------
    question, asks : str
        Which question, and how it is asked.
    guessed_on : date
        When the guesses were written down.
    guesses : int
        How many there are.
    rows : tuple of Ranked
        Mixtures, the most guessed first.
    eyes, counts : tuple of str
        Whom most eyes chose; who is first by measure, with all not told apart from it.
    sentence : str
        Where eyes and measure agree or part.
    weeds : str
        What the counts say of the eyes' choice: liking stands apart from weeds.
    """

    question: str
    asks: str
    guessed_on: date
    guesses: int
    rows: tuple[Ranked, ...]
    eyes: tuple[str, ...]
    counts: tuple[str, ...]
    sentence: str
    weeds: str


@dataclass(frozen=True, slots=True)
class Measured:
    """What was measured for a question.

    Parameters
    ----------
    question, asks : str
        Which question, and how it is asked.
    rows : tuple of tuple of str
        Mixture and figure, the first first; empty where nothing was measured.
    first : tuple of str
        The first, with all not told apart from it.
    sentence : str
        Who that is, or that nobody measured it.
    """

    question: str
    asks: str
    rows: tuple[tuple[str, str], ...]
    first: tuple[str, ...]
    sentence: str


@dataclass(frozen=True, slots=True)
class ShuffleShown:
    """A shuffle to be watched.

    Parameters
    ----------
    plots : tuple of str
        The plots, block by block.
    real : Dealt
        The trial as it was sown.
    dealt : tuple of Dealt
        What luck deals, shuffle by shuffle.
    unit : str
        Unit of the gaps.
    sentence : str
        What it shows.
    """

    plots: tuple[str, ...]
    real: Dealt
    dealt: tuple[Dealt, ...]
    unit: str
    sentence: str


@dataclass(frozen=True, slots=True)
class BlocksShown:
    """Each block with its mean, and what was done about the ground being uneven."""

    means: tuple[tuple[str, float], ...]
    unit: str
    sentence: str


@dataclass(frozen=True, slots=True)
class OpenDay:
    """What an audience page needs before the reveal: no figure is in it.

    Parameters
    ----------
    zone : str
        The zone of the trial.
    mixtures : tuple of str
        What may be guessed, in the order of the alphabet.
    asked : tuple of tuple of str
        Each question's key and words.
    guessed : mapping of str to int
        Guesses written down, by question.
    """

    zone: str
    mixtures: tuple[str, ...]
    asked: tuple[tuple[str, str], ...]
    guessed: Mapping[str, int]


def open_day(book: Book, zone: str = "") -> OpenDay:
    """Give what is asked of the audience, and how many have guessed; nothing that was measured.

    Raises
    ------
    NotEnoughDataError
        If there is no trial.
    UnknownNameError
        If there is no such zone.
    """
    name = trial_zone(book, zone)
    guessed = {key: sum(guesses_kept(book, name, key)[1].values()) for key in QUESTIONS}
    return OpenDay(
        name, mixtures_of(book, name), tuple((key, asks) for key, (_, asks) in QUESTIONS.items()),
        {key: number for key, number in guessed.items() if number},
    )  # fmt: skip


def reveal(tellings: Tellings, question: str) -> Reveal:
    """Set the guesses beside what was measured; refused until guesses are written down.

    Raises
    ------
    NotEnoughDataError
        If no guess is written down yet.
    UnknownNameError
        If there is no such question.
    """
    key = question_of(question)
    day, guesses = guesses_kept(tellings.book, tellings.zone, key)
    if day is None:
        raise NotEnoughDataError(
            f"the reveal of {key}", "guesses written down first (swardbook open-day --guess)",
            "none",
        )  # fmt: skip
    trait, asks = QUESTIONS[key]
    found = tellings.of(trait)
    measured = {} if found is None else _means(found)
    unit = "" if found is None else found.said.read.unit
    rows = tuple(
        Ranked(each, number, measured.get(each), _words(measured.get(each), unit))
        for each, number in sorted(guesses.items(), key=lambda one: (-one[1], one[0]))
    )
    total, most = sum(guesses.values()), max(guesses.values())
    eyes = tuple(each.name for each in rows if each.guesses == most and each.name != OTHER)
    counts = () if found is None else _first(found)
    return Reveal(
        key, asks, day, total, rows, eyes, counts,
        _parting(eyes, counts, most, total, key, trait),
        "" if trait == ANNUAL_MEADOW_GRASS else _weeds(tellings, eyes),
    )  # fmt: skip


def measures(tellings: Tellings) -> tuple[Measured, ...]:
    """Give what was measured for each question: what a page keeps shut until all have guessed."""
    found = []
    for key, (trait, asks) in QUESTIONS.items():
        told = tellings.of(trait)
        if told is None:
            found.append(Measured(key, asks, (), (), f"Nobody measured the {trait} here."))
            continue
        said = told.said
        unit = said.read.unit
        rows = tuple(
            (said.means.names[at], _words(float(said.means.values[at]), unit))
            for at in said.means.ordered(told.asked.lower_first)
        )
        first = _first(told)
        found.append(
            Measured(key, asks, rows, first,
                     f"{', '.join(first)}: first, or not told apart from the first,"
                     f" {say(said.read.day)}."),
        )  # fmt: skip
    return tuple(found)


def shuffle_shown(tellings: Tellings, number: int = 20, seed: int = 1) -> ShuffleShown:
    """Deal the mixtures to the plots anew, so that all can watch what luck alone does.

    Parameters
    ----------
    tellings : Tellings
        What was measured.
    number : int
        How many shuffles.
    seed : int
        Seed of the shuffles.

    Raises
    ------
    BadInputError
        If there are none or too many shuffles.
    NotEnoughDataError
        If the plots were never counted.
    """
    if not 1 <= number <= MOST_SHUFFLES:
        raise BadInputError("shuffles", number, f"1 to {MOST_SHUFFLES}")
    found = tellings.weeds()
    chosen, unit = found.said.chosen, found.said.read.unit
    real = as_dealt(chosen.values, chosen.entry)
    dealt = dealt_anew(chosen.values, chosen.entry, chosen.block, number, seed)
    widest = max(each.gap for each in dealt)
    as_wide = sum(each.gap >= real.gap for each in dealt)
    points = "points" if unit == "%" else unit
    return ShuffleShown(
        tuple(plot.name for plot in chosen.plots), real, dealt, unit,
        f"Luck alone put the best and the worst up to {figure(widest)} {points} apart in {number}"
        f" shuffles. As sown they are {figure(real.gap)} apart;"
        f" {as_wide or 'no'} shuffle{'s' * (as_wide > 1)} did as much.",
    )  # fmt: skip


def blocks_shown(tellings: Tellings) -> BlocksShown:
    """Say how uneven the ground is, block by block, and what was done about it.

    Raises
    ------
    NotEnoughDataError
        If the plots were never counted.
    """
    found = tellings.weeds()
    chosen, unit = found.said.chosen, found.said.read.unit
    means = tuple(
        (level, float(chosen.values[chosen.block.codes == at].mean()))
        for at, level in enumerate(chosen.block.levels)
    )
    low, high = min(mean for _, mean in means), max(mean for _, mean in means)
    return BlocksShown(
        means, unit,
        f"Is one part of the ground worse? Yes: blocks go from {figure(low)} to {figure(high)}"
        f" {unit}. So every mixture stands in every block, where lots put it, and mixtures are"
        " compared within blocks.",
    )  # fmt: skip


def plan_shown(tellings: Tellings) -> Picture:
    """Draw the plan with the figure of each plot, so that all see the ground is uneven.

    Raises
    ------
    NotEnoughDataError
        If the plots were never counted, or the book does not know where they lie.
    """
    from swardbook.figures.trial_values import ValuesDrawn, picture_of_values

    found = tellings.weeds()
    plots, read = found.trait.plots, found.said.read
    if not all(plot.row and plot.column for plot in plots):
        raise NotEnoughDataError("the plan by figure", "rows and columns of plots", "none")
    out = {each.plot: each.why for each in found.said.chosen.left_out}
    sentence = f"{tellings.zone}: {found.trait.words}, plot by plot, {say(read.day)}."
    unit = "plants a m²" if read.are_plants else read.unit
    drawn = ValuesDrawn(sentence, plots, read.figures, out, unit)
    return picture_of_values(drawn, note_of(tellings.book))


def _means(found: Told) -> dict[str, float]:
    means = found.said.means
    return {name: float(means.values[at]) for at, name in enumerate(means.names)}


def _words(measured: float | None, unit: str) -> str:
    return "not measured" if measured is None else f"{figure(measured)} {unit}".strip()


def _first(found: Told) -> tuple[str, ...]:
    said = found.said
    if said.level:
        return said.level
    order = said.means.ordered(found.asked.lower_first)
    names = [said.means.names[at] for at in order]
    return tuple(names[:1])


def _parting(
    eyes: tuple[str, ...], counts: tuple[str, ...], most: int, total: int, key: str, trait: str
) -> str:
    chose = f"Eyes chose {' and '.join(eyes) or 'no single one'}: {most} of {total} guesses."
    if not counts:
        return f"{chose} Nobody measured the {trait} here, so eyes stand alone."
    first = ", ".join(counts)
    by = "The counts put" if key == "fewest weeds" else "The readings put"
    if set(eyes) & set(counts):
        return f"{chose} {by} {first} first, not told apart: eyes and counts agree."
    return f"{chose} {by} {first} first: here eyes and counts part."


def _weeds(tellings: Tellings, eyes: tuple[str, ...]) -> str:
    """Say how many weeds the eyes' choice has, and its place; empty where none were counted."""
    found = tellings.of(ANNUAL_MEADOW_GRASS)
    if found is None or not eyes:
        return ""
    means = _means(found)
    order = sorted(means, key=lambda name: means[name])
    unit = found.said.read.unit
    told = [
        f"{name} had {figure(means[name])} {unit} {found.trait.words} on"
        f" {say(found.said.read.day)}, place {order.index(name) + 1} of {len(order)}"
        for name in eyes if name in means
    ]  # fmt: skip
    return f"Liking is one thing, weeds another: {'; '.join(told)}." if told else ""
