"""What every command with a picture shares: the option, the file, and the words beside it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from swardbook.cli.chosen import chosen
from swardbook.cli.collecting import collected

if TYPE_CHECKING:
    from swardbook.figures.picture import Picture


def picture_option(shows: str, name: str = "picture") -> Callable[[Any], Any]:
    """Give a command ``--picture FILE.svg``; it receives a path or None."""
    return click.option(
        f"--{name.replace('_', '-')}",
        name,
        type=click.Path(path_type=Path),
        default=None,
        metavar="FILE.svg",
        help=f"Write a picture of {shows}.",
    )


def check_places(*paths: Path | None) -> None:
    """Refuse a place where no picture should go, before anything is worked out.

    Raises
    ------
    BadInputError
        If it does not end in ``.svg``, has no folder, or names a file that is no SVG.
    """
    if any(path is not None for path in paths) and collected() is None:
        from swardbook.book.pictures import check_place

        for path in paths:
            if path is not None:
                check_place(path)


def with_picture(
    path: Path | None,
    draw: Callable[[], Picture],
    payload: dict[str, Any],
    lines: list[str],
    name: str = "picture",
) -> tuple[dict[str, Any], list[str]]:
    """Draw and write a picture if one is wanted, and say so in one line.

    With too little to draw the answer stays and the line says what is missing.
    """
    if path is None:
        return payload, lines
    from swardbook.book.pictures import save_picture
    from swardbook.figures.picture_shown import in_units
    from swardbook.foundation.errors import NotEnoughDataError

    try:
        drawn = draw()
    except NotEnoughDataError as lack:
        return {**payload, name: None}, [*lines, "", f"No picture. {lack}"]
    if (page := collected()) is not None:
        page.pictures.append(drawn)
        return {**payload, name: _told(path, drawn)}, lines
    save_picture(path, in_units(drawn, chosen()))
    return {**payload, name: _told(path, drawn)}, [*lines, "", f"Picture: {path}"]


def _told(path: Path, drawn: Picture) -> dict[str, Any]:
    return {
        "file": str(path),
        "sentence": drawn.sentence,
        "key": drawn.key,
        "tables": [
            {"name": each.name, "heads": list(each.heads), "rows": [list(row) for row in each.rows]}
            for each in drawn.tables
        ],
    }
