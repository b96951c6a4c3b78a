"""Everything out as open files in one archive, and in again without loss."""

from __future__ import annotations

import json
import zipfile
import zlib
from collections.abc import Mapping, Sequence
from contextlib import nullcontext
from dataclasses import asdict, dataclass
from datetime import date
from hashlib import sha256
from pathlib import Path
from typing import Any

from swardbook.book import archive_tables as tables
from swardbook.book.archive_pictures import (
    check_picture,
    is_picture,
    kinds_in,
    pictures_in_place,
    pictures_of,
    write_zip,
)
from swardbook.book.opening import Book
from swardbook.foundation.errors import BadInputError, DamagedBookError
from swardbook.husbandry.codec import from_plain, read_entry, to_plain
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.ground import HonestSquare, Peg, Plot, Site, Zone
from swardbook.records.chain import FIRST, Link, canonical, checksum, joined
from swardbook.records.filling import filled_store
from swardbook.records.for_others import for_others, is_for_others
from swardbook.records.forecast_beside import about_text, members_text, with_beside
from swardbook.records.store import Store
from swardbook.seed.lot import SeedLot
from swardbook.settings import Settings
from swardbook.weather.forecast import Forecast

FORMAT = "swardbook archive"
VERSION = 1
LARGEST_FILE = 256 * 1024 * 1024
"""Largest file of an archive that is read. [byte]"""
_TABLES: tuple[tuple[str, type], ...] = (
    ("zones.csv", Zone), ("pegs.csv", Peg), ("squares.csv", HonestSquare), ("plots.csv", Plot),
)  # fmt: skip
_NEEDED = {"site.json", "diary.jsonl", "lots.csv", "lot_parts.csv", *(name for name, _ in _TABLES)}
_KNOWN = (
    _NEEDED
    | {"manifest.json", "diary.csv", "counts.csv", "weather.csv", "kept.jsonl"}
    | {"forecast.csv", "forecast_courses.json"}
)
_NO_ZIP = (zipfile.BadZipFile, zlib.error, RuntimeError, NotImplementedError, EOFError, OSError)
_REMEDY = "The archive was not brought in, and nothing was changed. Ask for a fresh export."


@dataclass(frozen=True, slots=True)
class Exported:
    """What went out.

    Parameters
    ----------
    path : Path
        The archive.
    entries : int
        Diary entries in it, with those that were corrected.
    files : tuple of str
        Names of its files without the pictures.
    sha256 : str
        Checksum of the archive.
    pictures, voice_notes : int
        Pictures and voice notes in it: the copies that tell no place.
    """

    path: Path
    entries: int
    files: tuple[str, ...]
    sha256: str
    pictures: int
    voice_notes: int


@dataclass(frozen=True, slots=True)
class Imported:
    """What came in: the site and how much of each thing."""

    site: str
    zones: int
    lots: int
    entries: int
    pictures: int
    voice_notes: int


def export_book(
    book: Book, path: Path, with_damage: bool = False, to_others: bool = False
) -> Exported:
    """Write the whole book as open files in one archive; the same book gives the same bytes.

    Parameters
    ----------
    book : Book
        The opened book.
    path : Path
        Where to; a file that is there is not written over.
    with_damage : bool
        Whether a book with a damaged entry goes out all the same, to be read but not imported.
    to_others : bool
        Whether it is a copy for others: without private words, their pictures, and sealed guesses.

    Raises
    ------
    BadInputError
        If there is a file of that name.
    DamagedBookError
        If an entry is damaged; names the first.
    StorageError
        If the disk would not take it; nothing is left behind.
    """
    if path.exists():
        raise BadInputError("the archive", str(path), "the name of a new file; that one is there")
    damage = book.store.check()
    if damage and not with_damage:
        first = damage[0]
        raise DamagedBookError(
            first.where,
            f"{first.found}; {first.after} entries after it lean on it",
            "Bring back your last good copy, or write it out as it is with --with-damage.",
        )
    with for_others() if to_others else nullcontext():
        files = _files_of(book.store)
    pictures = pictures_of(book.settings, _of_this_ground(book, files, to_others))
    listed = {
        name: {"bytes": len(held), "sha256": sha256(held).hexdigest()}
        for name, held in sorted(files.items())
    }
    listed |= {each.name: {"bytes": each.size, "sha256": each.mark} for each in pictures}
    manifest: dict[str, Any] = {
        "format": FORMAT,
        "version": VERSION,
        "weather_name": book.store.weather_name(),
        **({"for_others": True} if to_others else {}),
        "damage": [asdict(each) for each in damage],
        "files": listed,
    }
    if (forecast := book.store.forecast()) is not None:
        manifest["forecast_made_on"] = forecast.made_on and forecast.made_on.isoformat()
        if forecast.source is not None:
            manifest["forecast_source"] = about_text(forecast)
    files["manifest.json"] = _json(manifest)
    mark = write_zip(path, files, pictures)
    entries = files["diary.jsonl"].count(b"\n")
    return Exported(
        path, entries, tuple(sorted(files)), mark, *kinds_in(each.name for each in pictures)
    )


def _of_this_ground(book: Book, files: Mapping[str, bytes], to_others: bool) -> str | None:
    """Give the text whose pictures are this ground's; None where all of them are."""
    if len(book.store.grounds()) == 1 and not to_others:
        return None
    return "".join(files.get(name, b"").decode() for name in ("diary.jsonl", "kept.jsonl"))


def import_book(settings: Settings, path: Path, beside: bool = False) -> Imported:
    """Make a new book from an archive; a book that is there is never written over.

    Parameters
    ----------
    settings : Settings
        How this installation is set.
    path : Path
        The archive.
    beside : bool
        Whether to bring it in as a further ground of the book that is there.

    Raises
    ------
    BadInputError
        If there is a book already, or in it a ground of that name, or this is no archive of one.
    DamagedBookError
        If a file or an entry of the archive is not what was written.
    """
    files, pictures, manifest = _unpacked(path)
    site = from_plain(Site, _read_json(files["site.json"], "site.json"), "site.json")
    texts = {name: _text(held, name) for name, held in files.items()}
    with (
        pictures_in_place(settings, path, pictures, beside),
        filled_store(settings, site if beside else None) as store,
        store.together(),
    ):
        store.save_site(site)
        zones = tables.values_of(Zone, texts["zones.csv"], "zones.csv")
        for zone in zones:
            store.save_zone(zone)
        for peg in tables.values_of(Peg, texts["pegs.csv"], "pegs.csv"):
            store.save_peg(peg)
        for square in tables.values_of(HonestSquare, texts["squares.csv"], "squares.csv"):
            store.save_square(square)
        for plot in tables.values_of(Plot, texts["plots.csv"], "plots.csv"):
            store.save_plot(plot)
        lots = tables.lots_of(texts["lots.csv"], texts["lot_parts.csv"])
        for lot in lots:
            store.save_lot(lot)
        if "weather.csv" in texts:
            weather = tables.weather_of(texts["weather.csv"], "weather.csv")
            store.save_weather(weather, str(manifest.get("weather_name", "")))
        if "forecast.csv" in texts:
            store.save_forecast(_forecast_of(texts, manifest))
        entries = _chain_of(texts["diary.jsonl"])
        store.restore(entries)
        for line in filter(None, texts.get("kept.jsonl", "").split("\n")):
            store.keep(*_kept_of(line))
    return Imported(site.name, len(zones), len(lots), len(entries), *kinds_in(pictures))


def _forecast_of(texts: Mapping[str, str], manifest: Mapping[str, Any]) -> Forecast:
    made_on = manifest.get("forecast_made_on")
    try:
        day = date.fromisoformat(made_on) if made_on else None
    except (TypeError, ValueError) as slip:
        raise BadInputError("forecast_made_on in manifest.json", made_on, "a day") from slip
    forecast = Forecast(tables.weather_of(texts["forecast.csv"], "forecast.csv"), day)
    about, courses = manifest.get("forecast_source", ""), texts.get("forecast_courses.json", "")
    try:
        return with_beside(forecast, str(about), courses)
    except ValueError as slip:
        raise BadInputError("the forecast's source and courses", str(slip), "as written") from slip


def _kept_of(line: str) -> tuple[str, str, dict[str, Any]]:
    kept = _read_json(line.encode(), "kept.jsonl")
    kind, name, payload = (kept.get(key) for key in ("kind", "name", "payload"))
    if not (isinstance(kind, str) and isinstance(name, str) and isinstance(payload, dict)):
        raise BadInputError("kept.jsonl", line, "kind and name in words, and a payload")
    return kind, name, payload


def _files_of(store: Store) -> dict[str, bytes]:
    ground = store.ground()
    links, entries = _chain(store)
    held = (ground.zones, ground.pegs, ground.squares, ground.plots)
    texts = {
        name: tables.table_of(kind, values)
        for (name, kind), values in zip(_TABLES, held, strict=True)
    }
    texts["lots.csv"] = tables.table_of(SeedLot, ground.lots, left_out=("parts",))
    texts["lot_parts.csv"] = tables.parts_table(ground.lots)
    texts["diary.csv"] = tables.diary_table(entries, [link.checksum for link in links])
    texts["counts.csv"] = tables.counts_table(entries)
    texts["diary.jsonl"] = _lines(
        {"checksum": link.checksum, "entry": json.loads(link.text)} for link in links
    )
    kept = [
        {"kind": kind, "name": name, "payload": payload} for kind, name, payload in store.all_kept()
    ]
    if kept and not is_for_others():
        texts["kept.jsonl"] = _lines(kept)
    if (weather := store.weather()) is not None:
        texts["weather.csv"] = tables.weather_table(weather)
    if (forecast := store.forecast()) is not None:
        texts["forecast.csv"] = tables.weather_table(forecast.weather)
        if forecast.members:
            texts["forecast_courses.json"] = members_text(forecast)
    files = {name: text.encode() for name, text in texts.items()}
    return {**files, "site.json": _json(to_plain(ground.site))}


def _chain(store: Store) -> tuple[Sequence[Link], tuple[DiaryEntry, ...]]:
    """Give the entries with their chain; for others a chain of its own, of what they are told."""
    entries = store.whole_diary()
    if not is_for_others():
        return store.chain(), entries
    texts = [canonical(to_plain(each)) for each in entries]
    links = [
        Link(place, str(each.id), text, checked)
        for place, (each, (text, checked)) in enumerate(
            zip(entries, joined(texts, FIRST), strict=True), 1
        )
    ]
    return links, entries


def _lines(values: Any) -> str:
    return "".join(f"{canonical(value)}\n" for value in values)


def _json(value: Mapping[str, Any]) -> bytes:
    return (json.dumps(value, ensure_ascii=False, indent=1, sort_keys=True) + "\n").encode()


def _unpacked(path: Path) -> tuple[dict[str, bytes], tuple[str, ...], dict[str, Any]]:
    files, pictures = _members(path)
    manifest = _read_json(files.pop("manifest.json"), "manifest.json")
    if manifest.get("format") != FORMAT or manifest.get("version") != VERSION:
        raise BadInputError(
            str(path), f"{manifest.get('format')} {manifest.get('version')}",
            f"{FORMAT} {VERSION}", "A newer swardbook may have written it.",
        )  # fmt: skip
    if manifest.get("damage"):
        raise DamagedBookError(str(path), "it was written from a damaged book", _REMEDY)
    listed = manifest.get("files", {})
    if not isinstance(listed, dict) or set(listed) != {*files, *pictures}:
        odd = sorted(set(listed) ^ {*files, *pictures})
        raise DamagedBookError(str(path), f"its list of files does not hold for {odd}", _REMEDY)
    for name, held in sorted(files.items()):
        about = listed[name]
        if not isinstance(about, dict) or about.get("sha256") != sha256(held).hexdigest():
            raise DamagedBookError(f"{name} in {path}", "its checksum does not hold", _REMEDY)
    try:
        with zipfile.ZipFile(path) as archive:
            for name in pictures:
                check_picture(archive, name, listed[name], _REMEDY)
    except _NO_ZIP as slip:
        raise _no_zip(path, slip) from slip
    return files, pictures, manifest


def _members(path: Path) -> tuple[dict[str, bytes], tuple[str, ...]]:
    """Read the files of an archive: only names that it can have, only up to a size.

    Pictures are only named.
    """
    files: dict[str, bytes] = {}
    pictures: list[str] = []
    try:
        with zipfile.ZipFile(path) as archive:
            for about in archive.infolist():
                if is_picture(about.filename) and about.filename not in pictures:
                    pictures.append(about.filename)
                    continue
                if about.filename not in _KNOWN or about.filename in files:
                    raise BadInputError(
                        f"a file in {path}", about.filename, "the files of an archive, each once"
                    )
                with archive.open(about) as handle:
                    held = handle.read(LARGEST_FILE + 1)
                if len(held) > LARGEST_FILE:
                    limit = f"at most {LARGEST_FILE:,} bytes"
                    raise BadInputError(f"{about.filename} in {path}", "more", limit)
                files[about.filename] = held
    except FileNotFoundError as slip:
        raise BadInputError("the archive", str(path), "a file that is there") from slip
    except _NO_ZIP as slip:
        raise _no_zip(path, slip) from slip
    missing = sorted((_NEEDED | {"manifest.json"}) - set(files))
    if missing:
        raise BadInputError(str(path), sorted(files), f"an archive with {', '.join(missing)}")
    return files, tuple(sorted(pictures))


def _no_zip(path: Path, slip: Exception) -> BadInputError:
    return BadInputError(
        "the archive",
        str(path),
        "a zip file made by export",
        f"It is something else, or damaged on its way ({slip}).",
    )


def _chain_of(text: str) -> list[str]:
    """Give the texts of the diary, each tested against its checksum."""
    found, previous = [], FIRST
    for number, line in enumerate(text.split("\n")[:-1], 1):
        read = _read_json(line.encode(), f"diary.jsonl, line {number}")
        if set(read) != {"checksum", "entry"}:
            raise BadInputError(f"diary.jsonl, line {number}", sorted(read), "entry and checksum")
        read_entry(read["entry"])
        entry = canonical(read["entry"])
        if checksum(previous, entry) != read["checksum"]:
            identity = read["entry"].get("id", "")
            raise DamagedBookError(
                f"Entry {number} ({identity})", "its text and its checksum do not agree", _REMEDY
            )
        previous = read["checksum"]
        found.append(entry)
    return found


def _text(held: bytes, where: str) -> str:
    try:
        return held.decode("utf-8")
    except UnicodeDecodeError as slip:
        raise BadInputError(where, str(slip), "text in UTF-8") from slip


def _read_json(held: bytes, where: str) -> dict[str, Any]:
    try:
        read = json.loads(held)
    except (ValueError, RecursionError) as slip:
        raise BadInputError(where, str(slip), "a JSON object") from slip
    if not isinstance(read, dict):
        raise BadInputError(where, type(read).__name__, "a JSON object")
    return read
