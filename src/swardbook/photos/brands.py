"""Kinds of files built of boxes (ISO/IEC 14496-12), told by the four letters of their brand."""

from __future__ import annotations

HEIC_BRANDS = frozenset(
    (b"heic", b"heix", b"hevc", b"hevx", b"heim", b"heis", b"mif1", b"msf1", b"avif")
)
"""Brands of HEIC and AVIF, pictures that are not read here."""
