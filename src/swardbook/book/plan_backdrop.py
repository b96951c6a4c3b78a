"""A picture under the plan: kept as pictures are, and laid by two points known on both."""

from __future__ import annotations

from swardbook.book.opening import Book
from swardbook.book.photo_files import require_readers
from swardbook.book.pictures_in import AboutSent, take_in
from swardbook.book.pictures_out import sent_file
from swardbook.book.plan_edits import set_backdrop
from swardbook.book.voice_notes import is_sound
from swardbook.foundation.errors import BadInputError
from swardbook.husbandry.areas import Point
from swardbook.husbandry.attachments import PICTURE, Attachment
from swardbook.husbandry.where import Backdrop, SitePlan

_NOTE = "Backdrop of the plan."


def keep_backdrop(book: Book, held: bytes, name: str, *, who: str = "") -> str:
    """Keep a picture that is to lie under the plan; it lies there once it has two points.

    Parameters
    ----------
    book : Book
        The opened book.
    held : bytes
        The file.
    name : str
        Its name, for the message.
    who : str
        Who sent it.

    Returns
    -------
    str
        SHA-256 of the file, by which its copy is kept.

    Raises
    ------
    BadInputError
        If it is no picture.
    RefusedError
        If the libraries that read pictures are not installed.
    """
    if is_sound(held):
        raise BadInputError(name, "a voice note", "a picture: JPEG, PNG or WebP")
    taken = take_in(book, held, name, AboutSent(who=who, note=_NOTE))
    what = taken.entry.what if taken.entry is not None else None
    if not isinstance(what, Attachment) or what.what != PICTURE:
        raise BadInputError(name, taken.words or "no picture", "a picture: JPEG, PNG or WebP")
    return what.file


def size_of_picture(book: Book, mark: str) -> tuple[int, int]:
    """Give width and height of a kept picture as it is seen upright [px].

    Raises
    ------
    UnknownNameError
        If there is no such picture.
    """
    require_readers()
    from PIL import Image, ImageOps

    with Image.open(sent_file(book.settings, mark), formats=("JPEG", "PNG", "WEBP")) as held:
        wide, high = ImageOps.exif_transpose(held).size
    return wide, high


def lay_backdrop(
    book: Book, mark: str, on_picture: tuple[Point, Point], on_ground: tuple[Point, Point], *,
    who: str = "",
) -> SitePlan:  # fmt: skip
    """Lay a kept picture under the plan by two points: it is turned, stretched alike and shifted.

    Parameters
    ----------
    book : Book
        The opened book.
    mark : str
        SHA-256 of the picture's file.
    on_picture : tuple of (float, float)
        The two points, from its top left. [px]
    on_ground : tuple of (float, float)
        The same, from the site's own corner. [m]
    who : str
        Who laid it.

    Raises
    ------
    BadInputError
        If the two points are one, or lie off the picture.
    """
    wide, high = size_of_picture(book, mark)
    for x, y in on_picture:
        if not (0 <= x <= wide and 0 <= y <= high):
            raise BadInputError("the point on the picture", f"{x:g}, {y:g}",
                                f"from 0, 0 to {wide}, {high}")  # fmt: skip
    return set_backdrop(book, Backdrop(mark, wide, high, on_picture, on_ground), who=who)
