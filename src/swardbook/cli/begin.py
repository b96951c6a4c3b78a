"""``swardbook begin``: a book for one's own ground."""

from __future__ import annotations

import click

from swardbook.cli import doors
from swardbook.cli.chosen import choose_as_set
from swardbook.cli.doors import Door, door_options


@click.command()
@click.option("--name", required=True, help="Name of the site.")
@click.option("--latitude", required=True, help="Degrees, south negative, or '43 S'.")
@click.option("--elevation", required=True, help="Height above the sea; a bare number is metres.")
@click.option("--hours-a-week", default="", help="Hours of work there are in a week.")
@click.option("--hose", default="", help="Water at the tap, litres a minute: time a 10 L bucket.")
@click.option("--currency", default="GBP", show_default=True, help="Currency of what things cost.")
@click.option("--units", default="", help="What answers are shown in: metric, imperial or us.")
@click.option("--decimal-mark", default="", help="Decimal mark of answers: point or comma.")
@door_options
def command(
    door: Door, name: str, latitude: str, elevation: str, hours_a_week: str, hose: str,
    currency: str, units: str, decimal_mark: str,
) -> None:  # fmt: skip
    """Begin a book for your own ground; one that is there already is never written over."""
    import os

    from swardbook.book.ground import begin, read_site
    from swardbook.husbandry.codec import to_plain
    from swardbook.settings import read_settings

    settings = read_settings(os.environ)
    site = read_site(name, latitude, elevation, hours_a_week, hose, currency, units, decimal_mark)
    book = begin(settings, doors.clock_today, site)
    click.get_current_context().call_on_close(book.store.close)
    choose_as_set(book)
    where = "on the server" if settings.database else str(settings.book_file)
    door.show(
        {"site": to_plain(site), "book": where},
        [
            f"A book for {site.name}: {where}.",
            "Next: swardbook zone add NAME --sides 20x12 --use 'family lawn' --height-of-cut 25",
        ],
        book,
    )
