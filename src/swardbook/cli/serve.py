"""``swardbook serve``: the pages, on this machine."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import webbrowser

import click

from swardbook.cli.doors import Door, door_options

LOOPBACK = "127.0.0.1"


@click.command()
@click.option("--port", default=8350, show_default=True, type=click.IntRange(1, 65535),
              help="Port on this machine.")  # fmt: skip
@click.option("--browser/--no-browser", default=True, help="Open a browser, or do not.")
@door_options
def command(door: Door, port: int, browser: bool) -> None:
    """Show the book as pages, to this machine alone, until you stop it with Ctrl-C.

    Pages are for a phone or a desk: the morning look, the week, each zone, and what was done
    written down in a tap or two. Nothing is fetched from anywhere, and no other machine is
    answered.
    """
    from swardbook.book.serving import require_free
    from swardbook.foundation.errors import BadInputError

    if door.on:
        raise BadInputError("--on", door.on, "nothing: pages are for today")
    book = door.book()
    require_free(LOOPBACK, port)
    address = f"http://{LOOPBACK}:{port}/"
    told = {"address": address}
    if door.as_json:
        click.echo(json.dumps({"made_up": book.is_made_up, **told}), nl=True)
    else:
        click.echo(f"{book.ground().site.name} is at {address}\nStop it with Ctrl-C.")
    sys.stdout.flush()
    book.store.close()
    if browser and not door.as_json:
        webbrowser.open(address)
    click.get_current_context().exit(_serve(port))


def _serve(port: int) -> int:
    """Run the server in a process that has opened no book before: this one, begun anew."""
    server = (
        sys.executable, "-m", "granian", "swardbook.web.application:application",
        "--interface", "wsgi", "--host", LOOPBACK, "--port", str(port), "--workers", "1",
        "--blocking-threads", "4", "--no-ws", "--log-level", "error",
    )  # fmt: skip
    if os.name == "posix":
        os.execv(sys.executable, server)
    try:
        return subprocess.call(server)
    except KeyboardInterrupt:
        return 0
