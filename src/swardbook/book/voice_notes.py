"""A voice note's bytes: known by content, never played here, and copied without what names a place.

Boxes of MP4 and M4A are those of ISO/IEC 14496-12, elements of WebM those of RFC 8794 and RFC 9559,
pages and comments of Ogg with Opus those of RFC 3533 and RFC 7845, parts of WAV those of RIFF.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from hashlib import sha256

from swardbook.foundation.errors import BadInputError
from swardbook.handbook.parameters import value
from swardbook.photos.brands import HEIC_BRANDS

ALLOWED = "a voice note as a phone records it: WebM, Ogg with Opus, M4A (MP4) or WAV"
_PARTS_MOST = 200_000
"""Most parts of a file that are walked through: hours of speech have fewer."""
_WEBM, _OGG, _RIFF = b"\x1aE\xdf\xa3", b"OggS", b"RIFF"
_SEGMENT, _CLUSTER, _TRACKS, _TRACK, _KIND_OF_TRACK = (
    0x18538067, 0x1F43B675, 0x1654AE6B, 0xAE, 0x83,
)  # fmt: skip
_WEBM_HOLDS = {_SEGMENT, _CLUSTER, _TRACKS, _TRACK}
_WEBM_TELLS = {0x1254C367, 0x1941A469}
"""Tags, and files put beside the sound."""
_MP4_HOLDS = {b"moov", b"trak", b"mdia"}
_MP4_TELLS = {b"udta", b"meta", b"uuid"}
_WAV_KEPT = {b"fmt ", b"data", b"fact"}


@dataclass(frozen=True, slots=True)
class VoiceNote:
    """A voice note that was looked at.

    Parameters
    ----------
    name : str
        Name of its file.
    held : bytes
        The file as it came.
    ending : str
        ``webm``, ``ogg``, ``m4a`` or ``wav``.
    to_share : bytes
        The same sound without notes that may tell a place.
    mark : str
        SHA-256 of the file as it came.
    """

    name: str
    held: bytes
    ending: str
    to_share: bytes
    mark: str


def is_sound(held: bytes) -> bool:
    """Tell whether the first bytes are those of a sound, or of a film, and not of a picture."""
    return (
        held.startswith((_WEBM, _OGG))
        or (held.startswith(_RIFF) and held[8:12] == b"WAVE")
        or (held[4:8] == b"ftyp" and held[8:12] not in HEIC_BRANDS)
    )


def listen_to(held: bytes, name: str) -> VoiceNote:
    """Look at a voice note's bytes without playing them.

    Parameters
    ----------
    held : bytes
        The file.
    name : str
        Its name, for the message; it is not believed.

    Raises
    ------
    BadInputError
        If it is too large, a film, damaged, or of no kind that is kept here.
    """
    most = value("voice_note_most_mb")
    if len(held) > most * 1e6:
        raise BadInputError(name, f"{len(held) / 1e6:,.0f} MB", f"at most {most:g} MB",
                            "A film? A voice note of ten minutes is 5 MB or less.")  # fmt: skip
    if held.startswith(_WEBM):
        ending, shared = "webm", _webm(held, name)
    elif held.startswith(_OGG):
        ending, shared = "ogg", _ogg(held, name)
    elif held.startswith(_RIFF) and held[8:12] == b"WAVE":
        ending, shared = "wav", _wav(held, name)
    elif held[4:8] == b"ftyp":
        ending, shared = "m4a", _mp4(held, name)
    else:
        raise BadInputError(name, "a file that is no sound", ALLOWED, "Is it the right file?")
    return VoiceNote(name, held, ending, shared, sha256(held).hexdigest())


def _webm(held: bytes, name: str) -> bytes:
    shared, kinds = bytearray(held), set()
    for element, first, start, last in _elements(held, name):
        if element == _KIND_OF_TRACK:
            kinds.add(held[start] if start < last else 0)
        elif element in _WEBM_TELLS and last - first >= 9:
            # An empty element of the same length: its length follows in eight bytes.
            shared[first:last] = (
                b"\xec\x01" + (last - first - 9).to_bytes(7, "big") + bytes(last - first - 9)
            )
    _check_tracks(name, has_film=1 in kinds, has_sound=2 in kinds)
    return bytes(shared)


def _elements(held: bytes, name: str) -> Iterator[tuple[int, int, int, int]]:
    """Walk the elements: number, where it begins, where its content begins and ends."""
    at = 0
    for _ in range(_PARTS_MOST):
        if at + 2 > len(held):
            return
        many = 9 - held[at].bit_length()
        if many > 4:
            raise _damaged(name, at)
        element, first = int.from_bytes(held[at : at + many], "big"), at
        at += many
        wide = 9 - held[at].bit_length() if at < len(held) else 9
        if wide > 8:
            raise _damaged(name, at)
        size = int.from_bytes(held[at : at + wide], "big") & ((1 << 7 * wide) - 1)
        is_open = size == (1 << 7 * wide) - 1
        at += wide
        last = len(held) if is_open else min(at + size, len(held))
        yield element, first, at, last
        if element not in _WEBM_HOLDS:
            at = last
    raise _damaged(name, at)


def _mp4(held: bytes, name: str) -> bytes:
    shared, kinds = bytearray(held), set()
    for box, first, start, last in _boxes(held, name):
        if box == b"hdlr":
            kinds.add(held[start + 8 : start + 12])
        elif box in _MP4_TELLS:
            shared[first + 4 : first + 8] = b"free"
            shared[start:last] = bytes(last - start)
    _check_tracks(name, has_film=b"vide" in kinds, has_sound=b"soun" in kinds)
    return bytes(shared)


def _boxes(held: bytes, name: str) -> Iterator[tuple[bytes, int, int, int]]:
    """Walk the boxes: name, where it begins, where its content begins and ends."""
    at = 0
    for _ in range(_PARTS_MOST):
        if at + 8 > len(held):
            return
        size, box, start = int.from_bytes(held[at : at + 4], "big"), held[at + 4 : at + 8], at + 8
        if size == 1:
            size, start = int.from_bytes(held[at + 8 : at + 16], "big"), at + 16
        last = min(at + size, len(held)) if size else len(held)
        if last < start:
            raise _damaged(name, at)
        yield box, at, start, last
        at = start if box in _MP4_HOLDS else last
    raise _damaged(name, at)


def _wav(held: bytes, name: str) -> bytes:
    shared, seen, at = bytearray(held), set(), 12
    for _ in range(_PARTS_MOST):
        if at + 8 > len(held):
            break
        part, size = held[at : at + 4], int.from_bytes(held[at + 4 : at + 8], "little")
        last = min(at + 8 + size, len(held))
        seen.add(part)
        if part not in _WAV_KEPT:
            shared[at : at + 4] = b"JUNK"
            shared[at + 8 : last] = bytes(last - at - 8)
        at += 8 + size + size % 2
    if not {b"fmt ", b"data"} <= seen:
        raise _broken(name, held)
    return bytes(shared)


def _ogg(held: bytes, name: str) -> bytes:
    """Empty the comments, which stand in the second packet, and reckon its pages' sums anew."""
    shared, in_comments, number = bytearray(held), False, 0
    for first, start, last in _pages(held, name):
        lacing = held[first + 27 : start]
        if number == 0 and not held[start:last].startswith(b"OpusHead"):
            raise BadInputError(name, "an Ogg file without Opus in it", ALLOWED, "A film?")
        if number == 1:
            in_comments = held[start:last].startswith(b"OpusTags")
        if in_comments:
            ends = next((at for at, each in enumerate(lacing) if each < 255), None)
            length = sum(lacing if ends is None else lacing[: ends + 1])
            kept = b"OpusTags" + bytes(8) if number == 1 else b""
            shared[start : start + length] = kept[:length] + bytes(max(length - len(kept), 0))
            shared[first + 22 : first + 26] = bytes(4)
            total = _page_sum(bytes(shared[first:last]))
            shared[first + 22 : first + 26] = total.to_bytes(4, "little")
            in_comments = ends is None
        number += 1
        if number > 1 and not in_comments:
            break
    if number < 2:
        raise _broken(name, held)
    return bytes(shared)


def _pages(held: bytes, name: str) -> Iterator[tuple[int, int, int]]:
    """Walk the pages of Ogg: where each begins, and where its content begins and ends."""
    at = 0
    while at + 27 <= len(held):
        start = at + 27 + held[at + 26]
        last = start + sum(held[at + 27 : start])
        if held[at : at + 4] != _OGG or last > len(held):
            raise _damaged(name, at)
        yield at, start, last
        at = last


@cache
def _sums() -> tuple[int, ...]:
    found = []
    for byte in range(256):
        rest = byte << 24
        for _ in range(8):
            rest = (rest << 1) ^ 0x104C11DB7 if rest & 0x80000000 else rest << 1
        found.append(rest & 0xFFFFFFFF)
    return tuple(found)


def _page_sum(page: bytes) -> int:
    """Give the checksum of a page (RFC 3533), its own place filled with noughts."""
    sums, total = _sums(), 0
    for byte in page:
        total = ((total << 8) & 0xFFFFFFFF) ^ sums[(total >> 24) ^ byte]
    return total


def _check_tracks(name: str, *, has_film: bool, has_sound: bool) -> None:
    if has_film:
        raise BadInputError(name, "a film", ALLOWED, "Send a voice note or a single picture.")
    if not has_sound:
        raise BadInputError(name, "a file with no sound that can be found in it", ALLOWED,
                            "Was it cut short? Record or send it again.")  # fmt: skip


def _damaged(name: str, at: int) -> BadInputError:
    return BadInputError(name, f"damage at byte {at:,}", ALLOWED, "Record or send it again.")


def _broken(name: str, held: bytes) -> BadInputError:
    return BadInputError(name, f"a voice note that breaks off after {len(held):,} bytes", ALLOWED,
                         "The copy was cut short: send it again.")  # fmt: skip
