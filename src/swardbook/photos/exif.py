"""What a camera wrote beside a picture: when, with what, which way up; the place is not read."""

from __future__ import annotations

import io
import warnings
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from PIL import Image

_ORIENTATION, _MAKE, _MODEL, _CHANGED = 0x0112, 0x010F, 0x0110, 0x0132
_EXIF, _GPS = 0x8769, 0x8825
_TAKEN, _EXPOSURE, _SENSITIVITY = 0x9003, 0x829A, 0x8827
_LONGEST = 60


@dataclass(frozen=True, slots=True)
class CameraFacts:
    """What a camera wrote beside a picture, without the place.

    Parameters
    ----------
    taken : datetime or None
        When, by the camera's clock.
    camera : str
        Maker and model; empty if not written.
    orientation : int
        1 to 8 as EXIF counts; 1 is upright.
    exposure_s : float or None
        Exposure. [s]
    sensitivity : int or None
        ISO sensitivity.
    has_place : bool
        Whether a position was written beside it.
    """

    taken: datetime | None = None
    camera: str = ""
    orientation: int = 1
    exposure_s: float | None = None
    sensitivity: int | None = None
    has_place: bool = False


def camera_facts(image: Image.Image) -> CameraFacts:
    """Read what the camera wrote; what cannot be read is taken as not written.

    Parameters
    ----------
    image : Image
        The picture, opened but not decoded.
    """
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            tags = image.getexif()
            inner = tags.get_ifd(_EXIF)
            has_place = bool(tags.get_ifd(_GPS)) or _GPS in tags
        except Exception:
            return CameraFacts()
    orientation = tags.get(_ORIENTATION, 1)
    made = [_words(tags.get(each)) for each in (_MAKE, _MODEL)]
    if made[0] and made[1].casefold().startswith(made[0].casefold()):
        made = made[1:]
    exposure, sensitivity = _number(inner.get(_EXPOSURE)), _number(inner.get(_SENSITIVITY))
    return CameraFacts(
        taken=_moment(inner.get(_TAKEN) or tags.get(_CHANGED)),
        camera=" ".join(each for each in made if each),
        orientation=orientation if orientation in range(1, 9) else 1,
        exposure_s=exposure,
        sensitivity=None if sensitivity is None else int(sensitivity),
        has_place=has_place,
    )


def fresh_exif(facts: CameraFacts) -> bytes:
    """Write an EXIF that tells neither place nor camera: when, and which way up."""
    tags = Image.Exif()
    tags[_ORIENTATION] = facts.orientation
    if facts.taken is not None:
        tags.get_ifd(_EXIF)[_TAKEN] = facts.taken.strftime("%Y:%m:%d %H:%M:%S")
    return b"Exif\x00\x00" + tags.tobytes().removeprefix(b"Exif\x00\x00")


def without_place_again(held: bytes, form: str, facts: CameraFacts) -> bytes:
    """Write a PNG or WebP anew without losing a bit of its picture, and without its notes.

    Parameters
    ----------
    held : bytes
        The file.
    form : str
        ``PNG`` or ``WEBP``.
    facts : CameraFacts
        What the camera wrote.
    """
    made = io.BytesIO()
    options: dict[str, Any] = {"lossless": True} if form == "WEBP" else {}
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # its size was looked at before
        with Image.open(io.BytesIO(held)) as image:
            image.load()
            image.info.clear()
            image.save(made, form, exif=fresh_exif(facts).removeprefix(b"Exif\x00\x00"), **options)
    return made.getvalue()


def _words(held: object) -> str:
    text = held.decode("latin-1") if isinstance(held, bytes) else str(held or "")
    shown = "".join(each for each in text.split("\x00")[0] if each.isprintable())
    return shown.strip()[:_LONGEST]


def _moment(held: object) -> datetime | None:
    try:
        return datetime.strptime(_words(held), "%Y:%m:%d %H:%M:%S")  # noqa: DTZ007  local, as written
    except ValueError:
        return None


def _number(held: Any) -> float | None:
    try:
        found = float(held[0] if isinstance(held, tuple) else held)
    except (TypeError, ValueError, ZeroDivisionError, IndexError):
        return None
    return found if 0 < found < 1e9 else None
