"""Open a picture's bytes: looked at before they are decoded, and refused in words."""

from __future__ import annotations

import io
import warnings
from dataclasses import dataclass
from hashlib import sha256
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray
from PIL import Image

from swardbook.foundation.errors import BadInputError, plain_number
from swardbook.handbook.parameters import value
from swardbook.photos.brands import HEIC_BRANDS
from swardbook.photos.exif import CameraFacts, camera_facts, fresh_exif, without_place_again
from swardbook.photos.jpeg import broken_off, lay_out, without_place
from swardbook.photos.pressing import Pressed, pressed_of

Pixels = NDArray[np.uint8]
ALLOWED = "a colour picture as JPEG, PNG or WebP, as the camera wrote it"
_OTHERS = {
    b"GIF8": "a GIF", b"%PDF": "a PDF", b"II*\x00": "a TIFF or raw file",
    b"MM\x00*": "a TIFF or raw file", b"BM": "a BMP", b"PK\x03\x04": "an archive",
    b"<svg": "a drawing", b"<?xm": "a drawing",
}  # fmt: skip
_TURNS = {
    2: ("flip", 1), 3: ("turn", cv2.ROTATE_180), 4: ("flip", 0), 5: ("swap", -1),
    6: ("turn", cv2.ROTATE_90_CLOCKWISE), 7: ("swap", 1),
    8: ("turn", cv2.ROTATE_90_COUNTERCLOCKWISE),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Photo:
    """A picture that was looked at and may be decoded.

    Parameters
    ----------
    name : str
        Name of its file.
    held : bytes
        The file as it came.
    form : str
        ``JPEG``, ``PNG`` or ``WEBP``.
    wide, high : int
        Its size as stored. [px]
    facts : CameraFacts
        What the camera wrote beside it.
    to_share : bytes
        The same picture, bit for bit, without place, notes and small pictures.
    mark : str
        SHA-256 of the file as it came, by which it is known again.
    pressed : Pressed or None
        How a JPEG was pressed; None for other kinds.
    is_lossy : bool
        Whether the file gave up part of the picture to be small.
    """

    name: str
    held: bytes
    form: str
    wide: int
    high: int
    facts: CameraFacts
    to_share: bytes
    mark: str
    pressed: Pressed | None = None
    is_lossy: bool = True


def look_at(held: bytes, name: str, *, is_measured: bool = True) -> Photo:
    """Look at a picture's bytes without decoding them.

    Parameters
    ----------
    held : bytes
        The file.
    name : str
        Its name, for the message; it is not believed.
    is_measured : bool
        Whether anything is to be measured in it; else a small or grey one will do.

    Raises
    ------
    BadInputError
        If it is too large, broken off, animated, without colour or no picture of a known kind.
    """
    most = value("photo_file_most_mb")
    if len(held) > most * 1e6:
        raise BadInputError(name, f"{len(held) / 1e6:,.0f} MB", f"at most {most:g} MB",
                            "A film, or a raw file? Send the picture as JPEG.")  # fmt: skip
    form = form_of(held, name)
    layout = lay_out(held, name) if form == "JPEG" else None
    least = value("photo_side_least_px" if is_measured else "small_picture_least_px")
    if layout is not None:
        _check_size(name, layout.wide, layout.high, least)
    if form == "PNG":  # at a fixed place, and may be more than the library will look at
        drawn = (int.from_bytes(held[at : at + 4], "big") for at in (16, 20))
        _check_size(name, next(drawn), next(drawn), least)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            image = Image.open(io.BytesIO(held), formats=_formats(form))
        except Image.DecompressionBombError:
            raise _too_many(name, "far too many pixels") from None
        except Exception as slip:
            raise _damaged(name) from slip
    wide, high = (layout.wide, layout.high) if layout else image.size
    with image:
        _check_size(name, wide, high, least)
        _check_notes(name, image)
        _check_kind(name, image, needs_colour=is_measured)
        facts, pressed = camera_facts(image), pressed_of(image)
    if layout is not None:
        shared = without_place(held[: layout.ends_at], layout, fresh_exif(facts))
    else:
        try:
            shared = without_place_again(held, form, facts)
        except Exception as slip:
            raise broken_off(name, len(held)) from slip
    is_lossy = form == "JPEG" or (form == "WEBP" and b"VP8L" not in held[12:64])
    mark = sha256(held).hexdigest()
    return Photo(name, held, form, wide, high, facts, shared, mark, pressed, is_lossy)


def decode(photo: Photo) -> Pixels:
    """Decode a picture and turn it upright.

    Returns
    -------
    array of uint8
        Red, green and blue on the last axis. [of 255]

    Raises
    ------
    BadInputError
        If it cannot be decoded.
    """
    pixels = _quickly(photo.held) if photo.form == "JPEG" else None
    if pixels is None:
        flags = cv2.IMREAD_COLOR_RGB | cv2.IMREAD_IGNORE_ORIENTATION
        try:
            found = cv2.imdecode(np.frombuffer(photo.held, np.uint8), flags)
        except cv2.error:
            found = None
        if found is None:
            raise _damaged(photo.name)
        pixels = np.asarray(found, np.uint8)
    return upright(pixels, photo.facts.orientation)


def upright(pixels: Pixels, orientation: int) -> Pixels:
    """Turn stored pixels the way the camera was held.

    Parameters
    ----------
    pixels : array of uint8
        As stored. [of 255]
    orientation : int
        1 to 8 as EXIF counts.
    """
    if orientation not in _TURNS:
        return np.ascontiguousarray(pixels)
    how, which = _TURNS[orientation]
    if how == "flip":
        return np.asarray(cv2.flip(pixels, which), np.uint8)
    if how == "turn":
        return np.asarray(cv2.rotate(pixels, which), np.uint8)
    turned = pixels.transpose(1, 0, 2)
    return np.ascontiguousarray(turned[::-1, ::-1] if which > 0 else turned)


def form_of(held: bytes, name: str) -> str:
    """Tell the kind of file by its first bytes.

    Raises
    ------
    BadInputError
        If it is none that is read here.
    """
    if held.startswith(b"\xff\xd8\xff"):
        return "JPEG"
    if held.startswith(b"\x89PNG\r\n\x1a\n"):
        return "PNG"
    if held.startswith(b"RIFF") and held[8:12] == b"WEBP":
        return "WEBP"
    if not held:
        raise BadInputError(name, "an empty file", ALLOWED, "Copy or send it again.")
    if held[4:8] == b"ftyp":
        if held[8:12] in HEIC_BRANDS:
            raise BadInputError(
                name, "HEIC or AVIF, a newer kind of picture file", ALLOWED,
                "Set the camera to save JPEG, or save a copy as JPEG and send that.",
            )  # fmt: skip
        raise BadInputError(name, "a film", ALLOWED, "Send a single picture.")
    for begins, kind in _OTHERS.items():
        if held.startswith(begins):
            raise BadInputError(name, kind, ALLOWED, "Save it as JPEG first.")
    raise BadInputError(name, "a file that is no picture", ALLOWED, "Is it the right file?")


def _formats(form: str) -> tuple[str, ...]:
    if form != "JPEG":
        return (form,)
    from PIL import MpoImagePlugin

    return form, MpoImagePlugin.MpoImageFile.format


def _quickly(held: bytes) -> Pixels | None:
    """Decode a JPEG by the quickest library there is; another gives the same bits, later."""
    try:
        import simplejpeg
    except ImportError:
        return None
    try:
        made: Any = simplejpeg.decode_jpeg(held, colorspace="RGB", strict=True)
    except ValueError:
        return None
    return np.asarray(made, np.uint8)


def _check_size(name: str, wide: int, high: int, least: float) -> None:
    side, most = value("photo_side_most_px"), value("photo_pixels_most_m")
    if max(wide, high) > side or wide * high > most * 1e6:
        raise _too_many(name, f"{plain_number(wide)} × {plain_number(high)} pixels")
    if min(wide, high) < least:
        raise BadInputError(name, f"{wide} × {high} pixels", f"at least {least:g} pixels a side",
                            "A thumbnail? Send the picture itself.")  # fmt: skip


def _too_many(name: str, read: str) -> BadInputError:
    side, most = value("photo_side_most_px"), value("photo_pixels_most_m")
    return BadInputError(
        name, read, f"at most {most:g} million pixels, and {side:,.0f} on a side",
        "No phone makes such a picture: is the file damaged? Send a single picture.",
    )  # fmt: skip


def _check_notes(name: str, image: Image.Image) -> None:
    """Refuse notes beside the picture that are too long to be a camera's."""
    most = value("photo_notes_most_kb")
    notes = image.info.get("exif", b"")
    if len(notes) > most * 1000:
        raise BadInputError(
            name, f"{len(notes) / 1000:,.0f} kB of camera notes (EXIF)", f"at most {most:g} kB",
            "The file holds something else beside the picture: save a fresh copy as JPEG.",
        )  # fmt: skip


def _check_kind(name: str, image: Image.Image, *, needs_colour: bool) -> None:
    if image.format != "MPO" and getattr(image, "n_frames", 1) > 1:
        raise BadInputError(name, f"an animated picture of {getattr(image, 'n_frames', 1)} frames",
                            ALLOWED, "Send a single picture.")  # fmt: skip
    if needs_colour and image.mode in {"1", "L", "LA", "I", "F", "I;16"}:
        raise BadInputError(name, "a picture without colour", ALLOWED,
                            "Was a filter on, or was it copied in black and white?")  # fmt: skip


def _damaged(name: str) -> BadInputError:
    return BadInputError(name, "a damaged picture", ALLOWED, "Copy or send it again.")
