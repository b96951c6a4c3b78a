"""What every answer carries, and how refusals are shown."""

from __future__ import annotations

import re
from collections.abc import Callable

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.urls import get_script_prefix, set_script_prefix
from django.utils.translation import gettext

from swardbook.book.all_lawns import remember_if_written
from swardbook.book.opening import WhichGroundError, only_looking
from swardbook.foundation.errors import (
    BadInputError,
    NotEnoughDataError,
    OutOfRangeError,
    SwardbookError,
    UnknownNameError,
)
from swardbook.web import opened
from swardbook.web.page import Page, is_for_programs

Answer = Callable[[HttpRequest], HttpResponse]
_AT = re.compile(r"/at/([\w-]+)(/.*)$")
POLICY = "; ".join(
    (
        "default-src 'none'", "style-src 'self'", "script-src 'self'",
        "img-src 'self' data: blob:", "media-src 'self' blob:",
        "font-src 'self'", "connect-src 'self'", "worker-src 'self'", "manifest-src 'self'",
        "form-action 'self'", "base-uri 'none'", "frame-ancestors 'none'",
    )
)  # fmt: skip
"""Nothing comes from elsewhere, and nothing goes there."""


def with_policy(answer: Answer) -> Answer:
    """Let no page load anything from outside the machine."""

    def guarded(request: HttpRequest) -> HttpResponse:
        response = answer(request)
        response.headers.setdefault("Content-Security-Policy", POLICY)
        response.headers.setdefault(
            "Permissions-Policy", "camera=(self), geolocation=(self), microphone=(self)"
        )
        if response.headers.get("Content-Type", "").startswith("text/html"):
            response.headers.setdefault("Cache-Control", "no-store")
        return response

    return guarded


class with_ground:  # noqa: N801 - a middleware is named as a function and called as one
    """Take the ground off the front of an address: ``/at/<ground>/`` stands before its pages."""

    def __init__(self, answer: Answer) -> None:
        self._answer = answer

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Answer about the ground that is named; addresses made inside lead to it."""
        found = _AT.match(request.path_info)
        if found is None:
            return self._answer(request)
        before = get_script_prefix()
        request.path_info = found[2]
        set_script_prefix(f"/at/{found[1]}/")
        try:
            with opened.at_ground(found[1]):
                return self._answer(request)
        finally:
            set_script_prefix(before)


def with_looking(answer: Answer) -> Answer:
    """Let nothing be written into a book while a page is only looked at."""

    def looking(request: HttpRequest) -> HttpResponse:
        if request.method not in {"GET", "HEAD", "OPTIONS"}:
            return _written(answer, request)
        with only_looking(), opened.standing_still():
            return answer(request)

    return looking


def _written(answer: Answer, request: HttpRequest) -> HttpResponse:
    """Answer what may write, and look the ground over again where there are several."""
    if not opened.ground_asked():
        return answer(request)
    try:
        before = opened.the_book().store.writes()
    except SwardbookError:
        return answer(request)
    response = answer(request)
    remember_if_written(opened.the_book(), before)
    return response


def with_keys(answer: Answer) -> Answer:
    """Ask no form's token of a program that sends its key: no browser sends that by itself."""

    def known(request: HttpRequest) -> HttpResponse:
        if request.headers.get("Authorization", "").casefold().startswith("bearer "):
            request._dont_enforce_csrf_checks = True  # type: ignore[attr-defined]
        return answer(request)

    return known


def status_of(refusal: SwardbookError) -> int:
    """Choose the status: 200 not enough data, 404 unknown name, 422 bad input, 409 the rest."""
    if isinstance(refusal, NotEnoughDataError):
        return 200
    if isinstance(refusal, UnknownNameError):
        return 404
    return 422 if isinstance(refusal, BadInputError | OutOfRangeError) else 409


def in_json(refusal: SwardbookError) -> JsonResponse:
    """Refuse in JSON; not enough data is an answer, and says what is needed."""
    if isinstance(refusal, NotEnoughDataError):
        told = {
            "question": refusal.question, "needs": refusal.needed, "there_is": refusal.found,
        }  # fmt: skip
        return JsonResponse({"not_enough_data": told, "refusals": [str(refusal)]})
    return JsonResponse({"refusal": str(refusal)}, status=status_of(refusal))


def page_asked(request: HttpRequest) -> Page | None:
    """Give the page that is asked for."""
    found = request.resolver_match
    return getattr(found.func, "page", None) if found else None


class with_refusals:  # noqa: N801 - a middleware is named as a function and called as one
    """Show a refusal as a page of its own: what was read, what is allowed, the likely slip."""

    def __init__(self, answer: Answer) -> None:
        self._answer = answer

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Answer as asked."""
        return self._answer(request)

    def process_exception(self, request: HttpRequest, refusal: Exception) -> HttpResponse | None:
        """Turn a refusal of ours into its page; anything else is a fault and stays one."""
        if not isinstance(refusal, SwardbookError):
            return None
        page = page_asked(request)
        if page is not None and is_for_programs(page):
            return in_json(refusal)
        if isinstance(refusal, WhichGroundError):
            return redirect("all-lawns")
        return refused(request, str(refusal), status_of(refusal))


def refused(request: HttpRequest, sentence: str, status: int) -> HttpResponse:
    """Show one sentence that says why not, in a frame that needs no book."""
    request.without_book = True  # type: ignore[attr-defined]
    head = gettext("Not enough data yet") if status == 200 else gettext("Not done")
    return render(
        request, "pages/refused.html", {"head": head, "sentence": sentence}, status=status
    )


def form_too_old(request: HttpRequest, reason: str = "") -> HttpResponse:
    """Say that a form was too old to trust; nothing was kept."""
    del reason
    return refused(
        request,
        gettext(
            "This form and this browser do not belong together any more, so nothing was kept."
            " Go back, load the page again and send it once more."
        ),
        403,
    )
