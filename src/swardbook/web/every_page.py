"""What the frame of every page shows."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest
from django.middleware.csrf import get_token

from swardbook.book.checking import only_read
from swardbook.book.units import shown_in
from swardbook.web.asker import known_asker
from swardbook.web.opened import the_book
from swardbook.web.page import Role
from swardbook.web.remembering import remembered


def of_every_page(request: HttpRequest) -> dict[str, Any]:
    """Give every page what its frame shows: the site, the day, whether it is made up."""
    if "CSRF_COOKIE" not in request.META:
        get_token(request)  # sets the cookie, so that what was written without signal can be sent
    asker = known_asker(request)
    about: dict[str, Any] = {"asker": asker, "is_outside": asker.role < Role.READER}
    if getattr(request, "without_book", False) or about["is_outside"]:
        return about
    site_name, shown = remembered(
        "frame", lambda book: (book.ground().site.name, shown_in(book.settings, book))
    )
    return {
        **about, "book": the_book(), "site_name": site_name, "units": shown,
        "may_write": asker.role >= Role.WORKER, "only_read": only_read(the_book()),
    }  # fmt: skip
