"""What the one who runs the server may watch: figures and lines, without who asked or what."""

from __future__ import annotations

import json
import logging
import os
import sys
import traceback
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from time import perf_counter
from typing import Any

from django.core.signals import got_request_exception
from django.http import HttpRequest, HttpResponseBase
from prometheus_client import CollectorRegistry, Counter, Gauge, Histogram, generate_latest

from swardbook.settings import read_settings

Answer = Callable[[HttpRequest], HttpResponseBase]
FIGURES_TYPE = "text/plain; version=0.0.4; charset=utf-8"
"""The text form of figures that programs for watching servers read."""
REGISTRY = CollectorRegistry()
ANSWERED = Counter(
    "swardbook_answers", "Questions that pages answered.", ("page", "method", "status"),
    registry=REGISTRY,
)  # fmt: skip
TOOK = Histogram(
    "swardbook_answer_seconds", "How long an answer took.", ("page",), registry=REGISTRY,
    buckets=(0.01, 0.03, 0.1, 0.3, 1.0, 3.0, 10.0, 30.0),
)  # fmt: skip
FAULTS = Counter(
    "swardbook_faults", "Faults of the program behind a page.", ("page", "kind"), registry=REGISTRY
)
BOOK_BYTES = Gauge("swardbook_book_bytes", "Size of the book's file.", registry=REGISTRY)
NOBODY = "none"
"""Stands for the page where an address leads to none."""


def with_watching(answer: Answer) -> Answer:
    """Count and time each answer, and write a line of it where that is set.

    Neither holds an address, a name, a ground or a word that was sent: pages are told by their
    name in the table of pages.
    """
    writes_lines = read_settings(os.environ).log == "json"

    def watched(request: HttpRequest) -> HttpResponseBase:
        began = perf_counter()
        response = answer(request)
        took = perf_counter() - began
        page, method = page_of(request), request.method or ""
        ANSWERED.labels(page, method, response.status_code).inc()
        TOOK.labels(page).observe(took)
        if writes_lines:
            write_line(
                "answer", page=page, method=method, status=response.status_code,
                milliseconds=round(1000 * took, 1),
            )  # fmt: skip
        return response

    return watched


def page_of(request: HttpRequest) -> str:
    """Give the name of the page that answers, as the table of pages has it."""
    found = request.resolver_match
    return (found.url_name or NOBODY) if found else NOBODY


def write_line(event: str, **told: Any) -> None:
    """Write one line for programs that gather them to standard error, as JSON."""
    now = datetime.now(UTC).isoformat(timespec="milliseconds")
    sys.stderr.write(json.dumps({"at": now, "event": event, **told}) + "\n")
    sys.stderr.flush()


def write_fault(sender: object, request: HttpRequest | None = None, **more: Any) -> None:
    """Write where a fault of the program arose: its kind and its places, never its words."""
    del sender, more
    kind, _, trace = sys.exc_info()
    page = page_of(request) if request is not None else NOBODY
    name = kind.__name__ if kind else NOBODY
    FAULTS.labels(page, name).inc()
    places = [
        f"{Path(frame.filename).name}:{frame.lineno} {frame.name}"
        for frame in traceback.extract_tb(trace)
    ]
    write_line("fault", page=page, kind=name, places=places[-8:])


def keep_addresses_out() -> None:
    """Let Django's own lines, which hold addresses and what was sent, go nowhere.

    With `SWARDBOOK_DEBUG` they are written, to report a fault.
    """
    if os.environ.get("SWARDBOOK_DEBUG"):
        return
    own = logging.getLogger("django")
    own.addHandler(logging.NullHandler())
    own.propagate = False


got_request_exception.connect(write_fault, dispatch_uid="swardbook-faults")


def figures() -> bytes:
    """Give the figures of this process in the text form of Prometheus 0.0.4."""
    file = read_settings(os.environ).book_file
    if file.is_file():
        BOOK_BYTES.set(file.stat().st_size)
    return generate_latest(REGISTRY)
