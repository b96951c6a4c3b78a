"""Pages of the commands: a form, and the answer with its pictures."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse, HttpResponseBase, QueryDict
from django.shortcuts import render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from swardbook.book.opening import OnlyLookingError
from swardbook.cli.collecting import Collected
from swardbook.foundation.asked_units import is_metric, with_unit
from swardbook.foundation.errors import BadInputError, SwardbookError
from swardbook.foundation.units import Units
from swardbook.web.answering import show
from swardbook.web.asker import who_asks
from swardbook.web.asking.blocks import Block, blocks_of
from swardbook.web.asking.next_answers import NAMES_A_PLANT, next_question, without_asking
from swardbook.web.asking.own_fields import PAIRS, has_own, is_sent, own_fields, pairs_of
from swardbook.web.asking.questions import Asked, Question, Sort, asked_in_units, questions
from swardbook.web.asking.running import Filled, ask, in_labels
from swardbook.web.at_hand import the_units, zone_names
from swardbook.web.forms import UNIT
from swardbook.web.guarding import refused, status_of
from swardbook.web.opened import the_book
from swardbook.web.page import Page, Role, Shelf
from swardbook.web.remembering import PATIENCE, Working, remembered, soon

MOST_BYTES = 60_000_000
_SECONDS = {"look-ahead": 90, "programme": 90, "seal": 90}
"""About how long the slowest take the first time; the others take half a minute at most."""
_OF_THE_DIARY = {"diary/show", "diary/kept", "put-right"}
"""Questions whose answers are entries, with who wrote them."""


@require_safe
def every(request: HttpRequest) -> HttpResponse:
    """List every question that the book answers."""
    shelves = [
        (shelf.value, [each for each in questions().values() if each.shelf is shelf])
        for shelf in Shelf
    ]
    about = {"shelves": [each for each in shelves if each[1]]}
    return render(request, "pages/questions.html", about)


@require_http_methods(["GET", "HEAD", "POST"])
def question(request: HttpRequest, path: str) -> HttpResponseBase:
    """Show one question with its answer; what is sent by POST may be kept in the book."""
    asked = _found(path)
    if request.method == "POST":
        return _posted(request, asked)
    filled = _filled(request, asked, {})
    about = _about(request, asked, filled)
    if (filled.is_blank and asked.needs_something) or asked.writes:
        return render(request, "pages/question.html", about)
    name = f"ask {asked.path} {sorted(filled.texts.items())}"
    try:
        answer = soon(
            name, lambda book: ask(book, asked, filled), _(asked.title),
            _SECONDS.get(asked.words[0], 30), patience=PATIENCE,
        )  # fmt: skip
        if isinstance(answer, Working):
            return show(request, "pages/question.html", {**about, "answer": answer})
        blocks = remembered(f"blocks of {name}", lambda _book: _blocks(answer, asked))
    except SwardbookError as refusal:
        return _refused(request, about, filled, refusal)
    shown = {**about, "blocks": blocks, "pictures": answer.pictures,
             "asks": next_question(asked, filled, answer)}  # fmt: skip
    return show(request, "pages/question.html", shown)


def _refused(
    request: HttpRequest, about: dict[str, Any], filled: Filled, refusal: SwardbookError
) -> HttpResponse:
    """Show the form again; before anything was filled in, a slip is only what is still to say."""
    status = status_of(refusal)
    if filled.is_blank and status != 200:
        return render(request, "pages/question.html", {**about, "is_open": True})
    said = in_labels(str(refusal), about["asked"].fields)
    if isinstance(refusal, OnlyLookingError):
        return render(request, "pages/question.html", {**about, "can_keep": True})
    about = {**about, "said": said, "is_slip": status != 200}
    return render(request, "pages/question.html", about, status=status)


@require_safe
def paper(request: HttpRequest, path: str) -> HttpResponseBase:
    """Give the file that a command offers."""
    asked = _found(path)
    if not asked.to_file:
        raise Http404
    filled = _filled(request, asked, {})
    with tempfile.TemporaryDirectory() as folder:
        to = Path(folder) / f"{'-'.join(asked.words)}.pdf"
        ask(the_book(), asked, filled, to)
        held = to.read_bytes()
    answer = HttpResponse(held, content_type="application/pdf")
    answer.headers["Content-Disposition"] = f'attachment; filename="{to.name}"'
    return answer


def seen_in(path: str) -> str:
    """Tell which personal data a question's answer shows: of some it is the diary itself."""
    return "the diary" if path.strip("/") in _OF_THE_DIARY else ""


def _found(path: str) -> Question:
    found = questions().get(tuple(path.strip("/").split("/")))
    if found is None:
        raise Http404
    return found


def _posted(request: HttpRequest, asked: Question) -> HttpResponse:
    keeps = request.POST.get("keeps") == "yes"
    least = asked.least_to_write
    if least is None:
        return refused(request, _("There is nothing in this to be kept."), 405)
    if asked.takes_a_file and not (keeps or asked.writes):
        least = Role.READER
    if who_asks(request).role < least:
        word = _("worker") if least is Role.WORKER else _("owner")
        return refused(request, _("This takes a %(role)s of this ground.") % {"role": word}, 403)
    said, status, answer = "", 200, None
    with _files(request, asked) as files:
        filled = replace(_filled(request, asked, files), keeps=keeps)
        about = _about(request, asked, filled)
        before = the_book().store.stamp()
        try:
            answer = ask(the_book(), asked, filled)
        except SwardbookError as refusal:
            said, status = in_labels(str(refusal), asked.fields), status_of(refusal)
    if answer is None:
        about = {**about, "said": said, "is_slip": status != 200}
        return render(request, "pages/question.html", about, status=status)
    shown = {
        **about, "is_kept": the_book().store.stamp() != before,
        "blocks": _blocks(answer, asked), "pictures": answer.pictures,
    }  # fmt: skip
    return show(request, "pages/question.html", shown)


def _blocks(answer: Collected, asked: Question) -> list[Block]:
    lines = without_asking(answer.lines) if asked.words == NAMES_A_PLANT else answer.lines
    return blocks_of(lines, the_units(), asked.fields)


def _about(request: HttpRequest, asked: Question, filled: Filled) -> dict[str, Any]:
    zones, units = zone_names(), the_units()
    fields = [
        (asked_in_units(each, units), _typed(each, filled, units),
         zones if each.sort is Sort.ZONE else ())
        for each in asked.fields
    ]  # fmt: skip
    about: dict[str, Any] = {
        "asked": asked,
        "filled": filled,
        "query": request.GET.urlencode(),
        "is_open": asked.needs_something or not filled.is_blank,
    }
    if has_own(asked):
        own = own_fields(the_book(), asked, filled.texts, _sent(request), units)
        about["own"] = own
        fields = [each for each in fields if each[0].name != PAIRS]
        fields = [each for each in fields if each[0].name != own.chosen_by or not own.title]
    return {
        **about,
        "fields": fields,
        "needed": [each for each in fields if each[0].is_needed],
        "more": [each for each in fields if not each[0].is_needed],
    }


def _typed(field: Asked, filled: Filled, units: Units) -> str:
    """Give what stands in a field; a number alone of a link is in the command's own unit."""
    text = filled.texts.get(field.name, "")
    return text if is_metric(units) else with_unit(text, field.unit)


def _given(request: HttpRequest) -> QueryDict:
    return request.POST if request.method == "POST" else request.GET


def _sent(request: HttpRequest) -> dict[str, str]:
    given = _given(request)
    return {name: str(given[name]) for name in given}


def _filled(request: HttpRequest, asked: Question, files: dict[str, tuple[Path, ...]]) -> Filled:
    given = _given(request)
    texts = {
        each.name: with_unit(
            "\n".join(given.getlist(each.name))[:20_000], given.get(f"{UNIT}{each.name}", "")[:20]
        )
        for each in asked.fields
        if each.sort is not Sort.FILE and given.get(each.name)
    }
    if has_own(asked) and is_sent(given):
        sent = _sent(request)
        own = own_fields(the_book(), asked, texts, sent, the_units())
        texts[PAIRS] = pairs_of(own, sent, asked)
    return Filled(texts, files)


@contextmanager
def _files(request: HttpRequest, asked: Question) -> Iterator[dict[str, tuple[Path, ...]]]:
    """Lay files that were sent into a folder of our own for as long as they are read."""
    with tempfile.TemporaryDirectory() as folder:
        laid: dict[str, tuple[Path, ...]] = {}
        for field in asked.fields:
            sent = request.FILES.getlist(field.name) if field.sort is Sort.FILE else []
            if sum(each.size or 0 for each in sent) > MOST_BYTES:
                raise BadInputError(field.label, _("more"), _("at most 60 MB together"))
            laid[field.name] = tuple(
                _laid(Path(folder), n, each.name or "file", each.read())
                for n, each in enumerate(sent)
            )
        yield laid


def _laid(folder: Path, number: int, name: str, held: bytes) -> Path:
    """Write one file under a name of ours; only the letters of its own name are taken over."""
    stem = "".join(each for each in Path(name).stem if each.isalnum() or each in "-_ ")[:60]
    ending = "".join(each for each in Path(name).suffix.lower() if each.isalnum())[:8]
    own = folder / str(number)
    own.mkdir()
    path = own / f"{stem.strip() or 'file'}{'.' + ending if ending else ''}"
    path.write_bytes(held)
    return path


PAGES = (
    Page("ask/", every, "ask", Role.READER, title="Every question", shelf=Shelf.BOOK,
         says="All that the book can work out, keep or show, by what it is about."),
    Page("ask/<path:path>/paper/", paper, "file-ask", Role.READER),
    Page("ask/<path:path>/", question, "question", Role.READER, ("GET", "POST"),
         sees=seen_in, example={"path": "clock"}),
)  # fmt: skip
