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
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from pathlib import Path
from typing import Any
from urllib.parse import unquote_to_bytes, urljoin

from benchmarks._measuring import medians
from swardbook.book.opening import prepare_pages
from swardbook.web.wiring import pages_settings

TIMES = 65
"""How often each is asked, in turn: a page takes milliseconds, and single ones swing by a fifth."""
LAWN_PAGES = ("", "week/", "ground/", "done/", "done/cut/", "more/", "diary/", "seed/", "settings/")
_THERE, _UNDER_WAY, _PATIENCE = 200, 202, 1200
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
    """Ask for an address as a server does, for a browser that was here before.

    Gives status and what came.
    """
    from django.core.handlers.wsgi import WSGIHandler

    if "handler" not in _kept:
        _kept["handler"] = WSGIHandler()
    path, _, query = address.partition("?")
    told: list[tuple[str, list[tuple[str, str]]]] = []
    environ = {
        "REQUEST_METHOD": "GET", "PATH_INFO": _as_received(path), "QUERY_STRING": query,
        "HTTP_HOST": "localhost", "HTTP_COOKIE": _kept.get("cookie", ""),
        "SERVER_NAME": "localhost", "SERVER_PORT": "80", "REMOTE_ADDR": "127.0.0.1",
        "SERVER_PROTOCOL": "HTTP/1.1", "wsgi.url_scheme": "http", "wsgi.input": io.BytesIO(),
        "wsgi.errors": sys.stderr,
    }  # fmt: skip
    parts = _kept["handler"](environ, lambda status, heads: told.append((status, heads)))
    body = b"".join(parts)
    parts.close()
    ((status, heads),) = told
    if "cookie" not in _kept and (given := dict(heads).get("Set-Cookie")):
        _kept["cookie"] = given.partition(";")[0]
    return int(status.split()[0]), body


_kept: dict[str, Any] = {}


def _as_received(path: str) -> str:
    """Write a path as servers hand it on: its letters as bytes, each byte as one sign."""
    return unquote_to_bytes(path).decode("latin-1")


def get_ready(address: str) -> None:
    """Ask twice, or until what takes long is worked out; a page that is not there ends it all."""
    get(address)
    for _ in range(_PATIENCE):
        status, _body = get(address)
        if status == _THERE:
            return
        if status != _UNDER_WAY:
            raise LookupError(f"{address} was answered with {status}")
        time.sleep(0.1)
    raise TimeoutError(address)


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
    """Time a page, its own questions and template by themselves, and a connection alone [s].

    A server opens a connection for each page and closes it after; so do the questions by
    themselves, and each of the works taken in turn begins without one.
    """
    from django.test.utils import setup_test_environment, teardown_test_environment

    get_ready(address)
    setup_test_environment()
    caught, drawn = _watched(address)
    teardown_test_environment()
    connection = _connection()

    def by_itself() -> None:
        connection.ensure_connection()
        for text in caught:
            connection.connection.execute(text).fetchall()
        connection.close()
        drawn()

    def connected() -> None:
        connection.ensure_connection()
        connection.close()

    works: dict[str, Callable[[], object]] = {
        "page": partial(get, address), "bare": by_itself, "connection": connected
    }  # fmt: skip
    return {**medians(works, TIMES), "queries": len(caught)}


def _connection() -> Any:
    from django.db import connections

    from swardbook.web.opened import any_book

    return connections[any_book().store._rows.alias]


def _watched(address: str) -> tuple[list[str], Callable[[], object]]:
    """Ask for a page; give the questions it asked, and its template drawn with what it had."""
    from django.template import Context
    from django.test.signals import template_rendered
    from django.test.utils import CaptureQueriesContext

    seen: list[tuple[Any, dict[str, Any]]] = []

    def note(sender: Any, template: Any, context: Any, **_rest: Any) -> None:
        seen.append((template, context.flatten()))

    template_rendered.connect(note)
    with CaptureQueriesContext(_connection()) as caught:
        get(address)
    template_rendered.disconnect(note)
    template, about = seen[0]
    texts = [each["sql"] for each in caught if each["sql"].lstrip().startswith("SELECT")]
    return texts, lambda: template.render(Context(about))


def of_lawn(slug: str, *homes: str) -> list[dict[str, Any]]:
    """Time the pages of one lawn of each book in turn, and count what they ask of the database.

    Each book is held open by a thread of its own, as by a server's.
    """
    threads = [ThreadPoolExecutor(1) for _ in homes]
    made: list[dict[str, Any]] = [{} for _ in homes]
    for thread, home in zip(threads, homes, strict=True):
        thread.submit(_opened, home).result()
    for page in LAWN_PAGES:
        address = f"/at/{slug}/{page}"
        counts = [thread.submit(_counted, address).result() for thread in threads]
        works = {
            home: partial(_got_in, thread, address)
            for home, thread in zip(homes, threads, strict=True)
        }
        taken = medians(works, TIMES)
        for home, queries, whole in zip(homes, counts, made, strict=True):
            whole[f"/{page}"] = {"seconds": taken[home], "queries": queries}
    return made


def _got_in(thread: ThreadPoolExecutor, address: str) -> object:
    return thread.submit(get, address).result()


def _opened(home: str) -> None:
    from swardbook.web.opened import any_book

    os.environ["SWARDBOOK_HOME"] = home
    any_book()


def _counted(address: str) -> int:
    from django.test.utils import CaptureQueriesContext

    get_ready(address)
    with CaptureQueriesContext(_connection()) as caught:
        get(address)
    return len(caught)


if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).parents[1]))
    main()
