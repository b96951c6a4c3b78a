"""What the fuzzer sends: sound files of each kind, and ways to break them."""

from __future__ import annotations

import io
import json
import random
import struct
import zipfile
import zlib
from collections.abc import Callable
from datetime import date, timedelta
from functools import cache
from hashlib import sha256

from PIL import Image
from tests.support.sounds import mp4, ogg, wav, webm
from tests.support.weather_service import as_bytes, days_told

NAMES = (
    "picture.jpg", "note.webm", "weather.csv", "../../evil.jpg", "..\\..\\evil.exe", "/etc/evil",
    "a\x00b.jpg", "CON", "x" * 3000, "evil.svg", "evil.html", "\u202egpj.exe", ".", "", "a/b/c.png",
    "=cmd|' /C calc'!A0.csv", "nul.jpg:ads", "%2e%2e%2fevil",
)  # fmt: skip
ODD_TEXTS = (
    "=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "NaN", "1e999", "-1e999", "9" * 400, "\0",
    "\u202e",
    "'", '"', ";;;;", ",,,,,", "\ufeff", "29 February 2011", "0000-00-00", "9999-12-31", "1,5",
    "<script>alert(1)</script>", "${7*7}", "{{7*7}}", "%s%n", "\ud7ff", "٣", "½", "-0", "Inf",
    "../../x", "true", "null", "[]", "{}", "🌱" * 50,
)  # fmt: skip


@cache
def sound_files() -> dict[str, bytes]:
    """Give a sound file of each kind that can be sent in."""
    return {
        "jpeg": _picture("JPEG"), "png": _picture("PNG"), "webp": _picture("WEBP"),
        "webm": webm(), "m4a": mp4(), "wav": wav(), "ogg": ogg(),
        "csv": _weather().encode(), "json": as_bytes(days_told(date(2011, 9, 1), 30, courses=2)),
        "dly": _dly().encode(), "epw": _epw().encode(), "monthly": _MONTHLY.encode(),
        "sheet": _SHEET.encode(), "notebook": _NOTEBOOK.encode(), "count": _COUNT.encode(),
        "geojson": _GEOJSON.encode(), "gpx": _GPX.encode(), "corners": _CORNERS.encode(),
        "svg": b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>",
        "html": b"<!doctype html><script>alert(1)</script>", "pdf": b"%PDF-1.7\n%%EOF",
        "gif": b"GIF89a" + bytes(40), "exe": b"MZ" + bytes(200), "empty": b"",
        "both": _picture("JPEG") + b"<script>alert(1)</script>",
    }  # fmt: skip


def _picture(form: str) -> bytes:
    held = io.BytesIO()
    tags = Image.Exif()
    tags[0x0110] = "Fen Two"
    tags.get_ifd(0x8825)[2] = (52.0, 12.0, 30.0)
    Image.new("RGB", (96, 64), (70, 112, 48)).save(held, form, exif=tags)
    return held.getvalue()


def _weather() -> str:
    rows = [
        f"{date(2011, 8, 1) + timedelta(days=at)},{4 + at % 5},{14 + at % 7},{at % 3}"
        for at in range(40)
    ]
    return "\n".join(["date,tmin_c,tmax_c,rain_mm", *rows])


def _dly() -> str:
    cells = "".join(f"{at * 3:5d}  E" for at in range(31))
    return "\n".join(f"XX000000001201108{each}{cells}" for each in ("TMIN", "TMAX", "PRCP"))


def _epw_hour(at: int, rest: str) -> str:
    return f"2011,8,{1 + at // 24},{at % 24 + 1},60,{rest}"


def _epw() -> str:
    heads = ["LOCATION,Fennowick,-,XX,SRC,000000,52.0,0.1,0.0,62.0", *(["HEAD,"] * 7)]
    hour = ",".join(["0"] * 30)
    return "\n".join(
        [*heads, *(f"2011,8,{1 + at // 24},{at % 24 + 1},60,{hour}" for at in range(96))]
    )


_MONTHLY = (
    "Fennowick\n yyyy mm tmax tmin af rain sun\n 2010 1 6.0 0.5 12 50.0 ---\n"
    " 2010 2 7.0* --- 1 4.0 5\n"
)
_SHEET = (
    "date,job,zone,height,note\n2011-05-01,cut,Main court,8 mm,dry\n2011-05-09,water,Main court,,\n"
)
_NOTEBOOK = "May 2011\n3 May Main court cut at 8 mm, boxed\n9 May watered Short court 30 min\n"
_COUNT = "place,annual meadow-grass,bare\nP1,6,2\nP2,3,1\n"
_CORNERS = "latitude,longitude\n52.0001,0.0001\n52.0002,0.0001\n52.0002,0.0003\n52.0001,0.0003\n"
_GEOJSON = json.dumps({
    "type": "Polygon",
    "coordinates": [[[0.0001, 52.0], [0.0002, 52.0], [0.0002, 52.0001], [0.0001, 52.0]]],
})  # fmt: skip
_GPX = (
    "<gpx><trk><trkseg>"
    + "".join(f'<trkpt lat="52.000{at}" lon="0.000{at % 3}"/>' for at in range(1, 6))
    + "</trkseg></trk></gpx>"
)


def broken(chance: random.Random, held: bytes) -> bytes:
    """Break a file in one to four ways."""
    for _ in range(chance.choice((1, 1, 1, 2, 2, 3, 4))):
        held = chance.choice(_WAYS)(chance, held)
    return held[:3_000_000]


def _flip(chance: random.Random, held: bytes) -> bytes:
    made = bytearray(held)
    for _ in range(chance.choice((1, 1, 2, 8, 64))):
        if made:
            made[chance.randrange(len(made))] ^= 1 << chance.randrange(8)
    return bytes(made)


def _cut(chance: random.Random, held: bytes) -> bytes:
    return held[: chance.randrange(len(held) + 1)]


def _begin_later(chance: random.Random, held: bytes) -> bytes:
    return held[chance.randrange(len(held) + 1) :]


def _twice(chance: random.Random, held: bytes) -> bytes:
    at, to = sorted((chance.randrange(len(held) + 1), chance.randrange(len(held) + 1)))
    return held[:to] + held[at:to] * chance.choice((1, 2, 20)) + held[to:]


def _noise(chance: random.Random, held: bytes) -> bytes:
    at = chance.randrange(len(held) + 1)
    return held[:at] + chance.randbytes(chance.choice((1, 4, 100, 5000))) + held[at:]


def _large_number(chance: random.Random, held: bytes) -> bytes:
    at = chance.randrange(len(held) + 1)
    number = chance.choice((b"\xff\xff\xff\xff", b"\x7f\xff\xff\xff", bytes(4), b"\x80\0\0\0"))
    return held[:at] + number + held[at + 4 :]


def _joined(chance: random.Random, held: bytes) -> bytes:
    other = chance.choice(list(sound_files().values()))
    return held[: chance.randrange(len(held) + 1)] + other[chance.randrange(len(other) + 1) :]


def _odd_text(chance: random.Random, held: bytes) -> bytes:
    cells = held.split(chance.choice((b",", b"\n", b" ", b'"', b":")))
    cells[chance.randrange(len(cells))] = chance.choice(ODD_TEXTS).encode("utf-8", "surrogatepass")
    return chance.choice((b",", b"\n", b" ", b";", b"\t")).join(cells)


def _other_letters(chance: random.Random, held: bytes) -> bytes:
    return held.decode("utf-8", "replace").encode(chance.choice(("utf-16", "utf-16-le", "utf-32")))


def _nothing_but(chance: random.Random, held: bytes) -> bytes:
    del held
    return chance.choice((b"", b"\0", b"\xff", b"A")) * chance.choice((1, 100, 200_000))


_Way = Callable[[random.Random, bytes], bytes]
_WAYS: tuple[_Way, ...] = (
    _flip, _flip, _cut, _begin_later, _twice, _noise, _large_number, _joined, _odd_text, _odd_text,
    _other_letters, _nothing_but,
)  # fmt: skip


def bombs() -> tuple[bytes, ...]:
    """Give pictures that claim more pixels than any machine holds."""
    found = []
    for wide, high in ((60_000, 60_000), (2**31 - 1, 1), (1, 2**31 - 1), (0, 0)):
        head = struct.pack(">IIBBBBB", wide, high, 8, 2, 0, 0, 0)
        chunk = b"IHDR" + head
        body = zlib.compress(bytes(100_000), 9)
        data = b"IDAT" + body
        found.append(
            b"\x89PNG\r\n\x1a\n" + struct.pack(">I", 13) + chunk
            + struct.pack(">I", zlib.crc32(chunk)) + struct.pack(">I", len(body)) + data
            + struct.pack(">I", zlib.crc32(data))
        )  # fmt: skip
    return tuple(found)


def odd_archive(chance: random.Random, good: bytes) -> bytes:
    """Break an archive, by its bytes or by what stands in it."""
    if chance.random() < 0.4:
        return broken(chance, good)
    with zipfile.ZipFile(io.BytesIO(good)) as held:
        files = {name: held.read(name) for name in held.namelist()}
    chosen = chance.choice(list(files))
    if chance.random() < 0.2:
        del files[chosen]
    else:
        files[chosen] = broken(chance, files[chosen])
    if chosen != "manifest.json" and chance.random() < 0.5:
        files["manifest.json"] = _listed_anew(files)
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as made:
        for name, content in files.items():
            made.writestr(name, content)
        _put_more(chance, made, good)
    return out.getvalue()


def _listed_anew(files: dict[str, bytes]) -> bytes:
    """Let the list of files hold, so that what stands in them is read."""
    manifest = json.loads(files["manifest.json"])
    manifest["files"] = {
        name: {"bytes": len(content), "sha256": sha256(content).hexdigest()}
        for name, content in files.items()
        if name != "manifest.json"
    }
    return json.dumps(manifest).encode()


def _put_more(chance: random.Random, made: zipfile.ZipFile, good: bytes) -> None:
    how = chance.randrange(9)
    if how == 0:
        made.writestr(
            chance.choice(("../evil.txt", "/tmp/evil.txt", "..\\evil.txt", "C:\\x")), b"x"
        )
    elif how == 1:
        link = zipfile.ZipInfo(f"pictures/to share/{'ab' * 32}.jpg")
        link.external_attr = 0o120777 << 16
        made.writestr(link, "/etc/passwd")
    elif how == 2 and made.namelist():
        made.NameToInfo.clear()  # or the same name cannot be written twice
        made.writestr(chance.choice([each.filename for each in made.filelist]), b"twice")
    elif how == 3:
        made.writestr("inner.zip", good)
    elif how == 4:
        made.writestr("kept.jsonl", bytes(3_000_000), zipfile.ZIP_DEFLATED)
    elif how == 5:
        made.writestr(f"pictures/to share/{'0' * 64}.jpg", chance.randbytes(400))
