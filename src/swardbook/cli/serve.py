"""``swardbook serve``: the book as pages, for this machine or, with TLS and log-in, for others."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import webbrowser
from typing import TYPE_CHECKING

import click

from swardbook.cli.doors import Door, clock_today, door_options

if TYPE_CHECKING:
    from swardbook.book.serving import Serving


@click.command()
@click.option("--port", default=None, type=click.IntRange(1, 65535),
              help="Port on this machine. [default: 8350, or the next that is free]")  # fmt: skip
@click.option("--host", default="127.0.0.1", show_default=True,
              help="Address to listen on; 0.0.0.0 lets other machines in, by log-in.")  # fmt: skip
@click.option("--name", "names", multiple=True,
              help="A name of this machine that browsers ask for; may be given again.")  # fmt: skip
@click.option("--certificate", default="", metavar="FILE", help="Certificate for TLS, PEM.")
@click.option("--key", default="", metavar="FILE", help="Its key, PEM, PKCS#8.")
@click.option("--make-certificate", is_flag=True,
              help="Make one for the home network, once; needs the openssl program.")  # fmt: skip
@click.option("--behind-proxy", is_flag=True,
              help="TLS ends at a proxy on this machine that sets X-Forwarded-Proto.")  # fmt: skip
@click.option("--browser/--no-browser", default=True, help="Open a browser, or do not.")
@door_options
def command(
    door: Door, port: int | None, host: str, names: tuple[str, ...], certificate: str, key: str,
    make_certificate: bool, behind_proxy: bool, browser: bool,
) -> None:  # fmt: skip
    """Show the book as pages, until you stop it with Ctrl-C.

    Pages are for a phone or a desk. Without more said, this machine alone is answered, without
    log-in. Other machines need TLS and log-in. Where there is no book yet, the first page begins
    one. Nothing is fetched from anywhere.
    """
    from swardbook.book.opening import NoBookError, at_ground, grounds_of, open_any_book
    from swardbook.book.people import has_owner
    from swardbook.book.serving import Asked, make_ready
    from swardbook.foundation.errors import BadInputError
    from swardbook.settings import read_settings

    if door.on:
        raise BadInputError("--on", door.on, "nothing: pages are for today")
    settings, name, made_up, owned = read_settings(os.environ), "A new book", False, False
    try:
        book = open_any_book(settings, clock_today)
        if door.ground:
            at_ground(book, door.ground, clock_today)
        several, made_up, owned = grounds_of(book), book.is_made_up, has_owner(book)
        name = several[0].name if len(several) == 1 else f"The book of {len(several)} grounds"
        book.store.close()
    except NoBookError:
        pass
    asked = Asked(port, host, names, certificate, key, make_certificate, behind_proxy)
    serving = make_ready(settings, asked, needs_owner=not owned)
    tell(serving, name, made_up, door.as_json)
    os.environ["SWARDBOOK_GROUND"] = door.ground or settings.ground
    if browser and not door.as_json and not behind_proxy:
        webbrowser.open(serving.address)
    click.get_current_context().exit(run(serving))


def tell(serving: Serving, name: str, made_up: bool, as_json: bool) -> None:
    """Say where the pages are, and what whoever comes first must know."""
    told = {"address": serving.address}
    if serving.served.code:
        told["code"] = serving.served.code
    if serving.fingerprint:
        told["certificate_sha256"] = serving.fingerprint
    if as_json:
        click.echo(json.dumps({"made_up": made_up, **told}), nl=True)
    else:
        if serving.port_taken:
            click.echo(f"Port {serving.port_taken} is taken; this is the next free one.")
        click.echo(f"{name} is at {serving.address}")
        if serving.served.code:
            click.echo(f"The first page asks for this code: {serving.served.code}")
        if serving.fingerprint:
            click.echo(f"SHA-256 of the certificate: {serving.fingerprint}")
        click.echo("Stop it with Ctrl-C.")
    sys.stdout.flush()


def run(serving: Serving, home: str = "") -> int:
    """Run the server in a process that has opened no book before: this one, begun anew.

    Parameters
    ----------
    serving : Serving
        How.
    home : str
        Folder of the book, where it is not the usual one.
    """
    from swardbook.book.serving import environment_of

    server = [
        sys.executable, "-m", "granian", "swardbook.web.application:application",
        "--interface", "wsgi", "--host", serving.host, "--port", str(serving.port),
        "--workers", "1", "--blocking-threads", "4", "--no-ws", "--log-level", "error",
    ]  # fmt: skip
    if serving.certificate:
        server += ["--ssl-certificate", str(serving.certificate), "--ssl-keyfile",
                   str(serving.key), "--ssl-protocol-min", "tls1.2"]  # fmt: skip
    environment = {**os.environ, **environment_of(serving)}
    if home:
        environment |= {"SWARDBOOK_HOME": home, "SWARDBOOK_DATABASE": "", "SWARDBOOK_GROUND": ""}
    if os.name == "posix":
        os.execve(sys.executable, server, environment)
    try:
        return subprocess.call(server, env=environment)
    except KeyboardInterrupt:
        return 0
