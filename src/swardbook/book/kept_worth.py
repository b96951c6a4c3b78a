"""Worths that were worked out before, kept in the cache under all that they rest on."""

from __future__ import annotations

import json
import os
from contextlib import suppress
from dataclasses import asdict, dataclass, fields
from functools import cache
from hashlib import blake2b
from importlib.resources import files
from importlib.resources.abc import Traversable
from math import isfinite
from pathlib import Path

from swardbook.book.opening import Book
from swardbook.husbandry.codec import to_plain
from swardbook.model.compiling import identity
from swardbook.planning.tasks import Worth
from swardbook.weather.series import DailyWeather

MOST_KEPT = 400
"""Files kept; the oldest go first."""
_READ = (".py", ".csv", ".toml", ".txt")


@dataclass(frozen=True, slots=True)
class KeptWorths:
    """The kept worths of one book on one day.

    Parameters
    ----------
    folder : Path
        Where they are kept; one small JSON file each.
    rests_on : str
        Fingerprint of ground, weather, day, draws, program and machine.
    """

    folder: Path
    rests_on: str

    def find(self, zone: str, job: str) -> Worth | None:
        """Read a worth; None if it was not kept, or the file is broken."""
        try:
            held = json.loads(self._path(zone, job).read_text(encoding="utf-8"))
            if held["rests_on"] != self.rests_on or (held["zone"], held["job"]) != (zone, job):
                return None
            return _read(held["worth"])
        except (OSError, ValueError, KeyError, TypeError):
            return None

    def keep(self, zone: str, job: str, worth: Worth) -> None:
        """Keep a worth; a folder that cannot be written is let be."""
        path = self._path(zone, job)
        held = {"rests_on": self.rests_on, "zone": zone, "job": job, "worth": asdict(worth)}
        with suppress(OSError):
            self.folder.mkdir(parents=True, exist_ok=True)
            draft = path.with_name(f"draft-{os.getpid()}-{path.name}")
            draft.write_text(json.dumps(held, ensure_ascii=False), encoding="utf-8")
            os.replace(draft, path)
            self._tidy()

    def _path(self, zone: str, job: str) -> Path:
        name = blake2b("\f".join((self.rests_on, zone, job)).encode(), digest_size=16)
        return self.folder / f"{name.hexdigest()}.json"

    def _tidy(self) -> None:
        found = sorted(self.folder.glob("*.json"), key=lambda path: path.stat().st_mtime_ns)
        for path in found[:-MOST_KEPT]:
            path.unlink(missing_ok=True)


def kept_worths(book: Book, draws: int) -> KeptWorths:
    """Find the kept worths that rest on just what the book holds today.

    Parameters
    ----------
    book : Book
        The opened book.
    draws : int
        Draws of the look-ahead.
    """
    ground = json.dumps(to_plain(book.ground()), sort_keys=True, ensure_ascii=False)
    text = "\f".join((ground, book.today.isoformat(), str(draws), program(), identity()))
    whole = blake2b(text.encode(), digest_size=16)
    weather = book.all_weather()
    whole.update(b"" if weather is None else _bytes_of(weather))
    return KeptWorths(book.settings.cache / "worth", whole.hexdigest())


@cache
def program(packages: tuple[str, ...] = ()) -> str:
    """Fingerprint of the program's own text and of every number of its handbook.

    Parameters
    ----------
    packages : tuple of str
        Packages of it that are read, such as ``model``; none: all.
    """
    whole = blake2b(digest_size=16)
    home = files("swardbook")
    folders = [(home / each, f"/{each}") for each in packages] or [(home, "")]
    for name, content in sorted(text for each in folders for text in _texts(*each)):
        whole.update(f"{name}\f{len(content)}\f".encode())
        whole.update(content)
    return whole.hexdigest()


def _texts(folder: Traversable, where: str) -> list[tuple[str, bytes]]:
    found: list[tuple[str, bytes]] = []
    for each in folder.iterdir():
        name = f"{where}/{each.name}"
        if each.is_dir():
            found += _texts(each, name)
        elif each.name.endswith(_READ):
            found.append((name, each.read_bytes()))
    return found


def _bytes_of(weather: DailyWeather) -> bytes:
    parts = []
    for entry in fields(weather):
        series = getattr(weather, entry.name)
        parts.append(entry.name.encode())
        parts.append(b"" if series is None else series.tobytes())
    return b"\f".join(parts)


def _read(held: dict[str, object]) -> Worth:
    numbers = [held[name] for name in ("value", "low", "high")]
    if not all(each is None or (isinstance(each, float) and isfinite(each)) for each in numbers):
        raise ValueError(numbers)
    if not (isinstance(held["words"], str) and held["words"] and isinstance(held["unit"], str)):
        raise ValueError(held)
    return Worth(**held)  # type: ignore[arg-type]
