"""What pages take, asked in a process of its own: ``python -m benchmarks._pages_asked SORT HOME``.

Pages are asked for as a server asks for them, without the network and without packing. What is
held from before is held: each page is asked twice before it is timed.
"""

from __future__ import annotations

import gzip
import io
import json
import os
import re
import sys
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any
from urllib.parse import urljoin

from benchmarks._measuring import medians
from swardbook.book.opening import prepare_pages
from swardbook.web.wiring import pages_settings

TIMES = 25
LAWN_PAGES = ("", "week/", "ground/", "done/", "done/cut/", "more/", "diary/", "seed/", "settings/")
_LINKED = re.compile(r"""(?:src|href)="(/static/[^"]+)\"""")
_IMPORTED = re.compile(r"""from "(\./[^"]+)\"""")
_FONT = re.compile(r"""url\("?([^")]+)"?\)""")


def main() -> None:
    """Ask, and print what was found as JSON."""
    sort, home = sys.argv[1:3]
    os.environ["SWARDBOOK_HOME"] = home
    prepare_pages(pages_settings())
    asked: dict[str, Callable[[], object]] = {
        "weight": weight, "bare": bare, "lawn": partial(of_lawn, *sys.argv[3:])
    }  # fmt: skip
    print(json.dumps(asked[sort]()))


def get(address: str) -> tuple[int, bytes]:
    """Ask for an address as a server does; gives status and what came."""
    from django.core.handlers.wsgi import WSGIHandler

    if "handler" not in _kept:
        _kept["handler"] = WSGIHandler()
    path, _, query = address.partition("?")
    told: list[str] = []
    environ = {
        "REQUEST_METHOD": "GET", "PATH_INFO": path, "QUERY_STRING": query, "HTTP_HOST": "localhost",
        "SERVER_NAME": "localhost", "SERVER_PORT": "80", "REMOTE_ADDR": "127.0.0.1",
        "SERVER_PROTOCOL": "HTTP/1.1", "wsgi.url_scheme": "http", "wsgi.input": io.BytesIO(),
        "wsgi.errors": sys.stderr,
    }  # fmt: skip
    parts = _kept["handler"](environ, lambda status, _heads: told.append(status))
    body = b"".join(parts)
    parts.close()
    return int(told[0].split()[0]), body


_kept: dict[str, Any] = {}


def weight() -> dict[str, float]:
    """Weigh the first load of the morning look, packed [bytes]; and the letters of charts."""
    _status, page = get("/")
    weighed = {"/": _packed(page)}
    waits = _LINKED.findall(page.decode())
    fonts: list[str] = []
    while waits:
        address = waits.pop()
        if address in weighed:
            continue
        held = get(address)[1]
        weighed[address] = _packed(held)
        if address.endswith(".js"):
            waits += [urljoin(address, each) for each in _IMPORTED.findall(held.decode())]
        if address.endswith(".css"):
            fonts += [urljoin(address, each) for each in _FONT.findall(held.decode())]
    page_alone = weighed.pop("/")
    return {
        "page": page_alone, "rest": sum(weighed.values()), "files": len(weighed),
        "fonts": sum(len(get(each)[1]) for each in set(fonts)),
    }  # fmt: skip


def _packed(held: bytes) -> int:
    return len(gzip.compress(held, 6))


def bare() -> dict[str, Any]:
    """Time each page against its own queries and its template, both bare [s]."""
    from tests.support.addresses import html_addresses

    return {address: _against_bare(address) for address in html_addresses()}


def _against_bare(address: str) -> dict[str, float]:
    from django.test.utils import setup_test_environment, teardown_test_environment

    get(address), get(address)
    setup_test_environment()
    caught, drawn = _watched(address)
    teardown_test_environment()
    found = medians(
        {"page": partial(get, address), "bare": lambda: (_asked_again(caught), drawn())},
        TIMES,
    )  # fmt: skip
    return {**found, "queries": len(caught)}


def _watched(address: str) -> tuple[list[str], Callable[[], object]]:
    """Ask for a page; give the questions it asked, and its template drawn with what it had."""
    from django.db import connections
    from django.template import Context
    from django.test.signals import template_rendered
    from django.test.utils import CaptureQueriesContext

    from swardbook.web.opened import the_book

    seen: list[tuple[Any, dict[str, Any]]] = []

    def note(sender: Any, template: Any, context: Any, **_rest: Any) -> None:
        seen.append((template, context.flatten()))

    template_rendered.connect(note)
    with CaptureQueriesContext(connections[the_book().store._rows.alias]) as caught:
        get(address)
    template_rendered.disconnect(note)
    template, about = seen[0]
    texts = [each["sql"] for each in caught if each["sql"].startswith("SELECT")]
    return texts, lambda: template.render(Context(about))


def _asked_again(texts: list[str]) -> None:
    from django.db import connections

    from swardbook.web.opened import the_book

    held = connections[the_book().store._rows.alias]
    held.ensure_connection()
    for text in texts:
        held.connection.execute(text).fetchall()


def of_lawn(slug: str) -> dict[str, Any]:
    """Time the pages of one lawn, and count what they ask of the database."""
    from django.db import connections
    from django.test.utils import CaptureQueriesContext

    from swardbook.web.opened import any_book

    made = {}
    for page in LAWN_PAGES:
        address = f"/at/{slug}/{page}"
        get(address)
        status, _body = get(address)
        with CaptureQueriesContext(connections[any_book().store._rows.alias]) as caught:
            get(address)
        queries = len(caught)  # before the next page is asked for: its log begins anew
        taken = medians({"page": partial(get, address)}, TIMES)["page"]
        made[f"/{page}"] = {"status": status, "seconds": taken, "queries": queries}
    return made


if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).parents[1]))
    main()
