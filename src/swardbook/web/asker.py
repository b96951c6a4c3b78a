"""Who asks: the owner of this machine, somebody logged in, or nobody known."""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from ipaddress import IPv6Address, ip_address

from django.http import HttpRequest, HttpResponseBase

from swardbook.book import people, tokens
from swardbook.book.leaving import sends_until
from swardbook.book.serving import ENVIRONMENT, Served, is_loopback, read_served
from swardbook.book.who_did_what import tell_seen
from swardbook.web import opened
from swardbook.web.page import Role

_FORWARDED = ("HTTP_X_FORWARDED_FOR", "HTTP_FORWARDED", "HTTP_X_FORWARDED_HOST")


@dataclass(frozen=True, slots=True)
class Asker:
    """Who asks for a page.

    Parameters
    ----------
    name : str
        As they log in; empty where nobody is known, and for the owner of this machine.
    initials : str
        What their entries carry.
    role : Role
        What they are to the ground that is asked for.
    by : str
        How they are known: ``session``, ``token``, ``own machine``; empty for a stranger.
    must_change : bool
        Whether their password was chosen by somebody else.
    key : int or None
        Their number in the book; none for a stranger and the owner of this machine.
    has_left : bool
        Whether they had access to this ground, and what waits on their phone is still taken.
    program : str
        What the key is for with which another program asks; empty for a person.
    """

    name: str
    initials: str
    role: Role
    by: str
    must_change: bool = False
    key: int | None = None
    has_left: bool = False
    program: str = ""


STRANGER = Asker("", "", Role.STRANGER, "")
OWN_MACHINE = Asker("", "", Role.OWNER, "own machine")
_read = lru_cache(maxsize=8)(read_served)


def served() -> Served:
    """Give to whom pages are served: what the server's process was told."""
    return _read(os.environ.get(ENVIRONMENT, ""))


def who_asks(request: HttpRequest) -> Asker:
    """Tell who asks; worked out once for a request.

    Parameters
    ----------
    request : HttpRequest
        What was asked.

    Returns
    -------
    Asker
        By the first of `WAYS` that knows them, else a stranger.
    """
    known: Asker | None = getattr(request, "asker", None)
    if known is None:
        known = next((found for way in WAYS if (found := way(request))), STRANGER)
        request.asker = known  # type: ignore[attr-defined]
    return known


def known_asker(request: HttpRequest) -> Asker:
    """Tell who asks if that was found out already, else a stranger; opens no book."""
    known: Asker = getattr(request, "asker", STRANGER)
    return known


def by_own_machine(request: HttpRequest) -> Asker | None:
    """Know the owner of this machine: no other is served, and the asking came from it."""
    here = is_loopback(request.META.get("REMOTE_ADDR", ""))
    passed_on = any(name in request.META for name in _FORWARDED)
    return OWN_MACHINE if here and not passed_on and not served().to_others else None


def by_session(request: HttpRequest) -> Asker | None:
    """Know somebody by the session of their browser."""
    token = request.COOKIES.get(cookie_name(), "")
    if not token or not opened.is_begun():
        return None
    book = opened.whichever_book()
    person = people.who_is(book, token, opened.clock_now())
    if person is None:
        return None
    roles = people.roles_of(book, person.name).values() if opened.has_several() else (person.role,)
    role = max((Role[each.upper()] for each in roles if each), default=Role.STRANGER)
    now = opened.clock_now()
    if person.seen_on != now.date():
        tell_seen(book, token, now)
    has_left = role is Role.STRANGER and sends_until(book, person.key, now) is not None
    return Asker(
        person.name, person.initials, role, "session", person.must_change, person.key, has_left
    )


def by_token(request: HttpRequest) -> Asker | None:
    """Know another program by the key that it sends along."""
    secret = token_sent(request)
    if not secret or not opened.is_begun():
        return None
    found = tokens.who_has(opened.the_book(), secret)
    if found is None:
        return STRANGER
    role = Role[found.role.upper()]
    return Asker(
        found.person, found.initials, role, "token", key=found.person_key, program=found.name
    )


def token_sent(request: HttpRequest) -> str:
    """Give the key that came along; empty without one."""
    kind, _, secret = request.headers.get("Authorization", "").partition(" ")
    return secret.strip() if kind.casefold() == "bearer" else ""


WAYS: list[Callable[[HttpRequest], Asker | None]] = [by_token, by_own_machine, by_session]
"""Ways to know who asks, in this order; each gives none where it knows nobody."""


def cookie_name() -> str:
    """Give the name of the session's cookie; under TLS one that only this host can set."""
    return "__Host-swardbook" if served().has_tls else "swardbook-session"


def keep_session(response: HttpResponseBase, token: str) -> None:
    """Give the browser a session."""
    response.set_cookie(
        cookie_name(), token, max_age=people.LASTS, path="/", secure=served().has_tls,
        httponly=True, samesite="Lax",
    )  # fmt: skip


def half_cookie_name() -> str:
    """Give the name of the cookie of whoever is asked for a second factor."""
    return f"{cookie_name()}-half"


def keep_half(response: HttpResponseBase, token: str) -> None:
    """Give the browser what stands for a password that was right, until the code comes."""
    response.set_cookie(
        half_cookie_name(), token, max_age=people.HALF_LASTS, path="/", secure=served().has_tls,
        httponly=True, samesite="Strict",
    )  # fmt: skip


def drop_half(response: HttpResponseBase) -> None:
    """Take it from the browser again."""
    response.set_cookie(
        half_cookie_name(), "", max_age=0, path="/", secure=served().has_tls, httponly=True,
        samesite="Strict",
    )  # fmt: skip


def drop_session(request: HttpRequest, response: HttpResponseBase | None = None) -> None:
    """End the session of a browser, in the book and, with an answer, in the browser."""
    if token := request.COOKIES.get(cookie_name(), ""):
        people.log_out(opened.whichever_book(), token)
    if response is not None:
        response.set_cookie(
            cookie_name(), "", max_age=0, path="/", secure=served().has_tls, httponly=True,
            samesite="Lax",
        )  # fmt: skip


def address_of(request: HttpRequest) -> str:
    """Give the address from which was asked; of a home's many addresses the part they share."""
    told = request.META.get("REMOTE_ADDR", "")
    if served().behind_proxy:
        told = request.META.get("HTTP_X_FORWARDED_FOR", told).rpartition(",")[2].strip()
    try:
        found = ip_address(told)
    except ValueError:
        return "unknown"
    if isinstance(found, IPv6Address) and found.ipv4_mapped is None:
        return f"{IPv6Address(int(found) >> 64 << 64)}/64"
    return str(getattr(found, "ipv4_mapped", None) or found)
