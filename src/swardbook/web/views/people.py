"""The people of the ground: who may see it, write in it, or do everything; and invitations."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from swardbook.book import inviting, leaving, people, per_ground, phones, second_factor
from swardbook.book.letting_days import INVITATION, LEFT_BEHIND, days
from swardbook.foundation.errors import BadInputError, SwardbookError, UnknownNameError
from swardbook.web.asker import who_asks
from swardbook.web.guarding import status_of
from swardbook.web.opened import clock_now, the_book
from swardbook.web.page import Page, Role, Shelf

ROLES = (
    ("reader", _("Reader"), _("sees everything, writes nothing")),
    ("worker", _("Worker"), _("writes down what was done and seen")),
    ("owner", _("Owner"), _("also lets people in, and changes settings")),
)


@dataclass(frozen=True, slots=True)
class Invited:
    """A new invitation, shown once."""

    code: str
    link: str
    picture: str


def show_people(request: HttpRequest) -> HttpResponseBase:
    """List who has access and who is invited; let somebody in, or invite them."""
    said, status, made = "", 200, None
    if request.method == "POST":
        try:
            made = _of(_DO, request)(request)
        except SwardbookError as refusal:
            said, status = str(refusal), status_of(refusal)
        else:
            if made is None:
                return redirect("people")
    book, now = the_book(), clock_now()
    on_phones = phones.phones_here(book, now)
    about = {
        "people": [(each, on_phones.get(each.key, ())) for each in people.people(book)],
        "roles": ROLES,
        "said": said, "typed": request.POST, "me": who_asks(request).name,
        "least": people.LEAST_SIGNS, "made": made, "invitations": inviting.invitations(book, now),
        "days": days(book, INVITATION).days, "left": len(leaving.left_behind(book)),
        "gone": leaving.gone_people(book),
        "with_second": second_factor.on_here(book),
    }  # fmt: skip
    return render(request, "pages/people.html", about, status=status)


def _of(known: dict[str, Any], request: HttpRequest) -> Callable[..., Any]:
    found = known.get(request.POST.get("do", ""))
    if found is None:
        raise BadInputError(gettext("the form"), gettext("another"), gettext("one of this page"))
    chosen: Callable[..., Any] = found
    return chosen


def _add(request: HttpRequest) -> None:
    sent = request.POST
    people.add_person(
        the_book(), sent.get("name", ""), sent.get("initials", ""), sent.get("role", ""),
        sent.get("password", ""), clock_now(),
    )  # fmt: skip


def _invite(request: HttpRequest) -> Invited:
    sent = request.POST
    _made, code = inviting.invite(
        the_book(), sent.get("whom", ""), sent.get("role", ""), who_asks(request).key, clock_now()
    )
    to = inviting.link(request.build_absolute_uri(reverse("morning")), code)
    return Invited(code, to, second_factor.square_picture(to))


def _withdraw(request: HttpRequest) -> None:
    inviting.withdraw(the_book(), _number(request, "invitation"), clock_now())


def _forget(request: HttpRequest) -> None:
    _require_sure(request)
    person = the_book().store.people().numbered(_number(request, "person"))
    people.require_all_of(the_book(), who_asks(request).key, person)
    leaving.forget_name(the_book(), person.name)


_DO: dict[str, Callable[[HttpRequest], Invited | None]] = {
    "add": _add, "invite": _invite, "withdraw": _withdraw, "forget": _forget,
}  # fmt: skip


def one_person(request: HttpRequest, person: int) -> HttpResponseBase:
    """Show one person: what they are on each ground, and where they are logged in; change it."""
    found = _theirs(request, person)
    said, status = "", 200
    if request.method == "POST":
        try:
            _of(_DO_ONE, request)(request, found)
        except SwardbookError as refusal:
            said, status = str(refusal), status_of(refusal)
        else:
            is_here = bool(the_book().store.people().numbered(person).role)
            return redirect("person", person) if is_here else redirect("people")
    return _shown(request, found, said, status)


def _shown(request: HttpRequest, found: people.Somebody, said: str, status: int) -> HttpResponse:
    book, asker = the_book(), who_asks(request).key
    over = per_ground.roles_over_grounds(book, found, asker)
    others = [each for each in over if each.slug != book.store.slug()]
    about = {
        "each": found, "roles": ROLES, "said": said, "least": people.LEAST_SIGNS,
        "others": [each for each in others if each.role],
        "more": [each for each in others if not each.role], "here": book.store.slug(),
        "phones": phones.own_phones(book, found.name, clock_now()),
        "second": second_factor.standing(book, found.name),
        "is_mine": people.owns_all_of(book, asker, found), "me": who_asks(request).name,
        "days": days(book, LEFT_BEHIND).days,
    }  # fmt: skip
    return render(request, "pages/person.html", about, status=status)


def _theirs(request: HttpRequest, key: int) -> people.Somebody:
    """Give somebody who has access to this ground; of others nothing is told here."""
    del request
    there = people.people(the_book())
    for each in there:
        if each.key == key:
            return each
    raise UnknownNameError("person", str(key), [each.name for each in there])


def _role(request: HttpRequest, person: people.Somebody) -> None:
    people.change_role(the_book(), person.name, request.POST.get("role", ""))


def _role_at(request: HttpRequest, person: people.Somebody) -> None:
    sent, book = request.POST, the_book()
    per_ground.change_role_at(
        book, sent.get("ground", ""), person.name, sent.get("role", ""), who_asks(request).key,
        leaving.until(book, clock_now()),
    )  # fmt: skip


def _end(request: HttpRequest, person: people.Somebody) -> None:
    _require_sure(request)
    takes = request.POST.get("nothing_more") != "yes"
    until = leaving.until(the_book(), clock_now()) if takes else None
    people.end_access(the_book(), person.name, until)


def _password(request: HttpRequest, person: people.Somebody) -> None:
    password = request.POST.get("password", "")
    people.give_password(the_book(), person.name, password, who_asks(request).key)


def _phone(request: HttpRequest, person: people.Somebody) -> None:
    key = who_asks(request).key
    phones.end_phone_of(the_book(), person.name, _number(request, "phone"), key)


def _second(request: HttpRequest, person: people.Somebody) -> None:
    _require_sure(request)
    second_factor.end_for(the_book(), person.name, who_asks(request).key)


_DO_ONE: dict[str, Callable[[HttpRequest, people.Somebody], None]] = {
    "role": _role, "role-at": _role_at, "end": _end, "password": _password, "phone": _phone,
    "second": _second,
}  # fmt: skip


def _require_sure(request: HttpRequest) -> None:
    if request.POST.get("sure") != "yes":
        raise BadInputError(
            gettext("the box beside the button"),
            gettext("not ticked"),
            gettext("a tick, to be sure"),
        )


def _number(request: HttpRequest, name: str) -> int:
    text = request.POST.get(name, "")
    return int(text) if text.isdecimal() and len(text) < 16 else 0


_FORM = ("GET", "POST")
PAGES = (
    Page("people/", show_people, "people", Role.OWNER, _FORM, title="People", sees="the people",
         says="Who may see this ground, and who may write in it.", shelf=Shelf.BOOK),
    Page("people/<int:person>/", one_person, "person", Role.OWNER, _FORM, sees="the people"),
)  # fmt: skip
