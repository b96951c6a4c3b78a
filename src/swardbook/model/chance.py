"""Random numbers that are the same whoever asks: those of `swardbook.foundation.chance`."""

from __future__ import annotations

from swardbook.foundation.chance import Array, Chance

__all__ = ["Array", "Chance"]
