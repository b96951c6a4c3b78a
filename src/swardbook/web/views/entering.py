"""Coming in and going out: log-in, log-out, one's own password."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.middleware.csrf import rotate_token
from django.shortcuts import redirect, render
from django.utils.http import url_has_allowed_host_and_scheme
from django.utils.translation import gettext

from swardbook.book import people
from swardbook.foundation.errors import SwardbookError
from swardbook.web.asker import address_of, drop_session, keep_session, served, who_asks
from swardbook.web.gate import FIRST, LOG_IN, PASSWORD
from swardbook.web.guarding import status_of
from swardbook.web.opened import clock_now, whichever_book
from swardbook.web.page import Page, Role, Shelf

_WRONG, _WAIT = 403, 429


def log_in(request: HttpRequest) -> HttpResponseBase:
    """Let somebody in by name and password."""
    to = own_path(request.POST.get("to", request.GET.get("to", "")))
    asker = who_asks(request)
    if asker.by == "own machine" or (asker.by == "session" and request.method != "POST"):
        return redirect(to)
    if not people.has_owner(whichever_book()):
        return redirect(FIRST)
    said, status = "", 200
    if request.method == "POST":
        try:
            return _in(request, to)
        except people.WaitError as wait:
            said, status = str(wait), _WAIT
        except people.WrongLogInError as wrong:
            said, status = str(wrong), _WRONG
    about = {"said": said, "to": to, "name": request.POST.get("name", "")}
    response = render(request, "pages/log_in.html", about, status=status)
    response.headers["Referrer-Policy"] = "same-origin"
    return response


def _in(request: HttpRequest, to: str) -> HttpResponseBase:
    """Begin a session under a token that nobody knew before, and forget the one there was."""
    found = people.log_in(
        whichever_book(), request.POST.get("name", ""), request.POST.get("password", ""),
        address_of(request), clock_now(),
    )  # fmt: skip
    drop_session(request)
    rotate_token(request)
    response = redirect(PASSWORD if found.person.must_change else to)
    keep_session(response, found.token)
    return response


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
                sent.get("again", ""), clock_now(),
            )  # fmt: skip
        except people.WrongLogInError:
            said, status = gettext("The password so far is another one."), _WRONG
        except people.WaitError as wait:
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
    Page("log-out/", log_out, "log-out", Role.STRANGER, ("POST",)),
    Page("logged-out/", logged_out, "logged-out", Role.STRANGER),
    Page("password/", password, PASSWORD, Role.READER, _FORM, title="Your password",
         says="Choose another; every other log-in of yours ends.", shelf=Shelf.BOOK),
)  # fmt: skip
