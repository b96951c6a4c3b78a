"""The first page of all: the owner's account, where others are let in, and the first ground."""

from __future__ import annotations

import hmac
import os
from typing import Any

from django.http import HttpRequest, HttpResponseBase, QueryDict
from django.middleware.csrf import rotate_token
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from swardbook.book import beginning, people
from swardbook.book.beginning import Account
from swardbook.foundation.asked_units import asked_in, with_unit
from swardbook.foundation.errors import BadInputError, SwardbookError
from swardbook.foundation.units import read_units
from swardbook.settings import read_settings
from swardbook.web import opened
from swardbook.web.asker import address_of, keep_session, served, who_asks
from swardbook.web.forms import UNIT
from swardbook.web.gate import FIRST
from swardbook.web.guarding import status_of
from swardbook.web.page import Page, Role

UNITS = (
    ("metric", _("Metric")), ("imperial", _("Imperial")), ("us", _("United States")),
)  # fmt: skip
_HELD = {"elevation": "m", "size": "m²", "height": "mm"}
"""Fields with a unit, and the one that they are held in."""
_NOW_THERE = {"with_account": False, "with_ground": False}


def begin(request: HttpRequest) -> HttpResponseBase:
    """Begin: make the account that is lacking, and the ground that is lacking."""
    lacks = _lacking()
    if not any(lacks.values()):
        return redirect("morning")
    request.without_book = True  # type: ignore[attr-defined]
    said, status = "", 200
    if request.method == "POST":
        try:
            return _begun(request, **lacks)
        except SwardbookError as refusal:
            said, status = str(refusal), status_of(refusal)
    first, others = beginning.first_cautions()
    about = {
        **lacks, "unit_choices": UNITS, "said": said, "typed": request.POST,
        "uses": beginning.USES, "cautions": first, "more_cautions": others,
        "least": people.LEAST_SIGNS, **_units_asked(request.POST),
    }  # fmt: skip
    return render(request, "pages/begin.html", about, status=status)


def _units_asked(sent: QueryDict) -> dict[str, Any]:
    """Give the unit that stands beside each field, and what it would be in each way of measuring.

    What was sent stays as it was sent: a number alone goes with the unit that stood beside it.
    """
    ways = {name: [(word, asked_in(held, read_units(word))) for word, _word in UNITS]
            for name, held in _HELD.items()}  # fmt: skip
    asked = {name: sent.get(f"{UNIT}{name}", "")[:20] or held for name, held in _HELD.items()}
    return {"ways": ways, "asked": asked}


def _lacking() -> dict[str, bool]:
    if not opened.is_begun():
        return {"with_account": served().to_others, "with_ground": True}
    if served().to_others and not people.has_owner(opened.any_book()):
        return {"with_account": True, "with_ground": False}
    return _NOW_THERE


def _begun(request: HttpRequest, with_account: bool, with_ground: bool) -> HttpResponseBase:
    sent, now = request.POST, opened.clock_now()
    account = None
    if with_account:
        _require_code(sent.get("code", ""))
        account = Account(
            *(sent.get(name, "") for name in ("name", "initials", "password", "again"))
        )
    elif who_asks(request).role < Role.OWNER:
        raise BadInputError("the page", "another machine", "the machine that holds the book")
    if with_ground:
        typed = {name: with_unit(sent.get(name, ""), sent.get(f"{UNIT}{name}", "")[:20])
                 for name in beginning.FIELDS}  # fmt: skip
        settings = read_settings(os.environ)
        beginning.begin_ground(settings, opened.clock_today, typed, account, now).store.close()
    elif account is not None:
        beginning.make_owner(opened.any_book(), account, now)
    response = redirect("morning")
    if account is not None:
        book = opened.any_book()
        found = people.log_in(book, account.name, account.password, address_of(request), now)
        rotate_token(request)
        keep_session(response, found.token)
    return response


def _require_code(typed: str) -> None:
    plain = "".join(filter(str.isalpha, typed.casefold()))
    code = served().code.replace("-", "")
    if not code or not hmac.compare_digest(plain.encode(), code.encode()):
        raise BadInputError(
            gettext("The code"),
            typed,
            gettext("the code that `swardbook serve` has printed on its terminal"),
        )


PAGES = (Page("begin-here/", begin, FIRST, Role.STRANGER, ("GET", "POST")),)
