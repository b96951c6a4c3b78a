"""What is done kneeling: a frame counted with a thumb, passes of pulling, seedlings, pictures."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from django.http import HttpRequest, HttpResponse, HttpResponseBase, JsonResponse
from django.shortcuts import render
from django.utils.translation import gettext
from django.views.decorators.http import require_POST, require_safe

from swardbook.book.comparing import pulling
from swardbook.book.leaving import leave_file
from swardbook.book.opening import Book
from swardbook.book.pictures_in import media_type, most_bytes, small_picture
from swardbook.book.pictures_out import told_file
from swardbook.book.pull_words import pull_words
from swardbook.book.sent_files import read_about, take_file_in
from swardbook.book.tallies import tallies_of
from swardbook.foundation.errors import BadInputError, SwardbookError
from swardbook.handbook.species import ANNUAL_MEADOW_GRASS, YORKSHIRE_FOG, in_words, key_of
from swardbook.web.asker import who_asks
from swardbook.web.at_hand import zone_names
from swardbook.web.guarding import status_of
from swardbook.web.opened import clock_now, the_book
from swardbook.web.page import Page, Role, Shelf
from swardbook.web.remembering import remembered

_BESIDE = 100_000
"""Bytes beside the file itself that a form may hold."""
_SIDES = (100, 200, 250, 500)
"""Sides of frames for seedlings that are offered [mm]."""
_SANDBOX = "default-src 'none'; sandbox"


@require_safe
def frame(request: HttpRequest) -> HttpResponse:
    """Count a frame, one crossing after another, with the thumb of either hand."""
    return render(request, "pages/frame_count.html", remembered("tallies", _tallies))


def _tallies(book: Book) -> dict[str, Any]:
    tallies = tallies_of(book)
    plain = {
        each.zone: {"places": each.places, "kinds": each.kinds, "crossings": each.crossings}
        for each in tallies
    }
    names = [each.zone for each in tallies]
    return {"tallies": tallies, "zone_names": names,
            "plain": json.dumps(plain, ensure_ascii=False)}  # fmt: skip


@require_safe
def pull(request: HttpRequest) -> HttpResponse:
    """Tally weed grass pulled, in one pass or two over the same ground."""
    weeds = [(key, in_words(key)) for key in (ANNUAL_MEADOW_GRASS, YORKSHIRE_FOG)]
    about = {"weeds": weeds, "zone_names": zone_names()}
    return render(request, "pages/pull.html", about)


@require_safe
def left(request: HttpRequest, zone: str) -> HttpResponse:
    """Tell how many plants are left by the last passes in a zone."""
    weed = key_of(request.GET.get("species", ANNUAL_MEADOW_GRASS))
    made = remembered(f"left {zone} {weed}", lambda book: pulling(book, zone, weed))
    return JsonResponse({"zone": zone, "species": weed, "words": pull_words(made)})


@require_safe
def seedlings(request: HttpRequest) -> HttpResponse:
    """Count seedlings, frame by frame."""
    about = {"zone_names": zone_names(), "sides": _SIDES}
    return render(request, "pages/seedlings.html", about)


@require_safe
def picture(request: HttpRequest) -> HttpResponse:
    """Take a picture or speak a note, about a zone or a place in it."""
    return render(request, "pages/picture.html", remembered("tallies", _tallies))


@require_safe
def waiting(request: HttpRequest) -> HttpResponse:
    """Show what waits on this phone."""
    return render(request, "pages/waiting.html")


@require_safe
def phone(request: HttpRequest) -> HttpResponse:
    """Set how this phone shows the pages, and which hand holds it."""
    return render(request, "pages/phone.html")


@require_POST
def files(request: HttpRequest) -> JsonResponse:
    """Keep one picture or voice note under the id that the phone gave it; again changes nothing."""
    if int(request.META.get("CONTENT_LENGTH") or 0) > most_bytes() + _BESIDE:
        return JsonResponse({"refusal": gettext("The file is too large.")}, status=413)
    sent = request.FILES.get("file")
    try:
        plain = json.loads(request.POST.get("about", ""))
        about = read_about(plain)
        if sent is None:
            raise BadInputError("the file", "nothing", "a picture or a voice note")
        if (asker := who_asks(request)).has_left:
            held, name, key = sent.read(), sent.name or "", asker.key or 0
            made = leave_file(the_book(), key, held, name, plain, clock_now())
            return JsonResponse({"id": str(made), "state": "left behind"}, status=202)
        taken = take_file_in(the_book(), sent.read(), sent.name or "", about)
    except SwardbookError as refusal:
        return JsonResponse({"refusal": str(refusal)}, status=status_of(refusal))
    except ValueError:
        return JsonResponse(
            {"refusal": gettext("What is said of the file is no JSON object.")}, status=400
        )
    if taken.entry is None:
        return JsonResponse({"refusal": taken.words}, status=422)
    told: Mapping[str, Any] = {
        "id": str(taken.entry.id), "state": taken.state.value, "kind": taken.entry.what.kind,
        "needs_a_look": taken.entry.needs_a_look,
    }  # fmt: skip
    return JsonResponse(told, status=201)


@require_safe
def whole_file(request: HttpRequest, mark: str) -> HttpResponseBase:
    """Hand on a picture or voice note: the copy that tells no place, never as what runs."""
    path = told_file(the_book(), mark)
    part = re.fullmatch(r"bytes=(\d+)-(\d*)", request.headers.get("Range", ""))
    if part is None:
        answer = HttpResponse(path.read_bytes(), content_type=media_type(path))
    else:  # some phones play no sound that does not come in parts
        answer = _part(path, int(part[1]), int(part[2] or path.stat().st_size))
    answer.headers["Content-Disposition"] = f'inline; filename="{path.name}"'
    answer.headers["Accept-Ranges"] = "bytes"
    return _kept_apart(answer)


def _part(path: Path, first: int, last: int) -> HttpResponse:
    size = path.stat().st_size
    if first >= size or last < first:
        return HttpResponse(status=416, headers={"Content-Range": f"bytes */{size}"})
    with path.open("rb") as handle:
        handle.seek(first)
        held = handle.read(min(last, size - 1) - first + 1)
    told = {"Content-Range": f"bytes {first}-{first + len(held) - 1}/{size}"}
    return HttpResponse(held, content_type=media_type(path), status=206, headers=told)


@require_safe
def small_file(request: HttpRequest, mark: str) -> HttpResponseBase:
    """Hand on a small picture."""
    del request
    told_file(the_book(), mark)
    held = small_picture(the_book().settings, mark)
    answer = HttpResponse(held, content_type="image/jpeg")
    answer.headers["Content-Disposition"] = f'inline; filename="{mark[:12]}.jpg"'
    return _kept_apart(answer)


def _kept_apart(answer: HttpResponseBase) -> HttpResponseBase:
    answer.headers["Content-Security-Policy"] = _SANDBOX
    answer.headers["X-Content-Type-Options"] = "nosniff"
    answer.headers["Cache-Control"] = "private, max-age=31536000, immutable"
    answer.headers["Content-Encoding"] = "identity"
    return answer


PAGES = (
    Page("lawn/frame/", frame, "frame-count", Role.WORKER, title="Frame count", shelf=Shelf.LAWN,
         offline=True, says="Twenty-five crossings with one thumb, left or right."),
    Page("lawn/pull/", pull, "pull", Role.WORKER, title="Two-pass pull", shelf=Shelf.LAWN,
         offline=True, says="Tally what you pull; after the second pass, how many are left."),
    Page("lawn/seedlings/", seedlings, "seedlings", Role.WORKER, title="Seedling frame",
         shelf=Shelf.LAWN, offline=True, says="Seedlings counted, frame by frame."),
    Page("lawn/picture/", picture, "picture", Role.WORKER, title="Something odd here",
         shelf=Shelf.LAWN, offline=True, says="A picture, a voice note or a few words."),
    Page("lawn/waiting/", waiting, "waiting", Role.READER, title="What waits on this phone",
         shelf=Shelf.LAWN, offline=True, says="Entries and pictures that the book has not got."),
    Page("lawn/phone/", phone, "phone", Role.READER, title="This phone", shelf=Shelf.LAWN,
         offline=True, says="Outdoor, light or dark; left or right hand; sounds; who counts."),
    Page("api/files/", files, "api-files", Role.WORKER, ("POST",)),
    Page("api/left/<str:zone>/", left, "api-left", Role.WORKER, example={"zone": "Main court"}),
    Page("file/<str:mark>/", whole_file, "file-whole", Role.READER),
    Page("file/<str:mark>/small/", small_file, "file-small", Role.READER),
)  # fmt: skip
