"""What a phone keeps for days without signal: which pages, and by what names it says so."""

from __future__ import annotations

from collections.abc import Iterator

from django.http import HttpRequest, JsonResponse
from django.urls import reverse
from django.utils.translation import gettext
from django.views.decorators.http import require_safe

from swardbook.web.asker import who_asks
from swardbook.web.at_hand import zone_names
from swardbook.web.forms import FORMS
from swardbook.web.page import Page, Role, every_page

_OF_ZONE = "<str:zone>"


@require_safe
def kept_pages(request: HttpRequest) -> JsonResponse:
    """List the pages that a phone keeps from the first visit, those that write first."""
    role = who_asks(request).role
    pages = [page for page in every_page() if page.offline and page.role <= role]
    pages.sort(key=lambda page: page.role, reverse=True)
    forms = _forms() if role >= Role.WORKER else ()
    titles = dict([*forms, *_plain(pages), *_of_zones(pages)])
    return JsonResponse({"pages": [{"at": at, "title": title} for at, title in titles.items()]})


def _plain(pages: list[Page]) -> Iterator[tuple[str, str]]:
    for page in pages:
        if _OF_ZONE not in page.route:
            yield reverse(page.name), gettext(page.title or page.name.replace("-", " "))


def _forms() -> Iterator[tuple[str, str]]:
    for form in FORMS.values():
        yield reverse("entry", args=[form.path]), str(form.title)


def _of_zones(pages: list[Page]) -> Iterator[tuple[str, str]]:
    names = zone_names()
    for page in pages:
        if _OF_ZONE in page.route:
            yield from ((reverse(page.name, args=[name]), name) for name in names)


PAGES = (Page("api/kept/", kept_pages, "api-kept", Role.READER),)
