"""Malformed uploads and imports over all ways in: `python -m tools.fuzz`, or `make test-fuzz`.

Each case has a number; what is sent follows from it alone, so that a case can be looked at again
with `--only NUMBER`. A run that was stopped goes on where it was (`build/fuzz.json`). After each
case: no fault but a refusal in words; where it was refused, the book and its folder are as they
were; nothing lies outside of the folders for pictures and for what can be made again. Every 250
cases all checksums of the book are reckoned anew.
"""

from __future__ import annotations

import argparse
import io
import json
import logging
import os
import random
import shutil
import sys
import tempfile
import traceback
import warnings
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from uuid import UUID

from tests.support.books import TODAY, small_book

from swardbook.book.opening import Book, open_book
from swardbook.foundation.errors import SwardbookError
from swardbook.settings import Settings
from tools.fuzz_bytes import NAMES, ODD_TEXTS, bombs, broken, odd_archive, sound_files

CASES, SEED = 10_000, 7
HELD = Path(__file__).parents[1] / "build" / "fuzz.json"
CHECK_EVERY = 250


@dataclass
class Place:
    """Where a run happens: a folder with the book, a folder beside it, and what is in them."""

    root: Path
    book: Book
    client: Any
    archive: bytes
    tally: Counter[str] = field(default_factory=Counter)

    @property
    def home(self) -> Path:
        """The folder of the book."""
        return self.root / "home"

    def files(self) -> dict[str, int]:
        """List what lies in the folder, but for what may change by itself."""
        found = {}
        for each in self.root.rglob("*"):
            name = str(each.relative_to(self.root))
            is_own = name.startswith(("home/book.sqlite3", "home/cache", "home/.book", "sent/"))
            if each.is_file() and not is_own:
                found[name] = each.stat().st_size
        return found

    def state(self) -> tuple[Any, ...]:
        """Name what the book holds."""
        store = self.book.store
        return len(store.whole_diary()), len(store.all_kept()), store.stamp()


Case = Callable[[Place, random.Random], str]
"""Sends something in; gives how it ended: ``kept`` or ``refused``."""


def run_case(place: Place, number: int, seed: int = SEED) -> list[str]:
    """Run one case, and give what went wrong; empty where nothing did.

    Parameters
    ----------
    place : Place
        Where.
    number, seed : int
        Which case.
    """
    chance = random.Random(f"{seed}:{number}")
    name = chance.choices(list(CASES_BY_NAME), [each[1] for each in CASES_BY_NAME.values()])[0]
    before, lay = place.state(), place.files()
    try:
        ended = CASES_BY_NAME[name][0](place, chance)
    except Exception:
        return [f"case {number}, {name}: {traceback.format_exc(limit=-6)}"]
    place.tally[f"{name}: {ended}"] += 1
    wrong = []
    after, lies = place.state(), place.files()
    if ended == "refused" and (after != before or lies != lay):
        new = sorted(set(lies.items()) ^ set(lay.items()))[:4]
        wrong.append(f"case {number}, {name}: refused, yet {before} became {after}, files {new}")
    stray = [each for each in set(lies) - set(lay) if not _may_lie(each)]
    if stray:
        wrong.append(f"case {number}, {name}: lies where nothing should: {stray[:4]}")
    if number % CHECK_EVERY == 0 and (damage := place.book.store.check()):
        wrong.append(f"case {number}, {name}: damage {damage[:2]}")
    return wrong


def _may_lie(name: str) -> bool:
    parts = Path(name).parts
    return (
        len(parts) == 4
        and parts[:2] == ("home", "pictures")
        and parts[2] in {"originals", "to share"}
        and Path(name).suffix in {".jpg", ".png", ".webp", ".webm", ".ogg", ".m4a", ".wav"}
        and len(Path(name).stem) == 64
    )


def _odd_file(chance: random.Random, *kinds: str) -> bytes:
    if chance.random() < 0.04:
        return chance.choice(bombs())
    held = sound_files()
    chosen = chance.choice(kinds) if chance.random() < 0.75 else chance.choice(list(held))
    return broken(chance, held[chosen]) if chance.random() < 0.85 else held[chosen]


def _sent(place: Place, chance: random.Random) -> str:
    """Send a picture or voice note as a phone does."""
    content = _odd_file(chance, "jpeg", "png", "webp", "webm", "m4a", "wav", "ogg", "both", "svg")
    file = io.BytesIO(content)
    file.name = chance.choice(NAMES) or "x"
    about: Any = {
        "id": str(UUID(int=chance.getrandbits(128))), "zone": "Main court", "when": "today",
        "note": "as seen",
    }  # fmt: skip
    if chance.random() < 0.4:
        about[chance.choice(("id", "zone", "when", "plot", "peg", "of", "measure", "note"))] = (
            chance.choice((*ODD_TEXTS, None, 1, True, [], {}))
        )
    told = json.dumps(about) if chance.random() < 0.95 else chance.choice(ODD_TEXTS)
    answer = place.client.post("/api/files/", {"file": file, "about": told})
    kept = [place.home / "pictures" / each for each in ("originals", "to share")]
    names = [sorted(each.name for each in folder.glob("*")) for folder in kept]
    if names[0] != names[1]:
        raise AssertionError("a picture is kept without its copy, or a copy without its picture")
    return _by_status(answer.status_code)


def _entry(place: Place, chance: random.Random) -> str:
    """Send an entry as a phone does."""
    told: Any = {
        "id": str(UUID(int=chance.getrandbits(128))), "kind": "cut", "when": "today",
        "fields": {"height_of_cut_mm": "8", "boxed": "yes"}, "zone": "Main court", "note": "dry",
    }  # fmt: skip
    for _ in range(chance.randrange(1, 4)):
        where = (
            told["fields"] if chance.random() < 0.4 and isinstance(told["fields"], dict) else told
        )
        key = chance.choice(
            [*where, "at", "hours", "who", "said_on", "kind", chance.choice(ODD_TEXTS)]
        )
        where[key] = chance.choice(
            (*ODD_TEXTS, None, 1e300, True, [1], {"a": "b"}, "water", "count")
        )
    text = json.dumps(told)
    body = text.encode() if chance.random() < 0.8 else broken(chance, text.encode())
    answer = place.client.post("/api/entries/", body, content_type="application/json")
    return _by_status(answer.status_code)


def _question(place: Place, chance: random.Random) -> str:
    """Ask or keep something in JSON."""
    path, name = chance.choice((
        ("water", "depth"), ("weather/show", "from"), ("survey/ph", "ph"), ("peg/add", "names"),
        ("materials/dressing", "depth"), ("units", "system"), ("clock", "zone"), ("feed", "rate"),
        ("lot/add", "code"), ("weather/fetch", "again"), ("diary/add", "kind"), ("fit", "zone"),
    ))  # fmt: skip
    told = {name: chance.choice(ODD_TEXTS), "zone": chance.choice(("Main court", *ODD_TEXTS))}
    text = json.dumps(told if chance.random() < 0.8 else [told])
    body = text.encode() if chance.random() < 0.7 else broken(chance, text.encode())
    before = place.book.store.stamp()
    answer = place.client.post(f"/api/ask/{path}/", body, content_type="application/json")
    if answer.status_code == 200 and place.book.store.stamp() == before:
        return "answered"
    return _by_status(answer.status_code)


def _form(path: str, field_name: str, *kinds: str, **more: str) -> Case:
    """Make the case of a file sent with a page's form."""

    def send(place: Place, chance: random.Random) -> str:
        file = io.BytesIO(_odd_file(chance, *kinds))
        file.name = chance.choice(NAMES) or "x"
        told = dict(more)
        if told and chance.random() < 0.3:
            told[chance.choice(list(told))] = chance.choice(ODD_TEXTS)
        before = place.book.store.stamp()
        answer = place.client.post(path, {field_name: file, **told})
        if answer.status_code in {200, 302} and place.book.store.stamp() == before:
            return "answered"
        return _by_status(answer.status_code)

    return send


def _read(function: str, ending: str, *kinds: str, **more: Any) -> Case:
    """Make the case of a file that a function of the book reads, given by where it stands."""
    module, name = function.rsplit(".", 1)

    def read(place: Place, chance: random.Random) -> str:
        from importlib import import_module

        file = place.root / "sent" / f"case{ending}"
        file.write_bytes(_odd_file(chance, *kinds))
        before = place.book.store.stamp()
        try:
            getattr(import_module(module), name)(
                *((place.book,) if name in _WITH_BOOK else ()), file, **more
            )  # fmt: skip
        except SwardbookError:
            return "refused"
        return "kept" if place.book.store.stamp() != before else "answered"

    return read


_WITH_BOOK = {"import_weather", "history_in"}


def _backdrop(place: Place, chance: random.Random) -> str:
    """Lay a picture under the plan."""
    from swardbook.book.plan_backdrop import keep_backdrop

    try:
        keep_backdrop(place.book, _odd_file(chance, "jpeg", "png", "webp"), chance.choice(NAMES))
    except SwardbookError:
        return "refused"
    return "kept"


def _service(place: Place, chance: random.Random) -> str:
    """Read what a weather service answers."""
    from swardbook.feeds.daily_service import read_service

    del place
    try:
        read_service(_odd_file(chance, "json"), 0.1)
    except SwardbookError:
        return "refused"
    return "answered"


def _archive(place: Place, chance: random.Random) -> str:
    """Bring an archive in as a new book."""
    from swardbook.book.archive import import_book

    folder = place.root / "sent" / "other"
    file = place.root / "sent" / "case.zip"
    file.write_bytes(odd_archive(chance, place.archive))
    try:
        import_book(Settings(folder), file)
    except SwardbookError:
        left = [each for each in folder.rglob("*") if each.is_file()] if folder.exists() else []
        if left:
            raise AssertionError(f"half a book is left: {left[:3]}") from None
        return "refused"
    finally:
        shutil.rmtree(folder, ignore_errors=True)
    return "answered"


def _together(place: Place, chance: random.Random) -> str:
    """Bring what another archive of the same ground holds into the book."""
    from swardbook.book.bring_together import bring_together

    file = place.root / "sent" / "case.zip"
    file.write_bytes(odd_archive(chance, place.archive))
    before = place.book.store.stamp()
    try:
        bring_together(place.book, file)
    except SwardbookError:
        return "refused"
    return "kept" if place.book.store.stamp() != before else "answered"


def _by_status(status: int) -> str:
    if status >= 500:
        raise AssertionError(f"the pages answered {status}")
    return "refused" if status >= 400 else "kept"


CASES_BY_NAME: dict[str, tuple[Case, int]] = {
    "a file from a phone": (_sent, 30),
    "an entry from a phone": (_entry, 12),
    "a question in JSON": (_question, 8),
    "a weather file by a form": (
        _form("/ask/weather/import/", "file", "csv", "dly", "epw", keeps="yes"), 5),
    "an old sheet by a form": (
        _form("/ask/history-in/", "file", "sheet", "notebook", keeps="yes", zone="Main court"), 5),
    "a count sheet by a form": (
        _form("/ask/count/add/", "file", "count", zone="Main court", method="points"), 4),
    "a weather file": (
        _read("swardbook.book.weather.import_weather", ".csv", "csv", "dly", "epw"), 8),
    "an old sheet": (
        _read("swardbook.book.history_in.history_in", ".csv", "sheet", keep=True), 6),
    "an old notebook": (
        _read("swardbook.book.history_in.history_in", ".txt", "notebook", keep=True), 4),
    "normals": (_read("swardbook.book.weather_normals.read_normals", ".txt", "monthly", "epw"), 3),
    "an outline": (
        _read("swardbook.feeds.positions.read_positions", ".json", "geojson", "gpx", "corners"), 4),
    "a picture under the plan": (_backdrop, 4),
    "a weather service": (_service, 5),
    "an archive": (_archive, 10),
    "another book's archive": (_together, 3),
}  # fmt: skip
"""Every way in, and how often it is taken among the others."""


@contextmanager
def place_for_fuzzing(home: Path | None = None) -> Iterator[Place]:
    """Make a small book in a folder of its own, with pages over it."""
    from django.test import Client

    from swardbook.book.archive import export_book
    from swardbook.web import opened

    before = {name: os.environ.get(name) for name in ("SWARDBOOK_HOME", "SWARDBOOK_DATABASE")}
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder)
        (root / "sent").mkdir()
        os.environ |= {"SWARDBOOK_HOME": str(root / "home"), "SWARDBOOK_DATABASE": ""}
        if home is None:
            small_book(root / "home").store.close()
        else:
            shutil.copytree(home, root / "home")
        book = open_book(Settings(root / "home"), lambda: TODAY)
        export_book(book, root / "sent" / "good.zip")
        archive = (root / "sent" / "good.zip").read_bytes()
        try:
            yield Place(root, book, Client(HTTP_HOST="localhost"), archive)
        finally:
            opened.close()
            book.store.close()
            for name, text in before.items():
                os.environ.pop(name, None)
                if text is not None:
                    os.environ[name] = text


def main(arguments: list[str]) -> int:
    """Run the cases, from where the last run was stopped."""
    parser = argparse.ArgumentParser(description=__doc__, prog="python -m tools.fuzz")
    parser.add_argument("--cases", type=int, default=CASES)
    parser.add_argument("--seed", type=int, default=SEED)
    parser.add_argument("--only", type=int, help="one case, to look at it")
    parser.add_argument("--anew", action="store_true", help="from the first case")
    asked = parser.parse_args(arguments)
    from swardbook.book.opening import prepare_pages
    from swardbook.web.wiring import pages_settings

    warnings.simplefilter("ignore")
    logging.disable(logging.CRITICAL)
    prepare_pages(pages_settings())
    if asked.only is not None:
        with place_for_fuzzing() as place:
            wrong = run_case(place, asked.only, asked.seed)
            print("\n".join(wrong) or f"nothing wrong: {dict(place.tally)}")
        return bool(wrong)
    held = _held(asked.seed, asked.anew)
    while held["done"] < asked.cases:
        with place_for_fuzzing() as place:  # a fresh book now and then, so that it stays small
            to = min(held["done"] + 1000, asked.cases)
            for number in range(held["done"], to):
                held["wrong"] += run_case(place, number, asked.seed)
                held["done"] = number + 1
                if held["done"] % 50 == 0 or held["done"] == to:
                    _keep(held, place)
            print(f"{held['done']} of {asked.cases}, {len(held['wrong'])} wrong", flush=True)
    for each in held["wrong"]:
        print(each)
    for name, count in sorted(held["tally"].items()):
        print(f"{count:6d}  {name}")
    return 1 if held["wrong"] else 0


def _held(seed: int, anew: bool) -> dict[str, Any]:
    fresh: dict[str, Any] = {"seed": seed, "done": 0, "wrong": [], "tally": {}}
    if anew or not HELD.exists():
        return fresh
    held: dict[str, Any] = json.loads(HELD.read_text("utf-8"))
    return held if held["seed"] == seed else fresh


def _keep(held: dict[str, Any], place: Place) -> None:
    held["tally"] = dict(Counter(held["tally"]) + place.tally)
    place.tally.clear()
    HELD.parent.mkdir(exist_ok=True)
    aside = HELD.with_suffix(".unfinished")
    aside.write_text(json.dumps(held), encoding="utf-8")
    aside.replace(HELD)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
