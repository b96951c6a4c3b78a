"""Voice notes are known by their bytes, films are refused, and the copy tells no place."""

from __future__ import annotations

import io
import struct
import wave

import numpy as np
import pytest

from swardbook.book.voice_notes import is_sound, listen_to
from swardbook.foundation.errors import BadInputError
from tests.support import sounds

NOTES = {"webm": sounds.webm(), "ogg": sounds.ogg(), "m4a": sounds.mp4(), "wav": sounds.wav()}


@pytest.mark.parametrize("ending", NOTES)
def test_a_voice_note_is_known_by_its_content_whatever_its_name(ending: str) -> None:
    note = listen_to(NOTES[ending], "holiday.jpg")
    assert is_sound(NOTES[ending])
    assert note.ending == ending
    assert note.held == NOTES[ending]


@pytest.mark.parametrize("ending", NOTES)
def test_the_copy_to_share_has_the_same_sound_and_no_place(ending: str) -> None:
    shared = listen_to(NOTES[ending], "a").to_share
    assert sounds.PLACE in NOTES[ending]
    assert sounds.PLACE[:8] not in shared
    assert sounds.SOUND[:900] in shared
    assert len(shared) == len(NOTES[ending])
    assert listen_to(shared, "b").to_share == shared


def test_files_beside_the_sound_of_a_webm_go_too() -> None:
    shared = listen_to(sounds.webm(tells=0x1941A469), "a").to_share
    assert sounds.PLACE not in shared


def test_a_wav_still_plays_after_its_notes_were_emptied() -> None:
    with wave.open(io.BytesIO(listen_to(NOTES["wav"], "a").to_share)) as read:
        assert read.readframes(5000) == sounds.SOUND


def test_the_pages_of_an_ogg_still_add_up() -> None:
    shared = listen_to(NOTES["ogg"], "a").to_share
    at = 0
    while at < len(shared):
        start = at + 27 + shared[at + 26]
        last = start + sum(shared[at + 27 : start])
        (told,) = struct.unpack("<I", shared[at + 22 : at + 26])
        assert sounds.page_sum(shared[at : at + 22] + bytes(4) + shared[at + 26 : last]) == told
        at = last


@pytest.mark.parametrize(
    ("held", "told"),
    [
        (sounds.webm(kind_of_track=1), "a film"),
        (sounds.mp4(handler=b"vide", brand=b"mp42"), "a film"),
        (sounds.ogg(begins=b"\x80theora."), "without Opus"),
        (sounds.mp4()[:1000], "no sound"),
        (sounds.wav()[:30], "breaks off"),
        (sounds.ogg()[:47], "breaks off"),
        (b"\x1aE\xdf\xa3\x00\x00", "damage"),
        (b"no sound at all, but words", "no sound"),
    ],
)
def test_what_is_no_voice_note_is_named_and_refused(held: bytes, told: str) -> None:
    with pytest.raises(BadInputError, match=told):
        listen_to(held, "a")


def test_a_very_large_file_is_refused_before_it_is_walked_through() -> None:
    with pytest.raises(BadInputError, match="at most 12 MB"):
        listen_to(sounds.webm() + bytes(13_000_000), "a")


def test_a_file_of_nothing_but_tiny_parts_is_not_walked_through_for_ever() -> None:
    held = b"\x1aE\xdf\xa3\x80" + b"\xec\x80" * 300_000
    with pytest.raises(BadInputError, match="damage"):
        listen_to(held, "a")


@pytest.mark.parametrize("ending", NOTES)
def test_bytes_at_random_in_a_voice_note_never_bring_it_down(ending: str) -> None:
    draw = np.random.default_rng(4)
    for _ in range(80):
        broken = bytearray(NOTES[ending])
        for at in draw.integers(4, min(len(broken), 400), 6):
            broken[at] = draw.integers(0, 256)
        try:
            note = listen_to(bytes(broken[: draw.integers(5, len(broken))]), "odd")
        except BadInputError:
            continue
        assert note.to_share
