"""A picture of what was read in a photograph, and the sheet of cards as a file."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path
from uuid import uuid4

import cv2
import numpy as np
from numpy.typing import NDArray

from swardbook.book.photographs import PhotoRead
from swardbook.figures.card_sheet import card_sheet_pdf
from swardbook.figures.picture import Picture, Table
from swardbook.figures.plot_photograph import picture_of_plot
from swardbook.foundation.errors import BadInputError, NotEnoughDataError, StorageError
from swardbook.handbook.parameters import value
from swardbook.photos.colour import excess_green

Pixels = NDArray[np.uint8]
_SHOWN = 620


def draw_photograph(read: PhotoRead) -> Picture:
    """Draw the plot as it was read, and its leaf beside it.

    Raises
    ------
    NotEnoughDataError
        If nothing was read in it.
    """
    reading = read.reading
    if reading is None:
        raise NotEnoughDataError("a picture", "a photograph that was read", read.words or "none")
    covering = reading.covering
    high, wide = reading.plot.shape[:2]
    shrink = max(high, wide) / _SHOWN
    size = (max(round(wide / shrink), 1), max(round(high / shrink), 1))
    small = np.asarray(cv2.resize(reading.plot, size, interpolation=cv2.INTER_AREA), np.uint8)
    leaf = excess_green(small) > covering.split.at(value("photo_leaf_cut"))
    mask = np.where(leaf, 0, 255).astype(np.uint8)
    name = f"Plot {read.plot}" if read.plot else read.file
    sentence = f"{name}: green cover {100 * covering.cover:.0f} %, by photograph."
    key = "Edges of leaves are shared out in the figure, so the black share differs a little."
    if reading.faults:
        key = f"Needs a look: {', '.join(each.name for each in reading.faults)}. {key}"
    rows = [("green leaf", f"{100 * covering.cover:.0f}"), ("pale", f"{100 * covering.pale:.0f}"),
            ("bare or shaded", f"{100 * covering.bare:.0f}")]  # fmt: skip
    if read.taught:
        rows += [(each.kind, f"{100 * each.share:.0f}") for each in read.taught.kinds]
    table = Table("Shares of the plot", ("what", "percent"), tuple(rows))
    return picture_of_plot(sentence, key, _png(small), _png(mask), size, table)


def save_card_sheet(path: Path) -> int:
    """Write the sheet of cards as PDF, whole or not at all.

    Returns
    -------
    int
        Its size. [byte]

    Raises
    ------
    BadInputError
        If the name does not end in ``.pdf``, has no folder, or names a file that is no PDF.
    StorageError
        If the disk would not take it.
    """
    if path.suffix.casefold() != ".pdf" or not path.parent.is_dir():
        raise BadInputError(
            "--pdf", str(path), "a file name that ends in .pdf, in a folder there is"
        )
    held = card_sheet_pdf()
    aside = path.with_name(f".{path.name}.{uuid4().hex[:8]}")
    try:
        if path.exists() and not path.read_bytes().startswith(b"%PDF"):
            raise BadInputError("--pdf", str(path), "a new file, or a PDF that may be written over",
                                "What is there is no PDF; it is left as it is.")  # fmt: skip
        aside.write_bytes(held)
        aside.replace(path)
    except OSError as slip:
        with suppress(OSError):
            aside.unlink(missing_ok=True)
        raise StorageError(str(path), slip.strerror or str(slip)) from slip
    return len(held)


def _png(pixels: Pixels) -> bytes:
    shown = cv2.cvtColor(pixels, cv2.COLOR_RGB2BGR) if pixels.ndim == 3 else pixels
    done, held = cv2.imencode(".png", shown, [cv2.IMWRITE_PNG_COMPRESSION, 9])
    if not done:  # an encoder that is built in cannot lack
        raise StorageError("the picture", "it could not be encoded")
    return held.tobytes()
