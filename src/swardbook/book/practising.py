"""Practise counting: the same drawn frames by a learner and a made-up colleague, and the truth.

What is told is how far two people read apart, with its range; nobody is marked.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from swardbook.figures.practice_frame import (
    CROSSINGS,
    KINDS,
    PracticeFrame,
    practice_frame,
)
from swardbook.foundation.chance import Chance
from swardbook.foundation.errors import BadInputError, OutOfRangeError, UnknownNameError
from swardbook.handbook.species import find_species
from swardbook.observations.counts import Method, PlaceCount
from swardbook.observations.overlap import Overlap, counters_overlap

FRAMES = 4
MOST_SETS = 999
YOU, COLLEAGUE, DRAWING = "you", "your colleague", "the drawing"
_TAKES_SOWN_FOR, _MISSES = (0.05, 0.25), (0.0, 0.10)
"""How often a made-up colleague takes sown grass for meadow-grass, and misses it: ranges that a
set's own habit is drawn from, made up for practice only [-]."""
_WEED = "annual meadow-grass"


@dataclass(frozen=True, slots=True)
class PracticeSet:
    """Frames to count.

    Parameters
    ----------
    number : int
        Number of the set; the same number gives the same frames and the same colleague.
    frames : tuple of PracticeFrame
        The frames, with what was drawn.
    """

    number: int
    frames: tuple[PracticeFrame, ...]


@dataclass(frozen=True, slots=True)
class KindBeside:
    """One kind as three read it.

    Parameters
    ----------
    kind : str
        The kind.
    against_drawing, against_colleague, colleague_against_drawing : Overlap
        Differences with their ranges. [points of cover]
    sentences : tuple of str
        What they say.
    """

    kind: str
    against_drawing: Overlap
    against_colleague: Overlap
    colleague_against_drawing: Overlap
    sentences: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PracticeTold:
    """What a learner's counts say beside a colleague's and the drawing.

    Parameters
    ----------
    set : PracticeSet
        The frames.
    yours, colleagues : tuple of mapping of str to int
        Crossings of each kind, frame by frame. [-]
    kinds : tuple of KindBeside
        Kind by kind; one that nobody saw and nobody drew is left out.
    """

    set: PracticeSet
    yours: tuple[Mapping[str, int], ...]
    colleagues: tuple[Mapping[str, int], ...]
    kinds: tuple[KindBeside, ...]


def latin_of(kind: str) -> str:
    """Give the Latin name of a kind that is a plant of one species; empty for others."""
    try:
        return find_species(kind).latin
    except UnknownNameError:
        return ""


def practice_set(number: int) -> PracticeSet:
    """Draw a set of frames.

    Parameters
    ----------
    number : int
        Number of the set, from 1.

    Raises
    ------
    OutOfRangeError
        If there is no set of that number.
    """
    if not 1 <= number <= MOST_SETS:
        raise OutOfRangeError("the set", number, f"1 to {MOST_SETS}", "")
    return PracticeSet(number, tuple(practice_frame(number, n) for n in range(1, FRAMES + 1)))


def colleagues_counts(asked: PracticeSet) -> tuple[Mapping[str, int], ...]:
    """Count the frames as a made-up colleague does, with a habit of their own.

    Parameters
    ----------
    asked : PracticeSet
        The frames.
    """
    chance = Chance(("practice colleague", f"{asked.number}"))
    habit = chance.uniforms("habit", 2)
    takes, misses = (
        low + (high - low) * float(u)
        for (low, high), u in zip((_TAKES_SOWN_FOR, _MISSES), habit, strict=True)
    )
    found = []
    for frame in asked.frames:
        read: Counter[str] = Counter()
        for kind, u in zip(frame.under, chance.uniforms(f"{frame.frame}", CROSSINGS), strict=True):
            if kind == "sown" and u < takes:
                read[_WEED] += 1
            elif kind == _WEED and u < misses:
                read["sown"] += 1
            else:
                read[kind] += 1
        found.append({kind: read[kind] for kind in KINDS})
    return tuple(found)


def set_beside(asked: PracticeSet, counts: Sequence[Mapping[str, int]]) -> PracticeTold:
    """Set a learner's counts beside a colleague's and beside what was drawn.

    Parameters
    ----------
    asked : PracticeSet
        The frames.
    counts : sequence of mapping of str to int
        Crossings of each kind, frame by frame. [-]

    Raises
    ------
    BadInputError
        If a frame is missing, or does not add up to all its crossings.
    """
    yours = tuple({kind: counts[at].get(kind, 0) for kind in KINDS} for at in range(len(counts)))
    if len(yours) != len(asked.frames):
        raise BadInputError("the frames", len(yours), f"counts of all {len(asked.frames)} frames")
    for frame, row in zip(asked.frames, yours, strict=True):
        total = sum(row.values())
        if total != CROSSINGS or min(row.values()) < 0:
            raise BadInputError(
                f"frame {frame.frame}", total, f"{CROSSINGS} crossings in all",
                "Every crossing has one kind under it.",
            )  # fmt: skip
    colleagues = colleagues_counts(asked)
    truth = tuple(frame.truth for frame in asked.frames)
    places = [
        PlaceCount(f"frame {at}", Method.POINTS, {kind: float(n) for kind, n in row.items()},
                   float(CROSSINGS), who)
        for who, rows in ((YOU, yours), (COLLEAGUE, colleagues), (DRAWING, truth))
        for at, row in enumerate(rows, 1)
    ]  # fmt: skip
    seen = [kind for kind in KINDS if any(place.found[kind] for place in places)]
    return PracticeTold(asked, yours, colleagues, tuple(_beside(places, kind) for kind in seen))


def _beside(places: Sequence[PlaceCount], kind: str) -> KindBeside:
    def apart(first: str, second: str) -> Overlap:
        return counters_overlap(places, kind, Method.POINTS, first, second)

    mine, ours, theirs = apart(DRAWING, YOU), apart(COLLEAGUE, YOU), apart(DRAWING, COLLEAGUE)
    return KindBeside(kind, mine, ours, theirs, tuple(_said(each) for each in (mine, ours, theirs)))


def _said(found: Overlap) -> str:
    """Say how far one reads from another, and whether that could be luck."""
    verb = "read" if found.second == YOU else "reads"
    who = f"{found.second[0].upper()}{found.second[1:]}"
    low, high = found.interval
    if found.difference == 0 and low == high:
        return f"{who} {verb} it as {found.first} in every frame."
    told = f"{who} {verb} {_points(found.difference)} than {found.first}"
    if low == high:
        return f"{told} in every frame, too alike to give a range."
    span = f"95\N{NO-BREAK SPACE}% range {_points(low)} to {_points(high)}"
    habit = "That may be luck." if low <= 0 <= high else "That is more than luck: a habit."
    return f"{told} on average ({span}). {habit}"


def _points(size: float) -> str:
    number = f"{abs(size):.0f}"
    unit = "point" if number == "1" else "points"
    return f"{number} {unit} {'less' if size < 0 else 'more'}"
