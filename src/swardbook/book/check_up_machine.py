"""What a book rests on: copies, space on the disk, and who may read its files."""

from __future__ import annotations

import os
import shutil
import stat
from collections.abc import Iterator
from contextlib import suppress
from datetime import datetime
from pathlib import Path

from swardbook.book.copying import Copy, copies_of
from swardbook.book.findings import Finding, Looked, Severity
from swardbook.foundation.dates import say
from swardbook.handbook.parameters import value
from swardbook.settings import Settings

_OPEN = stat.S_IRWXG | stat.S_IRWXO
_SECRET = ("book.sqlite3", "pages.key", "certificate-key.pem")
_MB = 1e6
_NONE_OF_MADE_UP = (
    "none, and none are made by themselves: this ground is made up, and swardbook demo --fresh"
    " builds it anew. What you wrote in it yourself is kept safe by swardbook copy"
)


def how_copies_stand(settings: Settings, now: datetime, is_made_up: bool = False) -> Looked:
    """Tell how many copies there are, how old the newest is, and what is not as it should be.

    Parameters
    ----------
    settings : Settings
        How this installation is set.
    now : datetime
        The time, with its zone.
    is_made_up : bool
        Whether the ground is a made-up one.
    """
    return copies(settings, copies_of(settings), now, bool(settings.database) or not is_made_up)


def copies(
    settings: Settings, there: tuple[Copy, ...], now: datetime, is_real: bool = True
) -> Looked:
    """Look at how old the newest copy is, and when each was last read through.

    Parameters
    ----------
    settings : Settings
        How this installation is set.
    there : tuple of Copy
        The copies, oldest first.
    now : datetime
        The time.
    is_real : bool
        Whether the book is no made-up one, which needs no copies.
    """
    about = "copies"
    if not there:
        words = "none yet" if is_real else _NONE_OF_MADE_UP
        make = "Make one with swardbook copy; swardbook serve makes one a day."
        found = Finding(Severity.SOON, about, "there is no safe copy", make)
        return Looked(about, words, (found,) if is_real else ())
    newest = there[-1]
    age = max(0, (now - newest.made_at).days)
    oldest_look = min(there, key=lambda each: each.verified_at)
    unread = max(0, (now - oldest_look.verified_at).days)
    findings = []
    if is_real and age > value("copy_old_after"):
        findings.append(
            Finding(
                Severity.SOON, about, f"the newest is {age} days old",
                "Make one with swardbook copy. Is swardbook serve running, and does it say why"
                " there was none?",
            )
        )  # fmt: skip
    if unread > value("copy_read_again_after"):
        findings.append(
            Finding(
                Severity.SOON, about,
                f"{oldest_look.name} was not read through for {unread} days",
                "Read all of them with swardbook copy --verify.",
            )
        )  # fmt: skip
    if is_real and _is_same_disk(settings):
        findings.append(
            Finding(
                Severity.KNOWN, about, "they lie on the same disk as the book",
                "Set SWARDBOOK_COPIES to a folder on another disk, or copy the folder elsewhere.",
            )
        )  # fmt: skip
    words = f"{len(there)}, the newest of {say(newest.made_at.astimezone(now.tzinfo).date())}"
    read = oldest_look.verified_at.astimezone(now.tzinfo).date()
    return Looked(about, f"{words}; all read through since {say(read)}", tuple(findings))


def _is_same_disk(settings: Settings) -> bool:
    if settings.database:
        return False
    try:
        return settings.copies.stat().st_dev == settings.book_file.stat().st_dev
    except OSError:
        return False


def space(settings: Settings, there: tuple[Copy, ...]) -> Looked:
    """Look at the free space where the book is, and where its copies are.

    Parameters
    ----------
    settings : Settings
        How this installation is set.
    there : tuple of Copy
        The copies.
    """
    about, findings, told = "space", [], []
    size = there[-1].size if there else 0
    with suppress(OSError):
        size = settings.book_file.stat().st_size
    needed = max(
        value("space_needed_least_mb") * _MB, value("space_needed_copies") * size
    )  # fmt: skip
    seen: set[int] = set()
    for folder, name in ((settings.home, "the book"), (settings.copies, "the copies")):
        with suppress(OSError):
            device = folder.stat().st_dev
            free = shutil.disk_usage(folder).free
            if device in seen:
                continue
            seen.add(device)
            told.append(f"{_size(free)} free for {name}")
            if free < needed:
                findings.append(
                    Finding(
                        Severity.NOW if free < needed / 4 else Severity.SOON, about,
                        f"{_size(free)} are free for {name}, and {_size(needed)} are needed: an"
                        " upgrade and a copy hold the book twice for a while",
                        f"Make room on the disk of {folder}.",
                    )
                )  # fmt: skip
    return Looked(about, "; ".join(told) or "it cannot be told", tuple(findings))


def _size(number: float) -> str:
    return f"{number / 1e9:,.1f} GB" if number >= 1e9 else f"{number / _MB:,.0f} MB"


def permissions(settings: Settings) -> Looked:
    """Look at whether others of this machine may read the book, its pictures and its keys.

    Parameters
    ----------
    settings : Settings
        How this installation is set.
    """
    about = "permissions"
    if os.name != "posix":
        return Looked(about, "not looked at on this system")
    open_ones = sorted(str(each) for each in _private(settings) if _is_open(each))
    if not open_ones:
        return Looked(about, "only the owner of the book's files may read them")
    some = ", ".join(open_ones[:3]) + (" and more" if len(open_ones) > 3 else "")
    found = Finding(
        Severity.SOON, about, f"others of this machine may read {some}",
        f"Take it from them: chmod -R go= {settings.home}",
    )  # fmt: skip
    return Looked(about, "others of this machine may read some of it", (found,))


def _private(settings: Settings) -> Iterator[Path]:
    if _is_open(settings.home):  # a folder that is closed closes what is in it
        yield settings.home
        yield from (settings.home / name for name in _SECRET)
        yield settings.pictures
    yield settings.copies


def _is_open(path: Path) -> bool:
    try:
        return bool(path.stat().st_mode & _OPEN)
    except OSError:
        return False
