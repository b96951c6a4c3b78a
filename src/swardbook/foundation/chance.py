"""Random numbers that are the same whoever asks, in any order: each is keyed by what it is for."""

from __future__ import annotations

from dataclasses import dataclass
from hashlib import blake2b

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri

Array = NDArray[np.float64]
_SPACING = 2.0**-53
_WORDS = 4
"""Words that one step of the counter gives (Philox4x64-10; Salmon and others 2011)."""


@dataclass(frozen=True, slots=True)
class Chance:
    """A counter-based source (Philox) keyed by words, such as book, zone and purpose.

    The same key and purpose give the same bits, whatever was asked before. The first draws of a
    longer row are those of a shorter one.

    Parameters
    ----------
    key : tuple of str
        What the numbers belong to.
    """

    key: tuple[str, ...]

    def under(self, *words: str) -> Chance:
        """Give the source of a part of this one's matter."""
        return Chance((*self.key, *words))

    def uniforms(self, purpose: str, draws: int, first: int = 0) -> Array:
        """Give numbers strictly between 0 and 1.

        Parameters
        ----------
        purpose : str
            What they are for.
        draws : int
            How many.
        first : int
            Place in the row of the first one given; the others are passed over at no cost.

        Returns
        -------
        array
            Numbers above 0 and below 1. [-]
        """
        text = "\x1f".join((*self.key, purpose)).encode()
        key = np.frombuffer(blake2b(text, digest_size=16).digest(), dtype=np.uint64)
        counter, passed = divmod(first, _WORDS)
        source = np.random.Philox(key=key, counter=counter)
        words = source.random_raw(passed + draws)[passed:]
        words >>= np.uint64(11)
        values = words.astype(np.float64)
        values += 0.5
        values *= _SPACING
        return values

    def normals(self, purpose: str, draws: int, first: int = 0) -> Array:
        """Give standard normal numbers, from a place in their row on [-]."""
        return np.asarray(ndtri(self.uniforms(purpose, draws, first)), dtype=np.float64)

    def normal_rows(self, purpose: str, rows: int, draws: int) -> Array:
        """Give independent rows of standard normal numbers, each keyed by its place [-]."""
        if rows == 0:
            return np.zeros((0, draws))
        return np.stack([self.normals(f"{purpose}:{row}", draws) for row in range(rows)])
