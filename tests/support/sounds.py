"""Voice notes put together by hand, with a note of the place in each, as some phones write it."""

from __future__ import annotations

import struct

PLACE = b"+52.1250-001.0341/ at the far peg"
SOUND = bytes(range(256)) * 8


def element(number: int, content: bytes, *, is_open: bool = False) -> bytes:
    """Make an element of WebM; an open one says not how long it is."""
    name = number.to_bytes((number.bit_length() + 7) // 8, "big")
    size = b"\x01" + (b"\xff" * 7 if is_open else len(content).to_bytes(7, "big"))
    return name + size + content


def webm(kind_of_track: int = 2, tells: int = 0x1254C367) -> bytes:
    """Make a WebM file as a browser records it, open at its end."""
    head = element(0x1A45DFA3, element(0x4282, b"webm"))
    track = element(0xAE, element(0xD7, b"\x01") + element(0x83, bytes([kind_of_track])))
    cluster = element(0x1F43B675, element(0xE7, b"\x00") + element(0xA3, SOUND), is_open=True)
    inside = element(0x1654AE6B, track) + element(tells, PLACE) + cluster
    return head + element(0x18538067, inside, is_open=True)


def box(name: bytes, content: bytes) -> bytes:
    """Make a box of MP4."""
    return struct.pack(">I", len(content) + 8) + name + content


def mp4(handler: bytes = b"soun", brand: bytes = b"M4A ") -> bytes:
    """Make an M4A file with the place among its notes."""
    told = box(b"hdlr", bytes(8) + handler + bytes(13))
    track = box(b"trak", box(b"mdia", told) + box(b"udta", box(b"\xa9xyz", PLACE)))
    notes = box(b"udta", box(b"\xa9xyz", PLACE)) + box(b"meta", PLACE)
    return (
        box(b"ftyp", brand + bytes(4) + brand)
        + box(b"mdat", SOUND)
        + box(b"moov", box(b"mvhd", bytes(100)) + track + notes)
        + box(b"uuid", bytes(16) + PLACE)
    )


def wav() -> bytes:
    """Make a WAV file with the place among its notes."""

    def part(name: bytes, content: bytes) -> bytes:
        return name + struct.pack("<I", len(content)) + content + bytes(len(content) % 2)

    parts = part(b"fmt ", struct.pack("<HHIIHH", 1, 1, 8000, 8000, 1, 8)) + part(b"data", SOUND)
    body = b"WAVE" + parts + part(b"LIST", b"INFO" + PLACE)
    return b"RIFF" + struct.pack("<I", len(body)) + body


def page_sum(page: bytes) -> int:
    """Reckon the checksum of an Ogg page bit by bit, as it is defined."""
    total = 0
    for byte in page:
        total ^= byte << 24
        for _ in range(8):
            total = (total << 1) ^ (0x104C11DB7 if total & 0x80000000 else 0)
    return total


def page(number: int, packets: list[bytes], *, is_first: bool = False) -> bytes:
    """Make a page of Ogg of whole packets, each shorter than 255 × 80 bytes."""
    lacing = b"".join(b"\xff" * (len(each) // 255) + bytes([len(each) % 255]) for each in packets)
    head = b"OggS\x00" + bytes([2 if is_first else 0]) + bytes(8) + b"\x07\x00\x00\x00"
    head += struct.pack("<II", number, 0) + bytes([len(lacing)]) + lacing
    body = b"".join(packets)
    total = page_sum(head + body)
    return head[:22] + struct.pack("<I", total) + head[26:] + body


def ogg(begins: bytes = b"OpusHead") -> bytes:
    """Make an Ogg file with Opus, the place in its comments."""
    tags = b"OpusTags" + struct.pack("<I", 3) + b"fen" + struct.pack("<II", 1, len(PLACE)) + PLACE
    return (
        page(0, [begins + bytes(11)], is_first=True) + page(1, [tags]) + page(2, [SOUND[:900]] * 2)
    )
