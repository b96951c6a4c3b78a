"""Ways in for other programs: every question in JSON, the diary, their keys and the calendar."""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import contextmanager
from threading import Lock
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse, HttpResponseBase, JsonResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from swardbook.book import diary as book_diary
from swardbook.book import tokens
from swardbook.book.fields import read_kind
from swardbook.book.finds_out import finds_csv
from swardbook.book.once import answered_once
from swardbook.book.plan_out import plan_geojson
from swardbook.book.week_calendar import week_calendar
from swardbook.foundation.dates import read_day
from swardbook.foundation.errors import BadInputError, SwardbookError
from swardbook.husbandry.codec import plain_entry
from swardbook.web.asker import who_asks
from swardbook.web.asking.questions import Question, Sort, questions
from swardbook.web.asking.running import Filled, ask
from swardbook.web.guarding import in_json, status_of
from swardbook.web.opened import clock_now, ground_asked, the_book
from swardbook.web.page import Page, Role, Shelf
from swardbook.web.programs.openapi import document, role_of
from swardbook.web.remembering import remembered
from swardbook.web.views.asking import seen_in

MOST_BYTES = 200_000
_TURNS: dict[tuple[str, ...], list[Any]] = {}
_LOCK = Lock()


@require_safe
def described(request: HttpRequest) -> JsonResponse:
    """Describe every way in."""
    return JsonResponse(document(request.build_absolute_uri(reverse("morning"))))


@require_http_methods(["GET", "HEAD", "POST"])
def question(request: HttpRequest, path: str) -> HttpResponseBase:
    """Answer one question in JSON; what is posted may be kept in the book."""
    asked = questions().get(tuple(path.strip("/").split("/")))
    if asked is None or asked.takes_a_file:
        return _no(_("There is no question of that name."), 404)
    is_post = request.method == "POST"
    if who_asks(request).role < role_of(asked, is_post):
        return _no(_("The key may not do this."), 403)
    if is_post and asked.least_to_write is None:
        return _no(_("There is nothing in this to be kept."), 405)
    if asked.writes and not is_post:
        return _no(_("This writes into the book: send it by POST."), 405)
    try:
        sent = _body(request) if is_post else _said(request)
        return JsonResponse(_once(request, asked, sent) if is_post else _asked(asked, sent))
    except SwardbookError as refusal:
        return in_json(refusal)


def _asked(asked: Question, sent: dict[str, str]) -> dict[str, Any]:
    filled = Filled(_texts(asked, sent), {}, draws=False)
    key = f"api {asked.path} {sorted(filled.texts.items())}"
    return remembered(key, lambda book: ask(book, asked, filled).payload)


def _once(request: HttpRequest, asked: Question, sent: dict[str, str]) -> dict[str, Any]:
    """Write, but for a sending that was answered before: that is answered as it was."""
    mark = request.headers.get("Idempotency-Key", "")
    filled = Filled(_texts(asked, sent), {}, keeps=bool(asked.keeps), draws=False)
    book = the_book()
    if not mark:
        return ask(book, asked, filled).payload
    asker = who_asks(request)
    sending = (asker.name, asker.program, asked.path, mark)
    with _turn(ground_asked(), *sending):
        return dict(answered_once(
            book, sending, clock_now(), lambda: ask(book, asked, filled).payload,
            is_quick=asked.writes, said=filled.texts,
        ))  # fmt: skip


@contextmanager
def _turn(*sending: str) -> Iterator[None]:
    """Let a sending wait for the same one that is under way; others go on."""
    with _LOCK:
        held = _TURNS.setdefault(sending, [Lock(), 0])
        held[1] += 1
    try:
        with held[0]:
            yield
    finally:
        with _LOCK:
            held[1] -= 1
            if not held[1]:
                del _TURNS[sending]


def _texts(asked: Question, sent: dict[str, str]) -> dict[str, str]:
    known = {each.name: each for each in asked.fields}
    for name, text in sent.items():
        if name not in known:
            raise BadInputError("a field", name, ", ".join(known) or "none")
        field = known[name]
        if field.choices and text and text not in dict(field.choices):
            raise BadInputError(name, text, ", ".join(value for value, _word in field.choices))
        if field.sort is Sort.FLAG and text not in {"", "yes"}:
            raise BadInputError(name, text, "yes, or nothing")
    missing = [each.name for each in asked.fields if each.is_needed and not sent.get(each.name)]
    if missing:
        raise BadInputError(missing[0], "nothing", "something: it is needed")
    return {name: text for name, text in sent.items() if text}


def _body(request: HttpRequest) -> dict[str, str]:
    if len(request.body) > MOST_BYTES:
        raise BadInputError("what was sent", f"{len(request.body)} bytes", f"{MOST_BYTES} at most")
    try:
        sent = json.loads(request.body)
    except ValueError:
        raise BadInputError("what was sent", "no JSON", "a JSON object") from None
    if not isinstance(sent, dict):
        raise BadInputError("what was sent", type(sent).__name__, "a JSON object")
    wrong = [name for name, text in sent.items() if not isinstance(text, str)]
    if wrong:
        raise BadInputError(wrong[0], type(sent[wrong[0]]).__name__, "a text")
    return sent


def _said(request: HttpRequest) -> dict[str, str]:
    return {name: "\n".join(map(str, request.GET.getlist(name))) for name in request.GET}


@require_safe
def entries(request: HttpRequest) -> HttpResponse:
    """Give the diary: the entries that stand, in the order in which things happened."""
    asked = request.GET
    try:
        kind = read_kind(asked["kind"]).kind if asked.get("kind") else ""
        since = read_day(asked["from"], the_book().today) if asked.get("from") else None
        found = book_diary.show(the_book(), zone=asked.get("zone", ""), kind=kind)
    except SwardbookError as refusal:
        return in_json(refusal)
    shown = [each.entry for each in found if since is None or each.entry.when.last >= since]
    return JsonResponse({"entries": [plain_entry(each) for each in shown]})


@require_http_methods(["GET", "HEAD", "POST"])
def keys(request: HttpRequest) -> HttpResponseBase:
    """List the keys of other programs; make one, end one."""
    book, said, made, status = the_book(), "", "", 200
    if request.method == "POST":
        try:
            made = _done(request)
        except SwardbookError as refusal:
            said, status = str(refusal), status_of(refusal)
        if not made and not said:
            return redirect("keys")
    calendar = request.build_absolute_uri(reverse("file-calendar", args=[made])) if made else ""
    about = {
        "keys": tokens.tokens(book), "made": made, "said": said, "typed": request.POST,
        "calendar": calendar, "described": request.build_absolute_uri(reverse("api-described")),
    }  # fmt: skip
    return render(request, "pages/keys.html", about, status=status)


def _done(request: HttpRequest) -> str:
    sent = request.POST
    if sent.get("do") == "end":
        number = sent.get("key", "")
        tokens.end_token(the_book(), int(number) if number.isdecimal() else 0, clock_now())
        return ""
    whose = who_asks(request).name
    _token, secret = tokens.make_token(
        the_book(), sent.get("name", ""), sent.get("role", ""), whose, clock_now()
    )
    return secret


@require_safe
def calendar(request: HttpRequest, key: str) -> HttpResponse:
    """Give the week as a calendar, to who has a key in the address: calendars send no other."""
    del request
    if tokens.who_has(the_book(), key) is None:
        raise Http404
    text = remembered("calendar", week_calendar)
    return HttpResponse(text, content_type="text/calendar; charset=utf-8")


@require_safe
def plan_for_maps(request: HttpRequest) -> HttpResponse:
    """Give the plan as GeoJSON."""
    del request
    told = json.dumps(remembered("geojson", plan_geojson), ensure_ascii=False)
    return _file(told, "application/geo+json", "plan.geojson")


@require_safe
def finds(request: HttpRequest) -> HttpResponse:
    """Give what was found where, as occurrence records."""
    del request
    return _file(remembered("finds", finds_csv), "text/csv; charset=utf-8", "finds.csv")


def _file(text: str, sort: str, name: str) -> HttpResponse:
    answer = HttpResponse(text, content_type=sort)
    answer.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    return answer


def _no(said: str, status: int) -> JsonResponse:
    return JsonResponse({"refusal": said}, status=status)


PAGES = (
    Page("api/openapi.json", described, "api-described", Role.READER),
    Page("api/ask/<path:path>/", question, "api-question", Role.READER, ("GET", "POST"),
         sees=seen_in,
         example={"path": "clock"}),
    Page("api/diary/", entries, "api-diary", Role.READER, sees="the diary"),
    Page("keys/", keys, "keys", Role.OWNER, ("GET", "POST"), sees="the keys",
         title="Keys for other programs", shelf=Shelf.BOOK,
         says="Let a calendar or a program of your own ask; end it at any time."),
    Page("in-and-out/plan.geojson", plan_for_maps, "file-geojson", Role.READER),
    Page("in-and-out/finds.csv", finds, "file-finds", Role.READER),
    Page("calendar/<str:key>.ics", calendar, "file-calendar", Role.STRANGER),
)  # fmt: skip
