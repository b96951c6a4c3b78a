"""What was done or seen: written down in a few taps, and taken back while it is fresh."""

from __future__ import annotations

from uuid import UUID, uuid4

from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from swardbook.book import diary
from swardbook.book.fields import read_kind, with_fields
from swardbook.book.opening import Book, privately
from swardbook.book.pictures_in import attached
from swardbook.foundation.errors import BadInputError, SwardbookError
from swardbook.husbandry.attachments import Attachment
from swardbook.husbandry.codec import plain_happening
from swardbook.husbandry.happenings import Cut, Happening
from swardbook.web.at_hand import the_ground, the_units
from swardbook.web.forms import FORMS, filled, form_of, in_units_of, with_ground
from swardbook.web.guarding import status_of
from swardbook.web.opened import the_book
from swardbook.web.page import Page, Role, Shelf


@require_safe
def choose(request: HttpRequest) -> HttpResponse:
    """Offer what can be written down here."""
    return render(request, "pages/done.html", {"forms": FORMS})


@require_http_methods(["GET", "HEAD", "POST"])
def cut(request: HttpRequest) -> HttpResponseBase:
    """Write a cut down: one tap on a zone's button, at its usual height."""
    if request.method != "POST":
        buttons = [(zone, uuid4(), uuid4()) for zone in the_ground().zones]
        return render(request, "pages/cut.html", {"buttons": buttons})
    book = the_book()
    typed = filled(FORMS["cut"], request.POST)
    return _keep(book, with_fields(Cut(), typed, book.today), request)


@require_http_methods(["GET", "HEAD", "POST"])
def entry(request: HttpRequest, kind: str) -> HttpResponseBase:
    """Write something else down."""
    book, name = the_book(), kind.replace("-", " ")
    form = FORMS.get(kind) or FORMS.get(name) or FORMS.get(read_kind(name).kind)
    if form is None:
        return redirect("done")
    form = with_ground(form, [lot.code for lot in the_ground().lots])
    form = in_units_of(form, the_units())
    said = ""
    if request.method == "POST":
        try:
            typed = filled(form, request.POST)
            return _keep(book, with_fields(read_kind(form.kind)(), typed, book.today), request)
        except SwardbookError as refusal:
            said, status = str(refusal), status_of(refusal)
    about = {
        "form": form, "zones": the_ground().zones, "id": request.POST.get("id") or uuid4(),
        "said": said, "typed": request.POST, "when": request.POST.get("when", "today"),
    }  # fmt: skip
    return render(request, "pages/entry.html", about, status=status if said else 200)


@require_safe
def kept(request: HttpRequest, entry: UUID) -> HttpResponse:
    """Show what was kept, what looks odd in it, and the pictures and voice notes beside it."""
    book = the_book()
    found = diary.find(book, entry)
    own = [found] if isinstance(found.what, Attachment) else []
    about = {
        "entry": found, "told": told(found.what), "form": form_of(found.what),
        "attached": (*own, *attached(book, of=entry)),
    }  # fmt: skip
    return render(request, "pages/kept.html", about)


@require_POST
def take_back(request: HttpRequest, entry: UUID) -> HttpResponse:
    """Take an entry back; it stays in the diary as taken back."""
    diary.withdraw(the_book(), entry, "Taken back on the page where it was written.")
    return render(request, "pages/taken_back.html")


def told(what: Happening) -> list[tuple[str, str]]:
    """List the fields of a happening that were said, by their label and value."""
    form = form_of(what)
    plain = plain_happening(what)
    fields = form.fields if form else ()
    return [
        (field.label, field.say(plain[field.name]))
        for field in fields
        if plain.get(field.name) not in (None, "")
    ]


def _keep(book: Book, what: Happening, request: HttpRequest) -> HttpResponse:
    """Write an entry under the id that its form was given, so that sending twice keeps one."""
    number, words = diary.read_alike(request.POST.get("when", "today"))
    with privately(request.POST.get("private") == "yes"):
        entry = diary.write(
            book, what, diary.read_past(words, book.today), zone=request.POST.get("zone", ""),
            who=request.POST.get("who", ""), note=request.POST.get("note", ""), number=number,
            id=_id_of(request.POST.get("id", "")),
        )  # fmt: skip
    return redirect(reverse("kept", args=[entry.id]))


def _id_of(text: str) -> UUID | None:
    try:
        return UUID(text) if text else None
    except ValueError:
        raise BadInputError("the form's id", text, "the one the page gave it") from None


_WORK = ("GET", "POST")
PAGES = (
    Page("done/", choose, "done", Role.WORKER, title="Write something down", shelf=Shelf.LAWN,
         offline=True, says="A cut, a verticut, water, frost, heads, a job held off."),
    Page("done/cut/", cut, "cut", Role.WORKER, _WORK, offline=True),
    Page("done/kept/<uuid:entry>/", kept, "kept", Role.WORKER),
    Page("done/take-back/<uuid:entry>/", take_back, "take-back", Role.WORKER, ("POST",)),
    Page("done/<str:kind>/", entry, "entry", Role.WORKER, _WORK, example={"kind": "water"}),
)  # fmt: skip
