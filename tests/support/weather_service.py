"""A weather service of our own on this machine, which answers what a test tells it to."""

from __future__ import annotations

import json
import ssl
import threading
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from datetime import date, timedelta
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any

Say = Callable[[BaseHTTPRequestHandler], None]


@dataclass
class Service:
    """What it was asked, and what it says to that."""

    address: str = ""
    say: Say = lambda asked: tell(asked, b"{}")
    asked: list[tuple[str, dict[str, str]]] = field(default_factory=list)


def tell(asked: BaseHTTPRequestHandler, body: bytes, status: int = 200, **headers: str) -> None:
    asked.send_response(status)
    for name, text in ({"Content_Length": str(len(body))} | headers).items():
        asked.send_header(name.replace("_", "-"), text)
    asked.end_headers()
    asked.wfile.write(body)


@contextmanager
def serving(say: Say | None = None, tls: ssl.SSLContext | None = None) -> Iterator[Service]:
    service = Service()
    if say is not None:
        service.say = say

    class Handler(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            service.asked.append((self.path, {k.lower(): v for k, v in self.headers.items()}))
            with suppress(OSError):  # who asked has gone
                service.say(self)

        def log_message(self, format: str, *args: Any) -> None:  # noqa: A002
            del format, args

    server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
    server.daemon_threads = True
    if tls is not None:
        server.socket = tls.wrap_socket(server.socket, server_side=True)
    thread = threading.Thread(target=server.serve_forever, args=(0.01,), daemon=True)
    thread.start()
    service.address = f"http{'s' if tls else ''}://127.0.0.1:{server.server_port}"
    try:
        yield service
    finally:
        server.shutdown()
        server.server_close()
        thread.join()


UNITS = {
    "time": "iso8601", "temperature_2m_min": "°C", "temperature_2m_max": "°C",
    "precipitation_sum": "mm",
}  # fmt: skip


def days_told(
    first: date, number: int, courses: int = 0, units: Mapping[str, str] = UNITS, **changed: Any
) -> dict[str, Any]:
    """Give an answer in the usual shape."""
    days = [first + timedelta(days=each) for each in range(number)]
    daily: dict[str, Any] = {
        "time": [each.isoformat() for each in days],
        "temperature_2m_min": [5.0 + at % 3 for at in range(number)],
        "temperature_2m_max": [14.0 + at % 4 for at in range(number)],
        "precipitation_sum": [float(at % 5 == 0) * 4 for at in range(number)],
    }
    for course in range(1, courses + 1):
        for name in list(UNITS)[1:]:
            daily[f"{name}_member{course:02d}"] = [each + course / 10 for each in daily[name]]
    daily |= changed
    return {"utc_offset_seconds": 0, "daily_units": dict(units), "daily": daily}


def as_bytes(answer: Mapping[str, Any]) -> bytes:
    return json.dumps(answer).encode()
