"""All lawns of the book: which needs a look, which is silent, what is due next."""

from __future__ import annotations

from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from swardbook.book import people
from swardbook.book.all_lawns import all_lawns
from swardbook.book.lawns_shown import Narrowed, shown_lawns
from swardbook.web import opened
from swardbook.web.asker import who_asks
from swardbook.web.page import Page, Role, Shelf

FIELDS = ("q", "stage", "who", "due")


@require_safe
def lawns(request: HttpRequest) -> HttpResponse:
    """List the grounds that whoever asks may see, that which most needs a look first."""
    asked = {name: request.GET.get(name, "").strip()[:80] for name in FIELDS}
    number = request.GET.get("page", "")
    shown = shown_lawns(
        all_lawns(opened.any_book()),
        Narrowed(asked["q"], asked["stage"], asked["who"], asked["due"]),
        int(number) if number.isascii() and number.isdigit() and len(number) < 7 else 1,
        grounds_seen(request),
    )
    outside_a_lawn(request)
    query = urlencode({name: said for name, said in asked.items() if said})
    narrowed = [
        ("stage", shown.stages, asked["stage"]), ("who", shown.people, asked["who"]),
        ("due", shown.dues, asked["due"]),
    ]  # fmt: skip
    about = {
        "shown": shown, "asked": asked, "query": f"{query}&" if query else "",
        "narrowed": narrowed, "is_all": not query,
        "may_put_together": who_asks(request).role >= Role.OWNER,
    }  # fmt: skip
    return render(request, "pages/lawns.html", about)


def grounds_seen(request: HttpRequest, role: Role = Role.READER) -> frozenset[str] | None:
    """Give the grounds on which whoever asks is at least something.

    Parameters
    ----------
    request : HttpRequest
        What was asked.
    role : Role
        The least they are to be.

    Returns
    -------
    frozenset of str or None
        Short names; None for whoever sits at the machine that holds the book: all.
    """
    asker = who_asks(request)
    if asker.by == "own machine":
        return None
    roles = people.roles_of(opened.any_book(), asker.name) if asker.name else {}
    seen = frozenset(slug for slug, word in roles.items() if Role[word.upper()] >= role)
    return seen & {opened.whichever_book().store.slug()} if asker.by == "token" else seen


def outside_a_lawn(request: HttpRequest) -> None:
    """Leave the frame of a ground out where several are there and none is meant."""
    if opened.has_several():
        request.without_book = True  # type: ignore[attr-defined]


PAGES = (
    Page("all-lawns/", lawns, "all-lawns", Role.READER, title="All lawns", shelf=Shelf.BOOK,
         says="Every ground of the book, that which most needs a look first."),
)  # fmt: skip
