"""The one place where is decided who is answered: every page stands behind it."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import nullcontext
from functools import wraps
from typing import Any
from urllib.parse import quote

from django.http import HttpRequest, HttpResponseBase, JsonResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from swardbook.book.leaving import sends_until
from swardbook.book.opening import for_others, only_looking
from swardbook.book.people import has_owner, writing_as
from swardbook.book.who_did_what import acting_as, tell_saw
from swardbook.web import opened
from swardbook.web.asker import STRANGER, Asker, served, who_asks
from swardbook.web.guarding import form_too_old, page_asked, refused
from swardbook.web.page import Page, Role, is_for_programs

FIRST, LOG_IN, PASSWORD = "begin-here", "log-in", "password"
_TOO_LITTLE = {
    (Role.READER, Role.WORKER): _("You are a reader of this ground; a worker may write in it."),
    (Role.READER, Role.OWNER): _("You are a reader of this ground; this is for its owners."),
    (Role.WORKER, Role.OWNER): _("You are a worker of this ground; this is for its owners."),
}
_WITHOUT_A_BOOK = {FIRST, "worker", "manifest", "api-health"}
_WITH_A_LENT_PASSWORD = {PASSWORD, "log-out", LOG_IN}
_OF_WHO_HAS_LEFT = {"api-entries", "api-files", "api-take-back"}
"""Where what waits on the phone of somebody who has left is taken, and put aside."""


def guarded(page: Page) -> Callable[..., HttpResponseBase]:
    """Put a page behind the gate.

    Parameters
    ----------
    page : Page
        As its room lists it; what is not listed is not there.

    Returns
    -------
    callable
        A view that answers those who may, by the ways listed, and nobody else.
    """

    @wraps(page.view)
    def answer(request: HttpRequest, **parts: Any) -> HttpResponseBase:
        return kept_out(page, request) or _let_in(page, request, parts)

    answer.page = page  # type: ignore[attr-defined]
    return answer


def kept_out(page: Page, request: HttpRequest) -> HttpResponseBase | None:
    """Give the answer to somebody who is not let in; none for those who are."""
    if request.method not in allowed_methods(page):
        response = _no(page, request, gettext("This page is not asked that way."), 405)
        response.headers["Allow"] = ", ".join(allowed_methods(page))
        return response
    if page.name in _WITHOUT_A_BOOK:
        return None
    if not opened.is_begun():
        return _first(page, request)
    asker = who_asks(request)
    if asker.role < page.role and not (asker.has_left and page.name in _OF_WHO_HAS_LEFT):
        return _refused(page, request, asker)
    if asker.must_change and page.name not in _WITH_A_LENT_PASSWORD and page.role > Role.STRANGER:
        said = gettext("First choose a password of your own.")
        return _no(page, request, said, 403) if is_for_programs(page) else redirect(PASSWORD)
    return None


def without_token(request: HttpRequest, reason: str = "") -> HttpResponseBase:
    """Answer what came without the token that pages give; nothing was kept."""
    page = page_asked(request)
    if page is None or not is_for_programs(page):
        return form_too_old(request, reason)
    if (out := kept_out(page, request)) is not None:
        return out
    return _no(page, request, gettext("This came without the token of these pages."), 403)


def allowed_methods(page: Page) -> tuple[str, ...]:
    """List the ways in which a page is asked; whatever is got is also asked about."""
    return (*page.methods, "HEAD") if "GET" in page.methods else page.methods


def _let_in(page: Page, request: HttpRequest, parts: dict[str, Any]) -> HttpResponseBase:
    """Answer; what a reader sends cannot be written into the book, whatever a page does with it."""
    asker = who_asks(request) if opened.is_begun() else STRANGER
    only_reads = page.role > Role.STRANGER and asker.role < Role.WORKER
    signs = "" if asker.has_left else asker.initials
    acts = acting_as(asker.key, asker.by or "stranger")
    told = for_others() if asker.role < Role.WORKER else nullcontext()
    with acts, told, writing_as(signs), only_looking() if only_reads else nullcontext():
        answer = page.view(request, **parts)
    sees = page.sees if isinstance(page.sees, str) else page.sees(**parts)
    if sees and asker.key is not None and answer.status_code == 200:
        tell_saw(opened.the_book(), asker.key, sees, opened.clock_now())
    return answer


def not_there(request: HttpRequest, exception: Exception) -> HttpResponseBase:
    """Say that there is no page at an address."""
    del exception
    return refused(request, gettext("There is no page at this address."), 404)


def _refused(page: Page, request: HttpRequest, asker: Asker) -> HttpResponseBase:
    if not asker.by and served().to_others and not has_owner(opened.whichever_book()):
        return _first(page, request)
    if not asker.by:
        if is_for_programs(page):
            return _no(page, request, gettext("Nobody is logged in here."), 401)
        back = request.get_full_path() if request.method in {"GET", "HEAD"} else ""
        to = reverse(LOG_IN)
        return redirect(f"{to}?to={quote(back)}" if back not in {"", "/"} else to)
    if asker.has_left and not is_for_programs(page):
        return _left(request, asker)
    if asker.role is Role.STRANGER:
        said = gettext("You have no access to this ground. Its owner can give it to you.")
    else:
        said = str(_TOO_LITTLE[asker.role, page.role])
    return _no(page, request, said, 403)


def _left(request: HttpRequest, asker: Asker) -> HttpResponseBase:
    """Say to somebody who has left that what waits on their phone is still taken, and send it."""
    request.without_book = True  # type: ignore[attr-defined]
    until = sends_until(opened.whichever_book(), asker.key or 0, opened.clock_now())
    return render(request, "pages/left.html", {"until": until}, status=403)


def _first(page: Page, request: HttpRequest) -> HttpResponseBase:
    if is_for_programs(page):
        return _no(page, request, gettext("There is no book here yet."), 409)
    return redirect(FIRST)


def _no(page: Page, request: HttpRequest, said: str, status: int) -> HttpResponseBase:
    if is_for_programs(page):
        return JsonResponse({"refusal": said}, status=status)
    return refused(request, said, status)
