"""What a machine does by itself: the kinds of work there are, and asking for it.

Work is asked for by name and values. Whoever takes it opens the book itself, so that it is done
alike by a worker in the next room and by one begun after a cut of power.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from hashlib import blake2b
from pathlib import Path
from typing import Any

from swardbook.book.night import night_of, task_of
from swardbook.book.opening import Book, Clock, at_ground, open_any_book
from swardbook.foundation.errors import BadInputError, NotEnoughDataError, UnknownNameError
from swardbook.records.job import STATES, Job, NewJob
from swardbook.records.job_list import jobs_of
from swardbook.settings import Settings

Tell = Callable[[str, float | None], object]


@dataclass(frozen=True, slots=True)
class Doing:
    """What a kind of work is done with.

    Parameters
    ----------
    settings : Settings
        How this installation is set.
    clock : Clock
        The day.
    now : datetime
        The time.
    ground : str
        Short name of the ground; empty for the whole book.
    arguments : mapping
        What it was asked for with.
    tell : callable
        Told how far it is, in words and as a share.
    """

    settings: Settings
    clock: Clock
    now: datetime
    ground: str
    arguments: Mapping[str, Any]
    tell: Tell

    def book(self) -> Book:
        """Open the book, at the ground where there is one."""
        whole = open_any_book(self.settings, self.clock)
        return at_ground(whole, self.ground, self.clock) if self.ground else whole


Plain = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of work.

    Parameters
    ----------
    key : str
        Its name in the book.
    name : str
        What it is called.
    do : callable
        Does it, and tells what came of it in plain values.
    most_minutes : float
        After so long it is taken for stuck, and given to another. [min]
    is_nightly : bool
        Whether it is asked for each night: for each ground where `is_of_ground`, else once.
    is_of_ground : bool
        Whether it is done for one ground.
    """

    key: str
    name: str
    do: Callable[[Doing], Plain]
    most_minutes: float = 60.0
    is_nightly: bool = False
    is_of_ground: bool = True


def _night(doing: Doing) -> Plain:
    """Look over one lawn, and ahead."""
    book = doing.book()
    try:
        writes, draws = book.store.writes(), doing.settings.machine_work.draws
        found = night_of(task_of(book, draws if doing.settings.machine_work.days else 0))
        book.store.remember(found["look"], book.today, writes)
    finally:
        book.store.close()
    return {**found, "ahead_for": book.today.isoformat(), "ahead_writes": writes, "draws": draws}


def _letter(doing: Doing) -> Plain:
    """Write the letter to an owner beside the book."""
    from swardbook.book.letter import LetterAsked, save_letter, write_letter

    book = doing.book()
    try:
        leave_out = tuple(doing.arguments.get("leave_out", ()))
        letter = write_letter(book, LetterAsked(leave_out, doing.arguments.get("since", "")))
        folder = doing.settings.home / "letters"
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        path = folder / f"{doing.ground}-{book.today.isoformat()}.pdf"
        path.unlink(missing_ok=True)  # made anew: the letter of a day is one
        save_letter(path, letter)
    finally:
        book.store.close()
    return {"file": str(path), "sides": letter.sides}


def _photos(doing: Doing) -> Plain:
    """Read a batch of photographs; the same picture is kept once, also when done again."""
    from swardbook.book.photographs import Asked, read_photographs

    def tell(words: str) -> None:
        doing.tell(words, None)

    book, asked = doing.book(), doing.arguments
    try:
        size = asked.get("size_mm")
        read = read_photographs(
            book,
            [Path(each) for each in asked["files"]],
            Asked(asked.get("zone", ""), when=asked.get("when", ""), who=asked.get("who", ""),
                  size_mm=(float(size[0]), float(size[1])) if size else None),
            tell,
        )  # fmt: skip
    finally:
        book.store.close()
    return {"pictures": [{"file": each.file, "became": each.state.value, "words": each.words}
                         for each in read]}  # fmt: skip


def _weather(doing: Doing) -> Plain:
    """Fetch the weather, where a service is set."""
    from swardbook.book.weather_fetch import fetch_weather

    book = doing.book()
    try:
        found = fetch_weather(book, doing.now)
    finally:
        book.store.close()
    return {"state": found.state}


def _copy(doing: Doing) -> Plain:
    """Make the day's safe copy, where it is not made yet."""
    from swardbook.book.copying import daily_copy

    made = daily_copy(doing.settings, doing.now)
    return {"copy": made.name if made else ""}


KINDS: Mapping[str, Kind] = {
    kind.key: kind
    for kind in (
        Kind("weather", "weather fetched", _weather, 10.0, is_nightly=True),
        Kind("copy", "safe copy", _copy, 60.0, is_nightly=True, is_of_ground=False),
        Kind("night", "lawn looked over", _night, 60.0, is_nightly=True),
        Kind("letter", "letter to an owner", _letter, 10.0),
        Kind("photos", "photographs read", _photos, 120.0),
    )
}
"""In the order of a night: weather before the looks that lean on it."""


def kind_of(key: str) -> Kind:
    """Find a kind of work.

    Raises
    ------
    UnknownNameError
        If there is none of that name.
    """
    if key not in KINDS:
        raise UnknownNameError("kind of work", key, KINDS)
    return KINDS[key]


def ask_for(
    book: Book, kind: str, now: datetime, arguments: Mapping[str, Any] | None = None,
    *, ground: str = "", mark: str = "",
) -> int:  # fmt: skip
    """Ask for work; the same under the same mark is asked for once. Gives how many are new.

    Parameters
    ----------
    book : Book
        The opened book.
    kind : str
        Which kind.
    now : datetime
        The time.
    arguments : mapping or None
        What it is to be done with.
    ground : str
        Short name of the ground; empty for the whole book.
    mark : str
        What tells it from others of its kind; empty: the time.

    Raises
    ------
    UnknownNameError
        If there is no such kind or ground.
    """
    found = kind_of(kind)
    key = " ".join(each for each in (found.key, mark or now.isoformat(), ground) if each)
    most = book.settings.machine_work.attempts
    return jobs_of(book.store).ask([NewJob(key, found.key, ground, arguments or {})], now, most)


def asked_with(
    book: Book, kind: str, files: Sequence[Path], zone: str, size: str, leave_out: str
) -> dict[str, Any]:
    """Read what a letter or a batch of photographs is asked for with, and what tells it apart.

    Parameters
    ----------
    book : Book
        The opened book, at the ground.
    kind : str
        Which kind.
    files : sequence of Path
        Photographs, or a folder of them.
    zone, size, leave_out : str
        As typed.

    Returns
    -------
    dict
        The arguments, with their ``mark``.

    Raises
    ------
    BadInputError
        If photographs are asked for without a file, or anything else with one.
    UnknownNameError
        If there is no such zone.
    """
    if (kind == "photos") != bool(files):
        raise BadInputError("the files", len(files), "photographs or a folder of them, for photos")
    day = book.today.isoformat()
    if kind == "letter":
        words = [each.strip() for each in leave_out.split(",") if each.strip()]
        return {"leave_out": words, "mark": f"{day} without {','.join(words) or 'nothing'}"[:90]}
    if kind != "photos":
        return {"mark": f"{day} asked"}
    from swardbook.book.photographs import sides_mm

    paths = [str(each.expanduser().absolute()) for each in files]
    mark = blake2b("\f".join([*paths, zone, size]).encode(), digest_size=8).hexdigest()
    return {
        "files": paths, "zone": book.ground().zone(zone).name if zone else "",
        "size_mm": list(sides_mm(size)) if size else None, "mark": f"{day} {mark}",
    }  # fmt: skip


def ask_for_night(book: Book, day: date, now: datetime) -> int:
    """Ask for all that is done each night; a second time asks for nothing.

    Parameters
    ----------
    book : Book
        The opened book.
    day : date
        The day that it is done for.
    now : datetime
        The time.

    Returns
    -------
    int
        How many are new.
    """
    wanted = []
    for kind in KINDS.values():
        if not kind.is_nightly or (kind.key == "weather" and book.settings.weather is None):
            continue
        begin = f"{kind.key} {day.isoformat()}"
        if kind.is_of_ground:
            slugs = [each.slug for each in book.store.grounds() if each.slug]
            wanted += [NewJob(f"{begin} {slug}", kind.key, slug, {}) for slug in slugs]
        else:
            wanted.append(NewJob(begin, kind.key, "", {}))
    return jobs_of(book.store).ask(wanted, now, book.settings.machine_work.attempts)


def jobs_listed(
    book: Book, states: tuple[str, ...] = (), most: int = 50, ground: str | None = None
) -> tuple[Job, ...]:
    """List jobs of the book, the latest first.

    Parameters
    ----------
    book : Book
        The opened book.
    states : tuple of str
        In which states; none: in all.
    most : int
        How many at most.
    ground : str or None
        Only those of one ground, by its short name, and those of the whole book; None: all.
    """
    return jobs_of(book.store).listed(states or STATES, most=most, ground=ground)


def latest_jobs(book: Book, states: tuple[str, ...], most: int, ground: str) -> tuple[Job, ...]:
    """List jobs of a ground and of the whole book by state, the latest of each first.

    Parameters
    ----------
    book : Book
        The opened book.
    states : tuple of str
        Which come first; those in others are left out.
    most : int
        How many at most.
    ground : str
        Short name of the ground.
    """
    return jobs_of(book.store).latest(states, ground, most)


def jobs_counted(book: Book) -> dict[str, int]:
    """Count the jobs in each state."""
    return jobs_of(book.store).counts()


def do_again(book: Book, number: int, now: datetime, ground: str | None = None) -> Job:
    """Let a job that failed be done again.

    Parameters
    ----------
    book : Book
        The opened book.
    number : int
        Its number.
    now : datetime
        The time.
    ground : str or None
        Only if it is of this ground, or of the whole book; None: of any.

    Raises
    ------
    UnknownNameError
        If no such job has failed.
    """
    failed = {each.id for each in jobs_listed(book, ("failed",), 100_000, ground)}
    if number not in failed:
        raise UnknownNameError("failed job", str(number), [str(each) for each in sorted(failed)])
    return jobs_of(book.store).again(number, now)


def done_now(job: Job, doing: Doing) -> Plain:
    """Do a job; too little data is an answer."""
    try:
        return kind_of(job.kind).do(doing)
    except NotEnoughDataError as short:
        return {"not_enough_data": str(short)}
