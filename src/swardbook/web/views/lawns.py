"""All lawns of the book: which needs a look, which is silent, what is due next."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from swardbook.book import people
from swardbook.book.all_lawns import Lawn, all_lawns
from swardbook.web import opened
from swardbook.web.asker import who_asks
from swardbook.web.page import Page, Role, Shelf


@require_safe
def lawns(request: HttpRequest) -> HttpResponse:
    """List the grounds that whoever asks may see, that which most needs a look first."""
    book = opened.any_book()
    found, theirs = all_lawns(book), _theirs(request)
    shown = [each for each in found.lawns if theirs is None or each.slug in theirs]
    word = request.GET.get("q", "").strip()[:80]
    if word:
        shown = [each for each in shown if _fits(each, word.casefold())]
    if opened.has_several():
        request.without_book = True  # type: ignore[attr-defined]
    about = {"lawns": shown, "today": found.today, "asked": word, "is_all": not word}
    return render(request, "pages/lawns.html", about)


def _theirs(request: HttpRequest) -> frozenset[str] | None:
    """Give the grounds that somebody logged in has access to; none: whoever sits at the machine."""
    asker = who_asks(request)
    if asker.by == "own machine":
        return None
    return frozenset(people.roles_of(opened.any_book(), asker.name))


def _fits(lawn: Lawn, word: str) -> bool:
    return word in f"{lawn.name} {lawn.slug} {' '.join(lawn.stages)} {lawn.next_due}".casefold()


PAGES = (
    Page("all-lawns/", lawns, "all-lawns", Role.READER, title="All lawns", shelf=Shelf.BOOK,
         says="Every ground of the book, that which most needs a look first."),
)  # fmt: skip
