"""Coming in and going out: log-in, log-out, one's own password."""

from __future__ import annotations

from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.middleware.csrf import rotate_token
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme
from django.utils.translation import gettext

from swardbook.book import people, second_factor
from swardbook.book.checking import only_read
from swardbook.book.phones import device_of
from swardbook.book.waits import WaitError
from swardbook.foundation.errors import SwardbookError
from swardbook.web.asker import (
    address_of,
    drop_half,
    drop_session,
    half_cookie_name,
    keep_half,
    keep_session,
    served,
    who_asks,
)
from swardbook.web.gate import FIRST, LOG_IN, PASSWORD
from swardbook.web.guarding import status_of
from swardbook.web.opened import clock_now, whichever_book
from swardbook.web.page import Page, Role, Shelf

_WRONG, _WAIT, _DAMAGED = 403, 429, 503


def log_in(request: HttpRequest) -> HttpResponseBase:
    """Let somebody in by name and password."""
    to = own_path(request.POST.get("to", request.GET.get("to", "")))
    asker = who_asks(request)
    if asker.by == "own machine" or (asker.by == "session" and request.method != "POST"):
        return redirect(to)
    if not people.has_owner(whichever_book()):
        return redirect(FIRST)
    if only_read(whichever_book()):
        return render(request, "pages/log_in.html", {"is_damaged": True}, status=_DAMAGED)
    said, status = "", 200
    if request.method == "POST":
        try:
            return _in(request, to)
        except WaitError as wait:
            said, status = str(wait), _WAIT
        except people.WrongLogInError as wrong:
            said, status = str(wrong), _WRONG
    about = {"said": said, "to": to, "name": request.POST.get("name", "")}
    response = render(request, "pages/log_in.html", about, status=status)
    response.headers["Referrer-Policy"] = "same-origin"
    return response


def _in(request: HttpRequest, to: str) -> HttpResponseBase:
    """Begin a session, or ask for the second factor first."""
    found = people.log_in(
        whichever_book(), request.POST.get("name", ""), request.POST.get("password", ""),
        address_of(request), clock_now(), device(request),
    )  # fmt: skip
    if found.is_half:
        response = redirect(f"{reverse('log-in-code')}?{urlencode({'to': to})}")
        keep_half(response, found.token)
        return response
    return let_in(request, found, to)


def let_in(request: HttpRequest, found: people.LoggedIn, to: str) -> HttpResponseBase:
    """Begin a session under a token that nobody knew before, and forget the one there was."""
    drop_session(request)
    rotate_token(request)
    response = redirect(PASSWORD if found.person.must_change else to)
    keep_session(response, found.token)
    return response


def log_in_code(request: HttpRequest) -> HttpResponseBase:
    """Ask whoever gave the right password for the code on their phone."""
    to = own_path(request.POST.get("to", request.GET.get("to", "")))
    half, book = request.COOKIES.get(half_cookie_name(), ""), whichever_book()
    if only_read(book) or second_factor.waits_for_code(book, half, clock_now()) is None:
        return redirect(LOG_IN)
    said, status = "", 200
    if request.method == "POST":
        try:
            found = second_factor.finish_log_in(
                book, half, request.POST.get("code", "")[:60], address_of(request), clock_now(),
                device(request),
            )  # fmt: skip
        except WaitError as wait:
            said, status = str(wait), _WAIT
        except SwardbookError as refusal:
            said, status = str(refusal), _WRONG
        else:
            response = let_in(request, found, to)
            drop_half(response)
            return response
    return render(request, "pages/log_in_code.html", {"said": said, "to": to}, status=status)


def device(request: HttpRequest) -> str:
    """Name the phone or desk that asks, in a few words."""
    return device_of(request.headers.get("User-Agent", ""))


def log_out(request: HttpRequest) -> HttpResponseBase:
    """End the session; what waits on the phone stays there until its owner comes back."""
    response = redirect("logged-out")
    drop_session(request, response)
    return response


def logged_out(request: HttpRequest) -> HttpResponse:
    """Say so, and let go of the pages that were kept on the phone."""
    response = render(request, "pages/logged_out.html")
    response.headers["Clear-Site-Data"] = '"cache"'
    return response


def password(request: HttpRequest) -> HttpResponseBase:
    """Choose a password of one's own; every other log-in of theirs ends."""
    asker, sent = who_asks(request), request.POST
    said, status = "", 200
    if request.method == "POST" and asker.by == "session":
        try:
            found = people.change_password(
                whichever_book(), asker.name, sent.get("old", ""), sent.get("new", ""),
                sent.get("again", ""), clock_now(), device(request),
            )  # fmt: skip
        except people.WrongLogInError:
            said, status = gettext("The password so far is another one."), _WRONG
        except WaitError as wait:
            said, status = str(wait), _WAIT
        except SwardbookError as refusal:
            said, status = str(refusal), status_of(refusal)
        else:
            rotate_token(request)
            response = redirect("morning")
            keep_session(response, found.token)
            return response
    about = {"said": said, "asker": asker, "least": people.LEAST_SIGNS}
    return render(request, "pages/password.html", about, status=status)


def own_path(text: str) -> str:
    """Give a path of these pages as it is; anything else is the morning look."""
    is_ours = text.startswith("/") and url_has_allowed_host_and_scheme(
        text, allowed_hosts=None, require_https=served().has_tls
    )
    return text if is_ours else "/"


_FORM = ("GET", "POST")
PAGES = (
    Page("log-in/", log_in, LOG_IN, Role.STRANGER, _FORM),
    Page("log-in/code/", log_in_code, "log-in-code", Role.STRANGER, _FORM),
    Page("log-out/", log_out, "log-out", Role.STRANGER, ("POST",)),
    Page("logged-out/", logged_out, "logged-out", Role.STRANGER),
    Page("password/", password, PASSWORD, Role.READER, _FORM, title="Your password",
         says="Choose another; every other log-in of yours ends.", shelf=Shelf.BOOK),
)  # fmt: skip
