"""Square pictures that a phone's camera reads, black on white."""

from __future__ import annotations

from swardbook.foundation.errors import StorageError


def square_as_data(text: str) -> str:
    """Draw a text as a square picture, as an address of data for a page.

    Parameters
    ----------
    text : str
        What it says.
    """
    import segno

    drawn = segno.make(text, error="m", micro=False)
    return str(drawn.svg_data_uri(scale=4, border=4, dark="#000", light="#fff"))


def save_square(path: str, text: str) -> None:
    """Draw a text as a square picture and write it as SVG.

    Parameters
    ----------
    path : str
        The file to write.
    text : str
        What it says.

    Raises
    ------
    StorageError
        If the file cannot be written.
    """
    import segno

    try:
        segno.make(text, error="m", micro=False).save(
            path, kind="svg", scale=8, border=4, dark="#000", light="#fff"
        )
    except OSError as slip:
        raise StorageError(path, slip.strerror or str(slip)) from slip
