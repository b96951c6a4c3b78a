"""What the phone's outbox talks to: entries in, once; and the files that let it work alone."""

from __future__ import annotations

import json
from functools import cache
from hashlib import sha256
from pathlib import Path
from uuid import UUID

from django.contrib.staticfiles import finders
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from django.templatetags.static import static
from django.urls import reverse
from django.utils.translation import gettext
from django.views.decorators.http import require_POST, require_safe

from swardbook.book import leaving
from swardbook.book.sent import read_sent, take_back, take_in
from swardbook.foundation.errors import SwardbookError
from swardbook.web.asker import who_asks
from swardbook.web.guarding import status_of
from swardbook.web.opened import clock_now, the_book
from swardbook.web.page import Page, Role

_MOST_BYTES = 100_000
FRAME = (
    "sward.css", "lawn.css", "look.js", "capture.js", "outbox.js", "phone.js", "said.js",
    "pictures.js",
)  # fmt: skip
"""Files that every page stands on."""


@require_POST
def entries(request: HttpRequest) -> JsonResponse:
    """Keep one entry under the id that the phone gave it; a second time changes nothing."""
    try:
        if len(request.body) > _MOST_BYTES:
            return JsonResponse({"refusal": gettext("An entry is at most 100 kB.")}, status=413)
        if who_asks(request).has_left:
            return _put_aside(request)
        taken = take_in(the_book(), read_sent(json.loads(request.body)))
    except SwardbookError as refusal:
        return JsonResponse({"refusal": str(refusal)}, status=status_of(refusal))
    except ValueError:
        return JsonResponse({"refusal": gettext("This is no JSON object.")}, status=400)
    told = {
        "id": str(taken.entry.id), "kind": taken.entry.what.kind, "was_there": taken.was_there,
        "has_clashed": taken.has_clashed, "needs_a_look": taken.entry.needs_a_look,
    }  # fmt: skip
    return JsonResponse(told, status=200 if taken.was_there else 201)


@require_POST
def taken_back(request: HttpRequest, entry: UUID) -> JsonResponse:
    """Take back what was sent."""
    asker = who_asks(request)
    try:
        if asker.has_left:
            leaving.leave_taking_back(the_book(), asker.key or 0, entry, clock_now())
        else:
            take_back(the_book(), entry)
    except SwardbookError as refusal:
        return JsonResponse({"refusal": str(refusal)}, status=status_of(refusal))
    return JsonResponse({"id": str(entry), "taken_back": True})


def _put_aside(request: HttpRequest) -> JsonResponse:
    """Keep what came from somebody who has left, beside the book, until an owner decides."""
    sent = json.loads(request.body)
    made = leaving.leave_entry(the_book(), who_asks(request).key or 0, sent, clock_now())
    told = {
        "id": str(made), "kind": str(sent.get("kind", "")), "was_there": False,
        "has_clashed": False, "needs_a_look": gettext("An owner of the ground decides about it."),
    }  # fmt: skip
    return JsonResponse(told, status=202)


@require_safe
def worker(request: HttpRequest) -> HttpResponse:
    """Give the worker that keeps the pages on the phone; its name changes with any file."""
    needed = [static(f"swardbook/{name}") for name in FRAME]
    beside = [static(f"swardbook/{name}") for name in files() if name not in FRAME]
    about = {"needed": json.dumps(needed), "statics": json.dumps(beside), "version": version()}
    return render(request, "pages/worker.js", about, content_type="text/javascript")


@require_safe
def no_signal(request: HttpRequest) -> HttpResponse:
    """Stand on the phone in the place of a page that was never seen there."""
    return render(request, "pages/no_signal.html")


@require_safe
def manifest(request: HttpRequest) -> HttpResponse:
    """Describe the pages as something that can be put on a phone's first screen."""
    del request
    told = {
        "name": "swardbook", "short_name": "swardbook", "start_url": reverse("morning"),
        "scope": reverse("morning"),
        "display": "standalone", "background_color": "#f7f4ea", "theme_color": "#fffdf6",
        "icons": [{"src": static("swardbook/tuft.svg"), "sizes": "any", "type": "image/svg+xml"}],
    }  # fmt: skip
    return HttpResponse(json.dumps(told), content_type="application/manifest+json")


def files() -> list[str]:
    """List the static files of ours, which a phone keeps all."""
    found = finders.find("swardbook")
    folder = Path(str(found))
    return sorted(
        each.relative_to(folder).as_posix() for each in folder.rglob("*") if each.is_file()
    )


@cache
def version() -> str:
    """Name what the phone keeps, by the content of the files."""
    whole = sha256()
    for name in files():
        whole.update(Path(str(finders.find(f"swardbook/{name}"))).read_bytes())
    return whole.hexdigest()[:12]


PAGES = (
    Page("api/entries/", entries, "api-entries", Role.WORKER, ("POST",)),
    Page(
        "api/entries/<uuid:entry>/take-back/", taken_back, "api-take-back", Role.WORKER, ("POST",)
    ),
    Page("no-signal/", no_signal, "no-signal", Role.READER, offline=True),
    Page("worker.js", worker, "worker", Role.STRANGER),
    Page("manifest.webmanifest", manifest, "manifest", Role.STRANGER),
)  # fmt: skip
