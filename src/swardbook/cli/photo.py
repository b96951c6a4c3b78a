"""``swardbook photo``: cover and colour of plots by photograph; cards; side by side."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from swardbook.cli.doors import Door, door_options
from swardbook.cli.picturing import check_places, picture_option, with_picture
from swardbook.cli.recording import Recording

if TYPE_CHECKING:
    from swardbook.book.photographs import PhotoRead
    from swardbook.figures.picture import Picture


class PhotoGroup(Recording):
    """Reads pictures unless one of its own commands is named."""

    module = "swardbook.cli.photo"
    plans = ("read", "sheet", "compare")

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Take what is no command of its own for the name of a picture."""
        if args and args[0] not in self.plans:
            args = ["read", *args]
        return super().resolve_command(ctx, args)

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Let options stand before the first picture."""
        if args and args[0] not in {*self.plans, "--help", "-h"}:
            args = ["read", *args]
        return super().parse_args(ctx, args)


@click.group(cls=PhotoGroup, subcommand_metavar="[read|sheet|compare]")
def command() -> None:
    """Read cover and colour of plots from photographs; originals are never altered.

    `photo FILE...` reads pictures, `photo sheet` makes the cards to print, `photo compare` puts
    plots of one session side by side. It speaks of what was photographed in one session, not across
    phones or seasons.
    """


@click.command()
@click.argument("files", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option("--zone", "-z", default="", help="Zone, by name.")
@click.option(
    "--plot",
    "-p",
    "plots",
    multiple=True,
    help="Plot: one for all pictures, or one for each; else from the files' names.",
)
@click.option("--when", "-w", default="", metavar="DAY", help="Day; else the camera's.")
@click.option("--camera-date", is_flag=True, help="The camera's date is right, odd as it looks.")
@click.option(
    "--size",
    default="",
    metavar="WIDTHxLENGTH",
    help="Sides of the plot, A to B and B to C, such as '1.2x1 m'; else from the cards.",
)
@click.option("--no-cards", is_flag=True, help="The whole picture is the plot; colour not kept.")
@click.option(
    "--touch",
    "touches",
    multiple=True,
    metavar="KIND=ACROSS,DOWN",
    help="A place that is known, in percent of the plot: 'weed=40,62'. Several of each.",
)
@click.option("--look-only", is_flag=True, help="Read, and keep nothing.")
@click.option("--who", default="", help="Who took them.")
@click.option("--note", default="", help="Anything else; kept as typed.")
@picture_option("the first picture that was read, with its leaf")
@door_options
def read(
    door: Door, files: tuple[Path, ...], zone: str, plots: tuple[str, ...], when: str,
    camera_date: bool, size: str, no_cards: bool, touches: tuple[str, ...], look_only: bool,
    who: str, note: str, picture: Path | None,
) -> None:  # fmt: skip
    """Read pictures of plots: green cover, dark-green index, texture, bare ground.

    A folder stands for all the pictures right in it.
    """
    from swardbook.book.photo_files import require_readers

    require_readers()
    check_places(picture)
    from swardbook.book.photographs import Asked, State, read_photographs, sides_mm
    from swardbook.cli.photo_words import payload_of, read_lines

    pairs = tuple((name, place) for name, _, place in (each.partition("=") for each in touches))
    asked = Asked(
        zone, plots, when, camera_date, not no_cards, sides_mm(size) if size else None, pairs,
        not look_only, who, note,
    )  # fmt: skip
    book = door.book()
    found = read_photographs(book, files, asked, lambda words: click.echo(words, err=True))
    payload, lines = payload_of(found), read_lines(found)
    shown = next((each for each in found if each.reading is not None), None)
    if shown is not None:
        payload, lines = with_picture(picture, lambda: _draw(shown), payload, lines)
    elif picture is not None:
        payload, lines = {**payload, "picture": None}, [*lines, "", "No picture: nothing was read."]
    door.show(payload, lines, book)
    if any(each.state in {State.ASKED, State.REFUSED} for each in found):
        raise SystemExit(1)


def _draw(found: PhotoRead) -> Picture:
    from swardbook.book.photo_pictures import draw_photograph

    return draw_photograph(found)


@click.command()
@click.option(
    "--pdf",
    required=True,
    type=click.Path(path_type=Path),
    metavar="FILE.pdf",
    help="Where to write the sheet.",
)
@door_options
def sheet(door: Door, pdf: Path) -> None:
    """Write the sheet of four cards for the corners of a plot, to print at 100 %."""
    from swardbook.book.photo_files import require_readers

    require_readers()
    from swardbook.book.photo_pictures import save_card_sheet

    size = save_card_sheet(pdf)
    lines = [
        f"Sheet of cards: {pdf}",
        "Print at 100 %, cut, and lay A, B, C, D clockwise, each tip on a corner of the plot.",
        "A home print is no colour standard: compare only pictures of one session with them.",
    ]
    door.show(
        {"file": str(pdf), "bytes": size, "marker_mm": 60, "dictionary": "DICT_4X4_50"}, lines
    )


@click.command()
@click.option("--zone", "-z", default="", help="Zone, by name.")
@click.option("--plot", "-p", "plots", multiple=True, help="Plots; none: all of the last day.")
@click.option("--keep", is_flag=True, help="Keep the index as readings of the trial.")
@door_options
def compare(door: Door, zone: str, plots: tuple[str, ...], keep: bool) -> None:
    """Put plots of one session side by side; across phones, days or light it is refused."""
    if not zone:
        raise click.UsageError("Which zone? Say --zone NAME.")
    from swardbook.book.photo_sessions import side_by_side
    from swardbook.cli.photo_words import side_lines, side_payload

    book = door.book()
    found = side_by_side(book, zone, plots, keep)
    door.show(side_payload(found), side_lines(found), book)
