"""Plots side by side by their photographs, within one session and never across."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import combinations

from swardbook.book.diary import write
from swardbook.book.opening import Book
from swardbook.foundation.dates import When, say
from swardbook.foundation.errors import NotEnoughDataError, RefusedError
from swardbook.handbook.parameters import value
from swardbook.handbook.traits import all_traits
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.happenings import PlotReadings
from swardbook.husbandry.photographs import Photograph
from swardbook.husbandry.plot_records import PlotReading

TRAIT = "dark green index"


@dataclass(frozen=True, slots=True)
class PlotSeen:
    """One plot in a session: the mean of its pictures, which are no repeats of it.

    Parameters
    ----------
    plot : str
        The plot.
    colour_index : float
        Dark green colour index. [-]
    cover : float
        Share covered by green leaf. [-]
    pictures : int
        Pictures it is the mean of.
    """

    plot: str
    colour_index: float
    cover: float
    pictures: int


@dataclass(frozen=True, slots=True)
class Pair:
    """Two plots beside each other.

    Parameters
    ----------
    one, other : str
        The plots.
    colour, cover : float
        The first less the second. [-]
    is_colour_apart, is_cover_apart : bool
        Whether that is more than pictures of the same thing differ.
    """

    one: str
    other: str
    colour: float
    cover: float
    is_colour_apart: bool
    is_cover_apart: bool


@dataclass(frozen=True, slots=True)
class SideBySide:
    """Plots of one session side by side.

    Parameters
    ----------
    zone : str
        The zone.
    when : When
        The day.
    camera : str
        The camera.
    plots : tuple of PlotSeen
        The plots by name.
    pairs : tuple of Pair
        Each with each.
    left_out : tuple of str
        Pictures that were left out, and why.
    kept : DiaryEntry or None
        The readings, where they were kept for the analysis of the trial.
    """

    zone: str
    when: When
    camera: str
    plots: tuple[PlotSeen, ...]
    pairs: tuple[Pair, ...]
    left_out: tuple[str, ...]
    kept: DiaryEntry | None = None


def side_by_side(
    book: Book, zone: str, plots: Sequence[str] = (), keep: bool = False
) -> SideBySide:
    """Compare the last photographs of plots, if they are of one session.

    Parameters
    ----------
    book : Book
        The opened book.
    zone : str
        The zone.
    plots : sequence of str
        Plots; none takes all that were photographed on the last day.
    keep : bool
        Whether the index is kept as readings of the trial.

    Raises
    ------
    NotEnoughDataError
        If fewer than two plots have a picture whose colour stands.
    RefusedError
        If the pictures are of different days, cameras or tones.
    UnknownNameError
        If there is no such zone.
    """
    ground = book.ground()
    name = ground.zone(zone).name
    wanted = {plot.strip().casefold() for plot in plots}
    entries = [
        (entry, entry.what)
        for entry in ground.entries(name, Photograph.kind)
        if isinstance(entry.what, Photograph) and entry.what.plot
        and (not wanted or entry.what.plot.casefold() in wanted)
    ]  # fmt: skip
    last = entries[-1][0].day if entries else None
    if wanted:
        entries = [each for each in entries if each[0].day == _last_day(entries, each[1].plot)]
    else:
        entries = [each for each in entries if each[0].day == last]
    good = [each for each in entries if not each[1].faults and each[1].colour_index is not None]
    left_out = tuple(
        f"{what.plot}: {', '.join(what.faults) or 'too little leaf for a colour'}"
        for entry, what in entries if (entry, what) not in good
    )  # fmt: skip
    if len({what.plot for _, what in good}) < 2:
        raise NotEnoughDataError(
            f"plots of {name} side by side", "pictures of two plots or more, with all four cards"
            " and no fault, of one session", f"{len({what.plot for _, what in good})}",
        )  # fmt: skip
    _check_session(good)
    seen = _plots_seen([what for _, what in good])
    when = good[-1][0].when
    kept = _keep(book, name, when, seen) if keep else None
    return SideBySide(name, when, good[-1][1].camera, seen, _pairs(seen), left_out, kept)


def _last_day(entries: Sequence[tuple[DiaryEntry, Photograph]], plot: str) -> object:
    return max(entry.day for entry, what in entries if what.plot == plot)


def _check_session(good: Sequence[tuple[DiaryEntry, Photograph]]) -> None:
    days = sorted({entry.day for entry, _ in good})
    cameras = sorted({what.camera or "not written" for _, what in good})
    moments = [datetime.fromisoformat(what.taken_at) for _, what in good if what.taken_at]
    tones = [what.tone for _, what in good if what.tone is not None]
    hours = value("photo_session_h")
    reason = ""
    if len(days) > 1:
        reason = f"the pictures are of {len(days)} days, {say(days[0])} to {say(days[-1])}."
    elif len(cameras) > 1:
        reason = f"they are by {len(cameras)} cameras: {', '.join(cameras)}."
    elif moments and (max(moments) - min(moments)).total_seconds() > hours * 3600:
        reason = f"they were taken more than {hours:g} hours apart, so the light was another."
    elif tones and max(tones) / max(min(tones), 1e-6) > 1 + value("photo_session_tone_most"):
        reason = "the grey of the cards came out differently: the phone changed its tones."
    if reason:
        raise RefusedError(
            "Colour is not compared", reason,
            "Photograph the plots in one go, with one phone and the same cards.",
        )  # fmt: skip


def _plots_seen(good: Sequence[Photograph]) -> tuple[PlotSeen, ...]:
    found = []
    for plot in sorted({what.plot for what in good}):
        own = [what for what in good if what.plot == plot]
        index = [what.colour_index for what in own if what.colour_index is not None]
        cover = [what.cover for what in own if what.cover is not None]
        found.append(
            PlotSeen(plot, sum(index) / len(index), sum(cover) / len(cover), len(own))
        )  # fmt: skip
    return tuple(found)


def _pairs(seen: Sequence[PlotSeen]) -> tuple[Pair, ...]:
    colour_error, cover_error = value("photo_colour_error"), value("photo_cover_error")
    return tuple(
        Pair(
            a.plot, b.plot, a.colour_index - b.colour_index, a.cover - b.cover,
            abs(a.colour_index - b.colour_index) > colour_error,
            abs(a.cover - b.cover) > 2 * cover_error,
        )
        for a, b in combinations(seen, 2)
    )  # fmt: skip


def _keep(book: Book, zone: str, when: When, seen: Sequence[PlotSeen]) -> DiaryEntry:
    readings = tuple(PlotReading(each.plot, each.colour_index, "photograph") for each in seen)
    what = PlotReadings(TRAIT, all_traits()[TRAIT].unit, f"photographs {say(when.first)}", readings)
    return write(book, what, when, zone=zone)
