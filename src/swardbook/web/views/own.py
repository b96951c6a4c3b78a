"""One's own account: phones that are logged in, the second factor, and using an invitation."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.middleware.csrf import rotate_token
from django.shortcuts import redirect, render
from django.utils.translation import gettext

from swardbook.book import inviting, people, phones, second_factor
from swardbook.book.waits import WaitError
from swardbook.foundation.errors import BadInputError, SwardbookError
from swardbook.web import opened
from swardbook.web.asker import address_of, cookie_name, drop_session, keep_session, who_asks
from swardbook.web.guarding import status_of
from swardbook.web.page import Page, Role, Shelf
from swardbook.web.views.entering import device

_WRONG, _WAIT = 403, 429


def own_phones(request: HttpRequest) -> HttpResponseBase:
    """List where somebody is logged in themselves; end one, or all others."""
    asker, said, status = who_asks(request), "", 200
    book, token = opened.whichever_book(), request.COOKIES.get(cookie_name(), "")
    if request.method == "POST" and asker.by == "session":
        try:
            text = request.POST.get("phone", "")
            if request.POST.get("do") == "others":
                phones.end_other_phones(book, asker.name, token)
            else:
                key = int(text) if text.isdecimal() and len(text) < 16 else 0
                phones.end_own_phone(book, asker.name, key)
        except SwardbookError as refusal:
            said, status = str(refusal), status_of(refusal)
        else:
            return redirect("own-phones")
    found = (
        phones.own_phones(book, asker.name, opened.clock_now(), token)
        if asker.by == "session"
        else ()
    )
    about = {"phones": found, "said": said}
    return render(request, "pages/own_phones.html", about, status=status)


def own_second_factor(request: HttpRequest) -> HttpResponseBase:
    """Set up a second factor, renew its recovery codes, or end it; by the password each time."""
    asker, book = who_asks(request), opened.whichever_book()
    about: dict[str, Any] = {"said": ""}
    status = 200
    if request.method == "POST" and asker.by == "session":
        try:
            found = _changed(request, asker.name)
        except people.WrongLogInError:
            about["said"], status = gettext("The password is another one."), _WRONG
        except WaitError as wait:
            about["said"], status = str(wait), _WAIT
        except SwardbookError as refusal:
            about["said"], status = str(refusal), status_of(refusal)
        else:
            if not found:
                return redirect("second-factor")
            about |= found
    if asker.by == "session":
        about["second"] = second_factor.standing(book, asker.name)
        about["is_begun"] = request.POST.get("do") == "on"
    return render(request, "pages/second_factor.html", about, status=status)


def _changed(request: HttpRequest, name: str) -> dict[str, Any]:
    """Do what was asked; gives what is shown once."""
    sent, book, now = request.POST, opened.whichever_book(), opened.clock_now()
    password, wanted = sent.get("password", ""), sent.get("do", "")
    if wanted == "begin":
        return {"begun": second_factor.begin(book, name, password, now)}
    if wanted == "on":
        return {"codes": second_factor.turn_on(book, name, sent.get("code", "")[:60], now)}
    if wanted == "codes":
        return {"codes": second_factor.renew_recovery(book, name, password, now)}
    if wanted == "end":
        second_factor.end_own(book, name, password, now)
        return {}
    raise BadInputError(gettext("the form"), gettext("another"), gettext("one of this page"))


def join(request: HttpRequest) -> HttpResponseBase:
    """Use an invitation: with a new name and password, or with the account that is logged in."""
    asker, said, status = who_asks(request), "", 200
    if asker.by in {"own machine", "token"}:
        return redirect("morning")
    if request.method == "POST":
        try:
            return _joined(request)
        except WaitError as wait:
            said, status = str(wait), _WAIT
        except inviting.NoInvitationError as refusal:
            said, status = str(refusal), _WRONG
        except SwardbookError as refusal:
            said, status = str(refusal), status_of(refusal)
    about = {"said": said, "typed": request.POST, "least": people.LEAST_SIGNS,
             "me": asker.name if asker.by == "session" else ""}  # fmt: skip
    response: HttpResponse = render(request, "pages/join.html", about, status=status)
    response.headers["Referrer-Policy"] = "no-referrer"
    return response


def _joined(request: HttpRequest) -> HttpResponseBase:
    sent, book, asker = request.POST, opened.any_book(), who_asks(request)
    code, address, now = sent.get("code", "")[:60], address_of(request), opened.clock_now()
    if asker.by == "session":
        joined = inviting.join_as(book, code, asker.name, address, now)
    else:
        if sent.get("password", "") != sent.get("again", ""):
            raise BadInputError(
                gettext("the password"), gettext("two that differ"), gettext("the same twice")
            )
        account = (sent.get("name", ""), sent.get("initials", ""), sent.get("password", ""))
        joined = inviting.join(book, code, account, address, now, device(request))
    several = len(book.store.grounds()) > 1
    response = redirect(f"/at/{joined.ground}/" if several else "morning")
    if joined.logged_in is not None:
        drop_session(request)
        rotate_token(request)
        keep_session(response, joined.logged_in.token)
    return response


_FORM = ("GET", "POST")
PAGES = (
    Page("phones/", own_phones, "own-phones", Role.READER, _FORM, title="Where you are logged in",
         says="Every phone and desk of yours; end one that is lost.", shelf=Shelf.BOOK),
    Page("second-factor/", own_second_factor, "second-factor", Role.READER, _FORM,
         title="Second factor", says="A code from your phone beside the password.",
         shelf=Shelf.BOOK),
    Page(inviting.PATH, join, "join", Role.STRANGER, _FORM),
)  # fmt: skip
