"""Everything out and in again without loss, and nothing bad gets in."""

import json
import random
import zipfile
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from decimal import Decimal
from hashlib import sha256
from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from swardbook.book import archive_tables as tables
from swardbook.book.archive import export_book, import_book
from swardbook.book.opening import Book, open_book
from swardbook.foundation.dates import When
from swardbook.foundation.errors import BadInputError, DamagedBookError, StorageError
from swardbook.husbandry.ground import HonestSquare, Mower, Peg, Plot, Zone
from swardbook.husbandry.happenings import Closure, Count, Feed, Note
from swardbook.observations.counts import Method, PlaceCount
from swardbook.seed.lot import LotPart, SeedLot
from swardbook.settings import Settings
from swardbook.weather.forecast import Forecast
from swardbook.weather.series import DailyWeather
from tests.support.books import MAIN, TODAY, entry, small_book

TEXT = st.text(st.characters(codec="utf-8", exclude_characters="\x00"), max_size=20)


@pytest.fixture
def book(tmp_path: Path) -> Book:
    """A book with something of every sort in it, some of it awkward."""
    book = small_book(tmp_path / "home")
    store = book.store
    store.save_zone(replace(MAIN, name="=SUM(A1)", note="'quoted\r\nline", mower=Mower("cylinder")))
    store.save_square(HonestSquare("S1", MAIN.name, since=date(2010, 8, 1)))
    store.save_plot(Plot("1-10", MAIN.name, 1, 10, "Umbrella", left_out_from=date(2011, 6, 12)))
    store.save_lot(SeedLot("+BB", "Bobbin", (LotPart("browntop bent", 1.0),)))
    places = (
        PlaceCount("P1", Method.POINTS, {"annual meadow-grass": 6, "bare": 0}, 25.0, "Ines"),
        PlaceCount("P2", Method.BY_EYE, {"moss": 40.0}, 100.0),
    )
    store.add(
        [
            entry(1, Count(places, "October")),
            entry(2, Feed("spring feed", 1 / 3, 12.0), money=Decimal("12.50"), hours=0.1),
            entry(3, Note('-2+3 🌱, "so"\nand more'), note="@home\t=1"),
            entry(4, Closure(date(2011, 7, 14), "hose"), zone=""),
            replace(
                entry(5), when=When(date(2011, 7, 11), date(2011, 7, 20), "mid-July"), number=5
            ),
            entry(6, corrects=entry(1).id, needs_a_look="Look."),
        ]
    )
    days = np.arange("2011-01-01", "2011-03-01", dtype="datetime64[D]")
    warmth = np.linspace(-3, 9, len(days)) / 7
    rain = np.where(warmth > 0.5, np.nan, 0.1)
    flags = np.zeros(len(days), dtype=np.int64)
    store.save_weather(DailyWeather(days, warmth, warmth + 5, rain, flags, wind=warmth), "station")
    ahead = DailyWeather(days[:4] + 59, warmth[:4], warmth[:4] + 5, warmth[:4] * 0, flags[:4])
    store.save_forecast(Forecast(ahead, date(2011, 2, 28)))
    store.keep("sealed guess", "autumn", {"share": 0.17, "who": "I\u2028nes"})
    return book


def opened(home: Path) -> Book:
    return open_book(Settings(home), lambda: TODAY)


def test_export_import_export_gives_identical_bytes(book: Book, tmp_path: Path) -> None:
    first = export_book(book, tmp_path / "one.zip")
    came = import_book(Settings(tmp_path / "elsewhere"), tmp_path / "one.zip")
    other = opened(tmp_path / "elsewhere")
    second = export_book(other, tmp_path / "two.zip")
    assert (tmp_path / "one.zip").read_bytes() == (tmp_path / "two.zip").read_bytes()
    assert (came.entries, came.zones, came.lots) == (6, 3, 2)
    assert first.sha256 == second.sha256
    assert other.store.ground() == book.store.ground()
    assert other.store.whole_diary() == book.store.whole_diary()
    assert other.store.kept("sealed guess") == book.store.kept("sealed guess")
    assert other.store.weather_name() == "station"
    kept, told = other.store.weather(), other.store.forecast()
    assert kept is not None
    assert kept.last == date(2011, 2, 28)
    assert told is not None
    assert (told.weather.first, len(told.weather)) == (date(2011, 3, 1), 4)
    assert told.made_on == date(2011, 2, 28)
    assert other.store.check() == ()


def test_the_same_book_exports_the_same_bytes(book: Book, tmp_path: Path) -> None:
    export_book(book, tmp_path / "one.zip")
    export_book(book, tmp_path / "two.zip")
    assert (tmp_path / "one.zip").read_bytes() == (tmp_path / "two.zip").read_bytes()


def test_the_files_are_open_and_listed_with_their_checksums(book: Book, tmp_path: Path) -> None:
    export_book(book, tmp_path / "one.zip")
    with zipfile.ZipFile(tmp_path / "one.zip") as archive:
        files = {name: archive.read(name) for name in archive.namelist()}
    listed = json.loads(files.pop("manifest.json"))["files"]
    assert {name: sha256(held).hexdigest() for name, held in files.items()} == {
        name: about["sha256"] for name, about in listed.items()
    }
    counted = tables.csv_rows(files["counts.csv"].decode(), "counts.csv")
    assert [(row["place"], row["kind"], row["found"]) for row in counted] == [
        ("P1", "annual meadow-grass", "6.0"), ("P1", "bare", "0.0"), ("P2", "moss", "40.0"),
    ]  # fmt: skip
    assert len(tables.csv_rows(files["diary.csv"].decode(), "diary.csv")) == 6


def test_no_cell_begins_like_a_formula(book: Book, tmp_path: Path) -> None:
    export_book(book, tmp_path / "one.zip")
    with zipfile.ZipFile(tmp_path / "one.zip") as archive:
        for name in ("zones.csv", "lots.csv", "lot_parts.csv", "diary.csv", "counts.csv"):
            for row in tables.csv_rows(archive.read(name).decode(), name):
                for cell in row.values():
                    assert not cell.startswith(("=", "+", "@", "\t", "\r", "\n")), (name, cell)


@settings(deadline=None)
@given(TEXT, TEXT, st.none() | st.floats(0, 24), st.booleans())
def test_any_text_of_a_zone_comes_back_from_its_table(
    name: str, note: str, sun: float | None, stains: bool
) -> None:
    zone = replace(MAIN, name=name, note=note, sun_hours=sun, iron_stains_near=stains)
    text = tables.table_of(Zone, [zone, MAIN])
    assert tables.values_of(Zone, text, "zones.csv") == (zone, MAIN)


@settings(deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(TEXT)
def test_text_that_looks_like_a_formula_is_guarded_and_restored(text: str) -> None:
    for held in (text, "=" + text, "'" + text, "-" + text, "\n=" + text, "\r" + text, "＝" + text):
        guarded = tables.guarded_text(held)
        assert not guarded.startswith(
            ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
        )
        assert tables.plain_text(guarded) == held


def test_nothing_is_exported_over_a_file(book: Book, tmp_path: Path) -> None:
    (tmp_path / "one.zip").write_text("mine")
    with pytest.raises(BadInputError, match="new file"):
        export_book(book, tmp_path / "one.zip")
    assert (tmp_path / "one.zip").read_text() == "mine"


def test_an_export_that_cannot_be_written_leaves_nothing_behind(book: Book, tmp_path: Path) -> None:
    with pytest.raises(StorageError):
        export_book(book, tmp_path / "no such folder" / "one.zip")


def test_a_damaged_entry_stops_the_export_and_is_named(book: Book, tmp_path: Path) -> None:
    book.store.close()
    file = tmp_path / "home" / "book.sqlite3"
    raw = file.read_bytes()
    assert raw.count(b"mid-July") >= 1
    file.write_bytes(raw.replace(b"mid-July", b"mid-June"))
    damaged = opened(tmp_path / "home")
    with pytest.raises(DamagedBookError, match="Entry 5"):
        export_book(damaged, tmp_path / "one.zip")
    export_book(damaged, tmp_path / "one.zip", with_damage=True)
    with pytest.raises(DamagedBookError, match="damaged book"):
        import_book(Settings(tmp_path / "elsewhere"), tmp_path / "one.zip")


def test_a_book_that_is_there_is_never_imported_over(book: Book, tmp_path: Path) -> None:
    export_book(book, tmp_path / "one.zip")
    with pytest.raises(BadInputError, match="never written over"):
        import_book(book.settings, tmp_path / "one.zip")
    assert len(book.store.whole_diary()) == 6


Change = Callable[[dict[str, bytes]], object]


def changed(book: Book, tmp_path: Path, change: Change, with_manifest: bool = True) -> Path:
    """Export a book, change its files, and pack them again with a manifest that holds."""
    export_book(book, tmp_path / "good.zip")
    with zipfile.ZipFile(tmp_path / "good.zip") as archive:
        files = {name: archive.read(name) for name in archive.namelist()}
    change(files)
    if with_manifest and "manifest.json" in files:
        manifest = json.loads(files["manifest.json"])
        manifest["files"] = {
            name: {"bytes": len(held), "sha256": sha256(held).hexdigest()}
            for name, held in files.items()
            if name != "manifest.json"
        }
        files["manifest.json"] = json.dumps(manifest).encode()
    with zipfile.ZipFile(tmp_path / "bad.zip", "w") as archive:
        for name, held in files.items():
            archive.writestr(name, held)
    return tmp_path / "bad.zip"


def put(name: str, old: bytes, new: bytes) -> Change:
    def change(files: dict[str, bytes]) -> None:
        assert old in files[name]
        files[name] = files[name].replace(old, new, 1)

    return change


def swap_lines(files: dict[str, bytes]) -> None:
    first, second, *rest = files["diary.jsonl"].splitlines(keepends=True)
    files["diary.jsonl"] = b"".join([second, first, *rest])


BAD: dict[str, tuple[Change, type[Exception], str]] = {
    "a path out of the archive": (
        lambda files: files.update({"../evil": b"x"}), BadInputError, "evil"),
    "an absolute path": (lambda files: files.update({"/etc/x": b"x"}), BadInputError, "/etc/x"),
    "a file too many": (lambda files: files.update({"more.csv": b""}), BadInputError, "more.csv"),
    "a missing file": (lambda files: files.pop("pegs.csv"), BadInputError, "pegs.csv"),
    "no manifest": (lambda files: files.pop("manifest.json"), BadInputError, "manifest.json"),
    "another format": (
        put("manifest.json", b'"swardbook archive"', b'"something"'), BadInputError, "something"),
    "a manifest that is no object": (
        lambda files: files.update({"site.json": b"[]"}), BadInputError, "site.json"),
    "a changed entry": (put("diary.jsonl", b"spring feed", b"autumn feed"), DamagedBookError,
                        "Entry 2"),
    "entries in another order": (swap_lines, DamagedBookError, "Entry 1"),
    "an unknown kind": (put("diary.jsonl", b'"kind":"feed"', b'"kind":"fead"'), BadInputError,
                        "fead"),
    "an unknown field": (put("diary.jsonl", b'"number":1', b'"namber":1'), BadInputError,
                         "namber"),
    "an unknown column": (put("zones.csv", b"area_m2", b"area_ft2"), BadInputError, "area_ft2"),
    "a cell that is no number": (put("zones.csv", b"819.2", b"large"), BadInputError, "large"),
    "a cell too many": (put("pegs.csv", b"P1,", b"P1,,"), BadInputError, "row 2"),
    "text that is not UTF-8": (put("zones.csv", b"Main", b"M\xff"), BadInputError, "UTF-8"),
    "a kept result without its name": (
        put("kept.jsonl", b'"name"', b'"nome"'), BadInputError, "kept.jsonl"),
    "weather with a hole": (put("weather.csv", b"2011-01-03", b"2011-01-04"), ValueError, "day"),
}  # fmt: skip


@pytest.mark.parametrize("case", BAD)
def test_a_bad_archive_is_refused_by_name_and_leaves_no_half_book(
    book: Book, tmp_path: Path, case: str
) -> None:
    change, refusal, named = BAD[case]
    bad = changed(book, tmp_path, change)
    home = tmp_path / "elsewhere"
    with pytest.raises(refusal, match=named):
        import_book(Settings(home), bad)
    assert not home.exists() or list(home.iterdir()) == []


def test_a_file_that_does_not_match_its_checksum_is_refused(book: Book, tmp_path: Path) -> None:
    bad = changed(book, tmp_path, put("pegs.csv", b"P1", b"P9"), with_manifest=False)
    with pytest.raises(DamagedBookError, match=r"pegs\.csv"):
        import_book(Settings(tmp_path / "elsewhere"), bad)


def test_an_archive_that_swells_is_refused(
    book: Book, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    export_book(book, tmp_path / "one.zip")
    monkeypatch.setattr("swardbook.book.archive.LARGEST_FILE", 100)
    with pytest.raises(BadInputError, match="at most 100 bytes"):
        import_book(Settings(tmp_path / "elsewhere"), tmp_path / "one.zip")


@pytest.mark.parametrize("content", [b"", b"no zip", b"PK\x03\x04" + b"\x00" * 40])
def test_what_is_no_zip_is_refused(tmp_path: Path, content: bytes) -> None:
    (tmp_path / "one.zip").write_bytes(content)
    with pytest.raises(BadInputError, match="zip file made by export"):
        import_book(Settings(tmp_path / "home"), tmp_path / "one.zip")
    with pytest.raises(BadInputError, match="a file that is there"):
        import_book(Settings(tmp_path / "home"), tmp_path / "none.zip")


@pytest.mark.parametrize("seed", range(20))
def test_whatever_bytes_of_an_archive_change_it_is_refused_or_whole(
    book: Book, tmp_path: Path, seed: int
) -> None:
    dice = random.Random(seed)
    export_book(book, tmp_path / "one.zip")
    raw = bytearray((tmp_path / "one.zip").read_bytes())
    for _ in range(dice.randint(1, 4)):
        raw[dice.randrange(len(raw))] = dice.randrange(256)
    (tmp_path / "bad.zip").write_bytes(raw)
    home = tmp_path / "elsewhere"
    try:
        import_book(Settings(home), tmp_path / "bad.zip")
    except (BadInputError, DamagedBookError):
        assert not home.exists() or list(home.iterdir()) == []
    else:
        assert opened(home).store.whole_diary() == book.store.whole_diary()


def test_an_interrupted_import_leaves_no_half_book_and_can_be_done_again(
    book: Book, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    export_book(book, tmp_path / "one.zip")
    home = tmp_path / "elsewhere"

    def interrupted(*_: object) -> None:
        raise KeyboardInterrupt

    with monkeypatch.context() as patch:
        patch.setattr("swardbook.records.store.Store.restore", interrupted)
        with pytest.raises(KeyboardInterrupt):
            import_book(Settings(home), tmp_path / "one.zip")
    assert list(home.iterdir()) == []
    (home / ".unfinished").mkdir()
    (home / ".unfinished" / "book.sqlite3").write_bytes(b"left by a kill")
    assert import_book(Settings(home), tmp_path / "one.zip").entries == 6
    assert [each.name for each in home.iterdir()] == ["book.sqlite3"]


def test_pegs_keep_their_order(book: Book) -> None:
    pegs = [Peg(f"P{n}", MAIN.name) for n in (9, 3, 7)]
    assert tables.values_of(Peg, tables.table_of(Peg, pegs), "pegs.csv") == tuple(pegs)
