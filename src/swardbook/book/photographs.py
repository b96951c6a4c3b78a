"""Read photographs of plots and keep what they say; one picture is one entry."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum
from pathlib import Path
from uuid import UUID

from swardbook.book.diary import write
from swardbook.book.fields import quantity
from swardbook.book.opening import Book
from swardbook.book.photo_dates import day_of
from swardbook.book.photo_files import KeptFiles, keep_files, pass_of, pictures_at, read_bytes
from swardbook.foundation.errors import BadInputError, NotEnoughDataError, UnknownNameError
from swardbook.foundation.quantities import require
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground
from swardbook.husbandry.looks import Doubt
from swardbook.husbandry.photographs import Photograph
from swardbook.photos.covering import Pass
from swardbook.photos.opening import Photo, look_at
from swardbook.photos.reading import PlotPicture, read_photo
from swardbook.photos.touching import Taught, Touch, cover_by_touch


class State(StrEnum):
    """What became of a picture."""

    KEPT = "kept"
    ASKED = "asked"
    THERE = "there already"
    REFUSED = "refused"
    READ = "read, not kept"


@dataclass(frozen=True, slots=True)
class Asked:
    """What was said of the pictures.

    Parameters
    ----------
    zone : str
        The zone.
    plots : tuple of str
        Plots: one for all pictures, or one for each; none takes them from the files' names.
    when : str
        The day as typed; empty takes the camera's.
    trusts_camera : bool
        Whether an odd camera date is right.
    cards : bool
        Whether to look for cards.
    size_mm : tuple of float or None
        Sides of the plot, where they were measured. [mm]
    touches : tuple of tuple
        Kind and place as typed, of one picture.
    keep : bool
        Whether to keep what is read.
    who, note : str
        As typed.
    id : UUID or None
        Made on the device that sent the picture; None makes one.
    """

    zone: str = ""
    plots: tuple[str, ...] = ()
    when: str = ""
    trusts_camera: bool = False
    cards: bool = True
    size_mm: tuple[float, float] | None = None
    touches: tuple[tuple[str, str], ...] = ()
    keep: bool = True
    who: str = ""
    note: str = ""
    id: UUID | None = None


@dataclass(frozen=True, slots=True)
class PhotoRead:
    """What became of one file, and what it says.

    Parameters
    ----------
    file : str
        Name of the file.
    state : State
        What became of it.
    words : str
        The question or the refusal; empty where it was kept.
    plot : str
        The plot.
    photo : Photo or None
        The picture; its bytes are let go.
    reading : PlotPicture or None
        What it says; of several, only the first has its pixels still.
    taught : Taught or None
        Cover by kind, where it was taught.
    lack : str
        Why there is no cover by kind though it was touched.
    entry : DiaryEntry or None
        The entry that was kept.
    files : KeptFiles or None
        Its copies.
    """

    file: str
    state: State
    words: str = ""
    plot: str = ""
    photo: Photo | None = field(default=None, repr=False)
    reading: PlotPicture | None = None
    taught: Taught | None = None
    lack: str = ""
    entry: DiaryEntry | None = None
    files: KeptFiles | None = None


def read_photographs(
    book: Book, paths: Sequence[Path], asked: Asked, tell: Callable[[str], None] = lambda _: None
) -> tuple[PhotoRead, ...]:
    """Read pictures one by one; what is wrong with one does not touch the others.

    Parameters
    ----------
    book : Book
        The opened book.
    paths : sequence of Path
        The files, which are only read; a folder stands for the pictures right in it.
    asked : Asked
        What was said of them.
    tell : callable
        Told in words how far it is.

    Raises
    ------
    BadInputError
        If the plots do not fit the files, several pictures share one set of touches, or a folder
        holds none.
    UnknownNameError
        If there is no such zone or plot.
    """
    ground, paths = book.ground(), pictures_at(paths)
    zone = ground.zone(asked.zone).name if asked.zone else ""
    plots = _plots(ground, zone, paths, asked.plots)
    if asked.touches and len(paths) > 1:
        raise BadInputError("--touch", f"{len(paths)} pictures", "one picture at a time",
                            "Places are those of one picture.")  # fmt: skip
    run, known = pass_of(book.settings), _known(ground)
    found: list[PhotoRead] = []
    for number, (path, plot) in enumerate(zip(paths, plots, strict=True), 1):
        if len(paths) > 1:
            tell(f"{number} of {len(paths)}: {path.name}")
        one = _read_one(book, path, zone, plot, asked, run, known)
        if one.photo is not None and one.entry is not None:
            known[one.photo.mark] = one.entry
        has_pixels = any(each.reading is not None for each in found)
        found.append(_lightened(one, keeps_plot=not has_pixels))
    return tuple(found)


def _lightened(one: PhotoRead, keeps_plot: bool) -> PhotoRead:
    """Let go of a picture's bytes, and of all plots but the first: a batch must fit in memory."""
    photo, reading = one.photo, one.reading
    if photo is not None:
        photo = replace(photo, held=b"", to_share=b"")
    if reading is not None and not keeps_plot:
        reading = replace(reading, plot=reading.plot[:0])
    return replace(one, photo=photo, reading=reading)


def _read_one(
    book: Book, path: Path, zone: str, plot: str, asked: Asked, run: Pass,
    known: dict[str, DiaryEntry],
) -> PhotoRead:  # fmt: skip
    try:
        photo = look_at(read_bytes(path), path.name)
    except BadInputError as slip:
        return PhotoRead(path.name, State.REFUSED, str(slip), plot)
    return _read_photo(book, photo, zone, plot, asked, run, known)


def read_sent(book: Book, photo: Photo, asked: Asked) -> PhotoRead:
    """Read one picture that was sent, and keep what it says; see `read_photographs`.

    Parameters
    ----------
    book : Book
        The opened book.
    photo : Photo
        The picture, looked at.
    asked : Asked
        What was said of it; its plot is not taken from the file's name.

    Raises
    ------
    BadInputError
        If several plots were named, or a plot without its zone.
    UnknownNameError
        If there is no such zone or plot.
    """
    ground = book.ground()
    zone = ground.zone(asked.zone).name if asked.zone else ""
    (plot,) = _plots(ground, zone, [Path()], asked.plots)
    run, known = pass_of(book.settings), _known(ground)
    return _lightened(_read_photo(book, photo, zone, plot, asked, run, known), keeps_plot=True)


def _read_photo(
    book: Book, photo: Photo, zone: str, plot: str, asked: Asked, run: Pass,
    known: dict[str, DiaryEntry],
) -> PhotoRead:  # fmt: skip
    name = photo.name
    if asked.keep and photo.mark in known:
        there = known[photo.mark]
        words = f"This picture is kept already, as {str(there.id)[:8]}."
        return PhotoRead(name, State.THERE, words, plot, photo, entry=there)
    day = day_of(photo.facts.taken, book.today, asked.when, asked.trusts_camera)
    if asked.keep and day.when is None:
        return PhotoRead(name, State.ASKED, day.words, plot, photo)
    try:
        reading = read_photo(photo, run, cards=asked.cards, size_mm=asked.size_mm)
        taught, lack = _taught(reading, asked.touches)
    except BadInputError as slip:
        return PhotoRead(name, State.REFUSED, str(slip), plot, photo)
    if not asked.keep or day.when is None:
        return PhotoRead(name, State.READ, "", plot, photo, reading, taught, lack)
    files = keep_files(book.settings, photo)
    doubted = [Doubt(_doubt_words(reading))] if reading.faults else ()
    entry = write(
        book, entry_of(photo, reading, plot, taught), day.when, zone=zone, who=asked.who,
        note=asked.note, id=asked.id, asked=doubted,
    )  # fmt: skip
    return PhotoRead(name, State.KEPT, "", plot, photo, reading, taught, lack, entry, files)


def entry_of(photo: Photo, reading: PlotPicture, plot: str, taught: Taught | None) -> Photograph:
    """Put what a picture says into the form of the diary; no place is in it."""
    covering, sides = reading.covering, reading.side_mm
    return Photograph(
        plot=plot,
        picture=photo.mark,
        taken_at=photo.facts.taken.isoformat() if photo.facts.taken else "",
        camera=photo.facts.camera,
        cover=covering.cover,
        pale=covering.pale,
        bare=covering.bare,
        colour_index=covering.colour_index,
        colour_spread=covering.colour_spread,
        grain_mm=reading.grain_mm,
        wide_mm=sides[0] if sides else None,
        high_mm=sides[1] if sides else None,
        tone=reading.whites.tone if reading.whites else None,
        faults=tuple(each.name for each in reading.faults),
        spoils_cover=not reading.cover_stands,
        kinds={each.kind: each.share for each in taught.kinds} if taught else {},
    )


def sides_mm(text: str) -> tuple[float, float]:
    """Read the sides of a plot, from A to B and from B to C; bare numbers are metres.

    Parameters
    ----------
    text : str
        Such as ``1.2x1`` or ``4ft x 3ft``.

    Returns
    -------
    tuple of float
        Both sides. [mm]

    Raises
    ------
    BadInputError
        If these are not two sides.
    """
    parts = text.casefold().replace("×", "x").split("x")
    if len(parts) != 2:
        raise BadInputError("--size", text, "two sides, such as 1.2x1 or '4 ft x 3 ft'")
    unit = parts[1].strip().lstrip("0123456789.,").strip()
    one = parts[0] if unit and parts[0].strip()[-1:].isdigit() is False else f"{parts[0]} {unit}"
    found = tuple(quantity(part, "m", "--size") for part in (one, parts[1]))
    for side in found:
        require("--size", side / 1000, 0.05, 20, "m", "Metres, unless a unit is given.")
    return found[0], found[1]


def _doubt_words(reading: PlotPicture) -> str:
    return "Photograph: " + "; ".join(f"{each.name}, {each.seen}" for each in reading.faults) + "."


def _known(ground: Ground) -> dict[str, DiaryEntry]:
    return {
        entry.what.picture: entry for entry in ground.diary if isinstance(entry.what, Photograph)
    }


def _plots(
    ground: Ground, zone: str, paths: Sequence[Path], named: Sequence[str]
) -> tuple[str, ...]:
    """Give the plot of each file: as said, or the plot whose name stands in the file's name."""
    own = [plot.name for plot in ground.plots if plot.zone == zone]
    if named:
        if not zone:
            raise BadInputError("--plot", ", ".join(named), "a plot of a zone: say --zone too")
        if len(named) not in {1, len(paths)}:
            raise BadInputError(
                "--plot", f"{len(named)} plots for {len(paths)} pictures",
                "one plot for all, or one for each picture in their order",
            )  # fmt: skip
        found = [_plot(name, own) for name in named]
        return tuple(found * len(paths) if len(found) == 1 else found)
    return tuple(next((name for name in own if _stands_in(name, path)), "") for path in paths)


def _plot(name: str, own: Sequence[str]) -> str:
    for each in own:
        if each.casefold() == name.strip().casefold():
            return each
    raise UnknownNameError("plot", name, own)


def _stands_in(name: str, path: Path) -> bool:
    words = path.stem.casefold().replace("_", " ").split()
    return name.casefold() in words or path.stem.casefold() == name.casefold()


def _taught(reading: PlotPicture, touches: Sequence[tuple[str, str]]) -> tuple[Taught | None, str]:
    if not touches:
        return None, ""
    high, wide = reading.plot.shape[:2]
    placed = [_touch(kind, place, wide, high) for kind, place in touches]
    try:
        return cover_by_touch(reading.plot, placed), ""
    except NotEnoughDataError as lack:
        return None, str(lack)


def _touch(kind: str, place: str, wide: int, high: int) -> Touch:
    """Read a place in percent across and down the plot."""
    parts = place.replace("%", "").split(",")
    try:
        across, down = (float(part) for part in parts)
    except ValueError:
        across = down = -1.0
    if not kind.strip() or not (0 <= across <= 100 and 0 <= down <= 100):
        raise BadInputError(
            "--touch", f"{kind}={place}",
            "KIND=ACROSS,DOWN in percent of the plot, such as weed=40,62",
            "Count from the left and from the top of the plot as --picture shows it.",
        )  # fmt: skip
    x, y = across / 100 * (wide - 1), down / 100 * (high - 1)
    return Touch(kind.strip().casefold(), x, y)
