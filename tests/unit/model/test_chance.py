"""The source of chance is the published one, and any part of a row can be had alone."""

import numpy as np
import pytest

from swardbook.model.chance import Chance

ONES = 2**64 - 1
KNOWN = [
    ((0, 0, 0, 0), (0, 0),
     "16554d9eca36314c db20fe9d672d0fdc d7e772cee186176b 7e68b68aec7ba23b"),
    ((ONES,) * 4, (ONES,) * 2,
     "87b092c3013fe90b 438c3c67be8d0224 9cc7d7c69cd777b6 a09caebf594f0ba0"),
    ((0x243F6A8885A308D3, 0x13198A2E03707344, 0xA4093822299F31D0, 0x082EFA98EC4E6C89),
     (0x452821E638D01377, 0xBE5466CF34E90C6C),
     "a528f45403e61d95 38c72dbd566e9788 a5a1610e72fd18b5 57bd43b5e52b7fe6"),
]  # fmt: skip
"""Philox4x64-10: counter, key and words as published with Salmon and others (2011)."""


def whole(words: tuple[int, ...]) -> int:
    return sum(word << (64 * place) for place, word in enumerate(words))


@pytest.mark.parametrize(("counter", "key", "words"), KNOWN)
def test_the_generator_gives_its_published_known_answers(
    counter: tuple[int, ...], key: tuple[int, ...], words: str
) -> None:
    before = (whole(counter) - 1) % 2**256
    got = np.random.Philox(key=whole(key), counter=before).random_raw(4)
    assert " ".join(f"{int(word):016x}" for word in got) == words


def test_chance_is_that_generator_keyed_by_its_words() -> None:
    from hashlib import blake2b

    key = int.from_bytes(blake2b(b"book\x1fzone\x1fuse", digest_size=16).digest(), "little")
    words = [int(word) >> 11 for word in np.random.Philox(key=key).random_raw(6)]
    got = Chance(("book", "zone")).uniforms("use", 6)
    assert got.tolist() == [(word + 0.5) / 2**53 for word in words]


@pytest.mark.parametrize("first", [0, 1, 3, 4, 64, 4097])
def test_a_part_of_a_row_is_what_the_whole_row_has_there(first: int) -> None:
    chance = Chance(("book",))
    np.testing.assert_array_equal(
        chance.normals("use", 50, first), chance.normals("use", first + 50)[first:]
    )
