"""What people left behind, and who saw and did what: for owners."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_safe

from swardbook.book import leaving
from swardbook.book.letting_days import LEFT_BEHIND, days
from swardbook.book.who_did_what import who_did_what
from swardbook.foundation.errors import BadInputError, SwardbookError
from swardbook.web.guarding import status_of
from swardbook.web.opened import clock_now, the_book
from swardbook.web.page import Page, Role, Shelf

_MOST_AT_ONCE = 100


def left_behind(request: HttpRequest) -> HttpResponseBase:
    """Show what came from people who had left; take it in, or leave it out."""
    said, status = "", 200
    if request.method == "POST":
        try:
            _decide(request)
        except SwardbookError as refusal:
            said, status = str(refusal), status_of(refusal)
        else:
            return redirect("left-behind")
    book = the_book()
    about = {
        "waiting": leaving.left_behind(book), "decided": leaving.decided_lately(book),
        "said": said, "days": days(book, LEFT_BEHIND).days,
    }  # fmt: skip
    return render(request, "pages/left_behind.html", about, status=status)


def _decide(request: HttpRequest) -> None:
    sent, book, now = request.POST, the_book(), clock_now()
    if sent.get("do") == "all":
        for each in leaving.left_behind(book)[:_MOST_AT_ONCE]:
            leaving.take_left_in(book, each.left.key, now)
        return
    text = sent.get("left", "")
    key = int(text) if text.isdecimal() and len(text) < 16 else 0
    if sent.get("do") == "take-in":
        leaving.take_left_in(book, key, now)
    elif sent.get("do") == "leave-out":
        leaving.leave_out(book, key, now)
    else:
        raise BadInputError(gettext("the form"), gettext("another"), gettext("one of this page"))


@require_safe
def record(request: HttpRequest) -> HttpResponse:
    """Show who saw and did what, the newest first."""
    text = request.GET.get("before", "")
    before = int(text) if text.isdecimal() and len(text) < 16 else 0
    about = {"record": who_did_what(the_book(), before), "before": before}
    return render(request, "pages/people_record.html", about)


PAGES = (
    Page("people/left-behind/", left_behind, "left-behind", Role.OWNER, ("GET", "POST"),
         sees="what people left behind"),
    Page("people/record/", record, "people-record", Role.OWNER, title="Who saw and did what",
         sees="the record of people", shelf=Shelf.BOOK,
         says="Log-ins, access given and ended, what was taken out; for owners."),
)  # fmt: skip
