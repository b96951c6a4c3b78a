"""The segments of a JPEG file: where its picture ends, and a copy without what tells the place."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from swardbook.foundation.errors import BadInputError

START, SCAN, END = 0xD8, 0xDA, 0xD9
EXIF_SEGMENT = 0xE1
PHOTOSHOP_SEGMENT, COMMENT, MULTI_PICTURE = 0xED, 0xFE, 0xE2
_FRAMES = {*range(0xC0, 0xD0)} - {0xC4, 0xC8, 0xCC}
_MARKER = re.compile(rb"\xff+([^\x00\xff\xd0-\xd7])")


@dataclass(frozen=True, slots=True)
class Segment:
    """One segment of a JPEG file."""

    marker: int
    first: int
    """Where its marker begins. [byte]"""
    last: int
    """Where the next thing begins. [byte]"""


@dataclass(frozen=True, slots=True)
class Layout:
    """What a JPEG file is made of."""

    segments: tuple[Segment, ...]
    wide: int
    high: int
    channels: int
    ends_at: int
    """Where the picture ends; a phone may have put more after it. [byte]"""


def lay_out(held: bytes, name: str) -> Layout:
    """Find the segments of a JPEG file and the end of its picture, without opening the picture.

    Raises
    ------
    BadInputError
        If the file breaks off, or is no JPEG past its first bytes.
    """
    segments, frame, at = [], None, 2
    for segment in _walk(held, at, name):
        segments.append(segment)
        if segment.marker in _FRAMES:
            frame = held[segment.first + 4 : segment.last]
        if segment.marker == END:
            break
    else:
        raise broken_off(name, len(held))
    if frame is None or len(frame) < 6:
        raise BadInputError(
            name, "a JPEG without a picture in it", "a whole JPEG", "Copy it again."
        )
    high, wide = int.from_bytes(frame[1:3], "big"), int.from_bytes(frame[3:5], "big")
    return Layout(tuple(segments), wide, high, frame[5], segments[-1].last)


def broken_off(name: str, size: int) -> BadInputError:
    """Say that a file ends before its picture does."""
    return BadInputError(
        name, f"a picture that breaks off after {size:,} bytes", "a whole picture",
        "The copy was cut short: copy or send it again.",
    )  # fmt: skip


def without_place(held: bytes, layout: Layout, exif: bytes) -> bytes:
    """Copy a JPEG file without what may tell where it was taken; its picture stays bit for bit.

    Left out are all application notes that can hold words (EXIF, XMP, captions, comments), small
    pictures beside the picture, and whatever stands after it. A fresh EXIF takes their place.

    Parameters
    ----------
    held : bytes
        The file.
    layout : Layout
        Its segments.
    exif : bytes
        EXIF to put in, beginning with ``Exif``; empty for none.
    """
    parts = [held[:2]]
    if exif:
        parts.append(b"\xff\xe1" + (len(exif) + 2).to_bytes(2, "big") + exif)
    parts += [
        held[each.first : each.last]
        for each in layout.segments
        if not (_tells(each.marker) and not _is_colour(held, each))
    ]
    return b"".join(parts)


def _tells(marker: int) -> bool:
    return marker == COMMENT or 0xE1 <= marker <= 0xEF


def _is_colour(held: bytes, segment: Segment) -> bool:
    """Tell whether a note says how colours are meant, which the copy needs."""
    begins = held[segment.first + 4 : segment.first + 16]
    return begins.startswith((b"ICC_PROFILE\x00", b"Adobe"))


def _walk(held: bytes, at: int, name: str) -> Iterator[Segment]:
    while at < len(held):
        found = _MARKER.match(held, at)
        if found is None:
            raise BadInputError(
                name, f"damage at byte {at:,}", "a JPEG as the camera wrote it", "Copy it again."
            )
        marker = found.group(1)[0]
        if marker == END:
            yield Segment(marker, at, found.end())
            return
        size = int.from_bytes(held[found.end() : found.end() + 2], "big")
        last = found.end() + size
        if size < 2 or last > len(held):
            return
        if marker == SCAN:  # the picture's own bytes follow: go on at the next true marker
            following = _MARKER.search(held, last)
            if following is None:
                return
            last = following.start()
        yield Segment(marker, at, last)
        at = last
