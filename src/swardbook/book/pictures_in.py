"""Pictures and voice notes as they are sent in: known by content, bounded, kept once, handed on."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING
from uuid import UUID

from swardbook.book.diary import write
from swardbook.book.opening import Book
from swardbook.book.photo_dates import day_of
from swardbook.book.photo_files import ending_of, keep_copies, require_readers
from swardbook.book.photographs import Asked, PhotoRead, State, read_sent
from swardbook.book.pictures_out import media_type, sent_file, small_picture
from swardbook.book.voice_notes import is_sound, listen_to
from swardbook.foundation.dates import When
from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.handbook.parameters import value
from swardbook.husbandry.attachments import PICTURE, VOICE_NOTE, Attachment
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import Ground
from swardbook.husbandry.looks import Doubt

if TYPE_CHECKING:
    from swardbook.photos.opening import Photo

__all__ = [
    "AboutSent", "Proposed", "State", "TakenIn", "attached", "media_type", "most_bytes", "propose",
    "sent_file", "small_picture", "take_in",
]  # fmt: skip

PLOT_PICTURE = "plot picture"
_NAME_LONGEST = 80


@dataclass(frozen=True, slots=True)
class AboutSent:
    """What was said of a picture or voice note.

    Parameters
    ----------
    zone, plot, peg : str
        What it shows, by name; empty where that is not said.
    of : UUID or None
        The entry it belongs to; it may arrive before that one.
    when : str
        The day as typed; empty takes the camera's.
    trusts_camera : bool
        Whether an odd camera date is right.
    measure : bool
        Whether it is a plot to be read for cover and colour; else it is kept as it is.
    cards : bool
        Whether to look for cards, where it is read.
    size_mm : tuple of float or None
        Sides of the plot, where they were measured. [mm]
    touches : tuple of tuple
        Kind and place as typed, where it is read.
    id : UUID or None
        Made on the device that sent it: sent twice it is stored once.
    who, note : str
        As typed.
    private : bool
        Whether it is for owners and workers alone.
    """

    zone: str = ""
    plot: str = ""
    peg: str = ""
    of: UUID | None = None
    when: str = ""
    trusts_camera: bool = False
    measure: bool = False
    cards: bool = True
    size_mm: tuple[float, float] | None = None
    touches: tuple[tuple[str, str], ...] = ()
    id: UUID | None = None
    who: str = ""
    note: str = ""
    private: bool = False


@dataclass(frozen=True, slots=True)
class TakenIn:
    """What became of what was sent.

    Parameters
    ----------
    state : State
        Kept, there already, asked about, or refused; only in the last two nothing is kept.
    words : str
        The refusal or the question; empty where it was kept.
    what : str
        ``plot picture``, ``picture`` or ``voice note``; empty where that was not found out.
    entry : DiaryEntry or None
        Its entry.
    read : PhotoRead or None
        What was read in a picture of a plot.
    proposed : date or None
        The camera's day, to be offered where it is asked for.
    """

    state: State
    words: str = ""
    what: str = ""
    entry: DiaryEntry | None = None
    read: PhotoRead | None = None
    proposed: date | None = None


@dataclass(frozen=True, slots=True)
class Proposed:
    """What a file says of itself before anything is kept.

    Parameters
    ----------
    what : str
        ``picture`` or ``voice note``.
    day : date or None
        The camera's day.
    question : str
        What is to be asked about the day; empty where nothing is.
    camera : str
        Maker and model; empty if not written.
    tells_place : bool
        Whether a position stands in it, which the copy to share has not.
    wide, high : int
        Size as stored; 0 for a voice note. [px]
    """

    what: str
    day: date | None = None
    question: str = ""
    camera: str = ""
    tells_place: bool = False
    wide: int = 0
    high: int = 0


def most_bytes() -> int:
    """Give the most bytes of any file that is looked at [byte]."""
    return round(1e6 * max(value("photo_file_most_mb"), value("voice_note_most_mb")))


def propose(book: Book, held: bytes, name: str) -> Proposed:
    """Look at a file and tell what it says of itself; nothing is kept.

    Parameters
    ----------
    book : Book
        The opened book.
    held : bytes
        The file.
    name : str
        Its name, for the message; it is not believed.

    Raises
    ------
    BadInputError
        If it is no picture and no voice note, damaged, or too large.
    """
    if is_sound(held):
        listen_to(held, _shown(name))
        return Proposed(VOICE_NOTE)
    photo = _photo(held, _shown(name), is_measured=False)
    facts = photo.facts
    day = day_of(facts.taken, book.today)
    return Proposed(
        PICTURE, facts.taken.date() if facts.taken else None, day.question, facts.camera,
        facts.has_place, photo.wide, photo.high,
    )  # fmt: skip


def take_in(book: Book, held: bytes, name: str, about: AboutSent | None = None) -> TakenIn:
    """Take in one picture or voice note as it was sent.

    What it is is told by its content, never by its name; it is bounded in bytes and in pixels
    before it is decoded. It is kept once by content, bit for bit, with a copy that tells no place
    beside it. A picture or voice note that is kept as it is and has no day of its own gets the
    book's today and is marked for a look; of a picture that is read the day is asked for.

    Parameters
    ----------
    book : Book
        The opened book.
    held : bytes
        The file.
    name : str
        Its name, for the message.
    about : AboutSent or None
        What was said of it.

    Raises
    ------
    UnknownNameError
        If there is no such zone, plot or peg.
    BadInputError
        If the day cannot be read or lies ahead, or a plot comes without its zone.
    RefusedError
        If the libraries that read pictures are not installed.
    StorageError
        If the disk would not take it.
    """
    about = _known_places(book.ground(), about or AboutSent())
    name = _shown(name)
    try:
        if is_sound(held):
            note = listen_to(held, name)
            found = Attachment(VOICE_NOTE, note.mark, note.ending, about.of, about.peg, about.plot)
            return _kept_as_it_is(book, found, note.held, note.to_share, about)
        photo = _photo(held, name, is_measured=about.measure)
    except BadInputError as slip:
        return TakenIn(State.REFUSED, str(slip))
    if about.measure:
        return _measured(book, photo, about)
    taken = photo.facts.taken
    found = Attachment(PICTURE, photo.mark, ending_of(photo), about.of, about.peg, about.plot,
                       taken.isoformat() if taken else "")  # fmt: skip
    return _kept_as_it_is(book, found, photo.held, photo.to_share, about, photo)


def attached(
    book: Book, *, of: UUID | None = None, zone: str = "", plot: str = "", peg: str = ""
) -> tuple[DiaryEntry, ...]:
    """Give pictures and voice notes that were kept as they are, in the order of their days.

    Parameters
    ----------
    book : Book
        The opened book.
    of : UUID or None
        Only those of this entry.
    zone, plot, peg : str
        Only those of this zone, plot or peg; empty for all.
    """

    def fits(entry: DiaryEntry) -> bool:
        what = entry.what
        return (
            isinstance(what, Attachment)
            and (of is None or what.of == of)
            and _alike(entry.zone, zone)
            and _alike(what.plot, plot)
            and _alike(what.peg, peg)
        )

    return tuple(sorted(filter(fits, book.ground().diary), key=lambda each: each.when.first))


def _photo(held: bytes, name: str, *, is_measured: bool) -> Photo:
    require_readers()
    from swardbook.photos.opening import look_at

    return look_at(held, name, is_measured=is_measured)


def _measured(book: Book, photo: Photo, about: AboutSent) -> TakenIn:
    asked = Asked(
        zone=about.zone, plots=(about.plot,) if about.plot else (), when=about.when,
        trusts_camera=about.trusts_camera, cards=about.cards, size_mm=about.size_mm,
        touches=about.touches, who=about.who, note=about.note, id=about.id,
    )  # fmt: skip
    read = read_sent(book, photo, asked)
    words, proposed, taken = read.words, None, photo.facts.taken
    if read.state is State.ASKED:
        words = day_of(taken, book.today).question
        proposed = taken.date() if taken else None
    return TakenIn(read.state, words, PLOT_PICTURE, read.entry, read, proposed)


def _kept_as_it_is(
    book: Book, what: Attachment, held: bytes, to_share: bytes, about: AboutSent,
    photo: Photo | None = None,
) -> TakenIn:  # fmt: skip
    for entry in attached(book, of=about.of, zone=about.zone, plot=about.plot, peg=about.peg):
        there = entry.what
        if isinstance(there, Attachment) and replace(there, taken_at="") == replace(
            what, taken_at=""
        ):
            words = f"It is kept already, as {str(entry.id)[:8]}."
            return TakenIn(State.THERE, words, what.what, entry)
    taken = photo.facts.taken if photo else None
    day = day_of(taken, book.today, about.when, about.trusts_camera)
    # A voice note tells no day, and is sent when it is spoken.
    is_odd = photo is not None and day.when is None
    doubts = [Doubt(f"{_capital(what.what)}: {day.question}")] if is_odd else []
    keep_copies(book.settings, f"{what.file}.{what.ending}", held, to_share)
    entry = write(
        book, what, day.when or When.on(book.today), zone=about.zone, who=about.who,
        note=about.note, id=about.id, asked=doubts,
    )  # fmt: skip
    return TakenIn(State.KEPT, "", what.what, entry)


def _known_places(ground: Ground, about: AboutSent) -> AboutSent:
    """Give what was said with the names as they stand in the book; a peg brings its zone along."""
    zone, plot, peg = about.zone.strip(), about.plot.strip(), about.peg.strip()
    zone = ground.zone(zone).name if zone else ""
    if peg:
        pegs = [each for each in ground.pegs if not zone or each.zone == zone]
        found = next((each for each in pegs if _alike(each.name, peg)), None)
        if found is None:
            raise UnknownNameError("peg", peg, [each.name for each in pegs])
        zone, peg = found.zone, found.name
    if plot:
        if not zone:
            raise BadInputError("the plot", plot, "a plot of a zone: name the zone too")
        own = [each.name for each in ground.plots if each.zone == zone]
        plot = next((each for each in own if _alike(each, plot)), "")
        if not plot:
            raise UnknownNameError("plot", about.plot, own)
    return replace(about, zone=zone, plot=plot, peg=peg)


def _alike(one: str, wanted: str) -> bool:
    return not wanted or one.casefold() == wanted.strip().casefold()


def _shown(name: str) -> str:
    """Give so much of a file's name as may be shown: no folder, nothing that cannot be printed."""
    last = re.split(r"[/\\]", name)[-1]
    return "".join(each for each in last if each.isprintable())[:_NAME_LONGEST] or "the file"


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
