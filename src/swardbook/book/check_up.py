"""The check-up: database, entries, pictures, copies, space, clock and permissions of a book."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

from swardbook.book.check_up_machine import copies, permissions, space
from swardbook.book.copying import Copy, copies_of
from swardbook.book.findings import CheckUp, Finding, Looked, Severity
from swardbook.book.moving import mark_of
from swardbook.book.opening import NoBookError
from swardbook.book.photo_files import ORIGINALS, TO_SHARE
from swardbook.foundation.dates import say
from swardbook.foundation.errors import SwardbookError
from swardbook.handbook.parameters import value
from swardbook.husbandry.attachments import Attachment
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.photographs import Photograph
from swardbook.records.contents import contents_of
from swardbook.records.facts import database_facts
from swardbook.records.opening import open_first_store
from swardbook.records.store import Store
from swardbook.settings import Settings

_BRING_BACK = (
    "Nothing was changed. Make sure of the last copies, then bring one back with swardbook"
    " restore; what was written since stays in the book that is set aside."
)
_NAMED = 5


@dataclass(frozen=True, slots=True)
class _Diary:
    """What the diaries of all grounds told while they were gone through."""

    entries: int
    grounds: int
    damage: tuple[str, ...]
    pictures: frozenset[str]
    last_written: date | None
    is_made_up: bool


def check_up(settings: Settings, now: datetime) -> CheckUp:
    """Look the whole book over, and the machine as far as the book rests on it.

    Nothing is changed. Every entry's checksum is made anew and every picture is read, so a large
    book takes a while.

    Parameters
    ----------
    settings : Settings
        How this installation is set.
    now : datetime
        The time, with its zone.

    Raises
    ------
    NoBookError
        If there is no book at all.
    """
    if not settings.database and not settings.book_file.exists():
        raise NoBookError(str(settings.book_file))
    there = copies_of(settings)
    looked = [_database(settings)]
    entries, diary = _entries(settings)
    looked.append(entries)
    if diary is not None:
        looked.append(_pictures(settings, diary.pictures, there))
        looked.append(_clock(diary, there, now))
    is_real = diary is None or not diary.is_made_up
    looked += [copies(settings, there, now, is_real), space(settings, there)]
    looked.append(permissions(settings))
    return CheckUp(tuple(looked))


def _database(settings: Settings) -> Looked:
    about = "database"
    try:
        facts = database_facts(settings)
    except SwardbookError as slip:
        found = Finding(Severity.NOW, about, str(slip), _BRING_BACK)
        return Looked(about, "it cannot be opened", (found,))
    came = ", of the extra sqlite" if facts.is_brought else ""
    told = f"{facts.kind} {facts.version}{came}"
    findings = []
    if facts.has_fault:
        findings.append(
            Finding(
                Severity.SOON, about,
                f"SQLite {facts.version} is one of 3.7.0 to 3.51.2, which have a rare fault: when"
                " two programs write and tidy up the log in one narrow moment, the file can be"
                " spoiled. Your system may have mended it without a new number",
                "Install swardbook with its extra sqlite (pip install 'swardbook[sqlite]'), which"
                " brings a mended one, or a Python with SQLite 3.51.3 or newer. Until then keep"
                " daily copies, and let one program at a time have the book open.",
            )
        )  # fmt: skip
    if facts.lacking:
        findings.append(
            Finding(
                Severity.NOW, about,
                f"what is acknowledged could be lost in a power cut: {', '.join(facts.lacking)}",
                "Set these as they are by default, on the server or in the file.",
            )
        )  # fmt: skip
    else:
        told += "; each entry is on the disk before it is acknowledged"
    return Looked(about, told, tuple(findings))


def _entries(settings: Settings) -> tuple[Looked, _Diary | None]:
    """Go through pages, chains and pieces of ground; damage is told, not raised."""
    about, damage = "entries", list[str]()
    try:
        if not settings.database:
            damage += contents_of(settings.book_file).damage
        store = open_first_store(settings)
    except SwardbookError as slip:
        found = Finding(Severity.NOW, about, str(slip), _BRING_BACK)
        return Looked(about, "the book cannot be opened", (found,)), None
    try:
        diary = _gone_through(store)
    finally:
        store.close()
    damage += [each for each in diary.damage if each not in damage]
    told = (
        f"{diary.entries} in {diary.grounds} ground{'s' * (diary.grounds != 1)},"
        f" {'every checksum holds' if not damage else 'not all as they were written'}"
    )
    findings = [Finding(Severity.NOW, about, _some(damage), _BRING_BACK)] if damage else []
    return Looked(about, told, tuple(findings)), diary


def _gone_through(store: Store) -> _Diary:
    entries, damage, pictures = 0, list[str](), set[str]()
    written: list[date] = []
    grounds = store.grounds()
    for place, ground in enumerate(grounds):
        own = store.at(ground.slug)
        try:
            found = own.check(pages=place == 0)
            damage += [f"{each.where}: {each.found}" for each in found]
            diary = own.whole_diary()
        except SwardbookError as slip:
            damage.append(str(slip))
            continue
        entries += len(diary)
        pictures |= set(_named_in(diary))
        written += [each.written_on for each in diary if each.written_on]
    is_made_up = any(each.is_made_up for each in grounds)
    return _Diary(
        entries, len(grounds), tuple(damage), frozenset(pictures),
        max(written, default=None), is_made_up,
    )  # fmt: skip


def _named_in(diary: Iterable[DiaryEntry]) -> Iterator[str]:
    for each in diary:
        if isinstance(each.what, Attachment):
            yield each.what.file
        elif isinstance(each.what, Photograph):
            yield each.what.picture


def _pictures(settings: Settings, named: frozenset[str], there: tuple[Copy, ...]) -> Looked:
    about = "pictures"
    known = {each.name: each.mark for each in there[-1].pictures} if there else {}
    missing, wrong, many = list[str](), list[str](), 0
    held: dict[str, set[str]] = {}
    for kind in (ORIGINALS, TO_SHARE):
        files = _files_in(settings.pictures / kind)
        held[kind] = {each.stem for each in files}
        for file in files:
            many += 1
            expected = file.stem if kind == ORIGINALS else known.get(f"{kind}/{file.name}")
            if expected and _mark(file) != expected:
                wrong.append(f"{kind}/{file.name[:12]}...{file.suffix}")
    for kind, marks in held.items():
        missing += [f"{kind}/{each[:12]}..." for each in sorted(named - {""} - marks)]
    findings = []
    if missing:
        told = f"{len(missing)} that the diary names are not there: {_some(missing)}"
        findings.append(Finding(Severity.NOW, about, told, _BRING_PICTURES))
    if wrong:
        told = f"{len(wrong)} are not what was kept: {_some(wrong)}"
        findings.append(Finding(Severity.NOW, about, told, _BRING_PICTURES))
    words = f"{many} file{'s' * (many != 1)} of pictures and voice notes"
    return Looked(about, words if findings or not many else f"{words}, as kept", tuple(findings))


_BRING_PICTURES = (
    "swardbook restore brings pictures of a copy back with its book; single files lie in the"
    " folder of copies, in pictures, under the same names."
)


def _files_in(folder: Path) -> list[Path]:
    if not folder.is_dir():
        return []
    return [each for each in sorted(folder.iterdir()) if not each.name.startswith(".")]


def _mark(file: Path) -> str:
    try:
        return mark_of(file)
    except OSError:
        return "it cannot be read"


def _clock(diary: _Diary, there: tuple[Copy, ...], now: datetime) -> Looked:
    about, today = "clock", now.date()
    findings = []
    most = value("clock_ahead_most")
    marks = [(diary.last_written, "an entry was written down")] if diary.last_written else []
    marks += [(each.made_at.astimezone(now.tzinfo).date(), "a copy was made") for each in there]
    if marks and not diary.is_made_up:
        day, what = max(marks)
        if (day - today).days > most:
            findings.append(
                Finding(
                    Severity.SOON, about,
                    f"today is {say(today)} by this machine, but {what} on {say(day)}",
                    "One of the two is wrong. Set the clock; entries of a wrong day are put right"
                    " with swardbook put-right.",
                )
            )  # fmt: skip
    return Looked(about, f"{say(today)} {now:%Z}".strip(), tuple(findings))


def _some(told: list[str]) -> str:
    more = len(told) - _NAMED
    return "; ".join(told[:_NAMED]) + (f"; and {more} more" if more > 0 else "")
