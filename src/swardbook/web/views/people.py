"""The people of the ground: who may see it, write in it, or do everything."""

from __future__ import annotations

from collections.abc import Callable

from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from swardbook.book import people
from swardbook.foundation.errors import BadInputError, SwardbookError
from swardbook.web.asker import who_asks
from swardbook.web.guarding import status_of
from swardbook.web.opened import clock_now, the_book
from swardbook.web.page import Page, Role, Shelf

ROLES = (
    ("reader", _("Reader"), _("sees everything, writes nothing")),
    ("worker", _("Worker"), _("writes down what was done and seen")),
    ("owner", _("Owner"), _("also lets people in, and changes settings")),
)


def show_people(request: HttpRequest) -> HttpResponseBase:
    """List who has access; let somebody in, change what they are, end it."""
    said, status = "", 200
    if request.method == "POST":
        try:
            _DO[request.POST.get("do", "")](request)
        except KeyError:
            said, status = gettext("This form does not belong to this page."), 400
        except SwardbookError as refusal:
            said, status = str(refusal), status_of(refusal)
        else:
            return redirect("people")
    about = {
        "people": people.people(the_book()), "roles": ROLES, "said": said, "typed": request.POST,
        "me": who_asks(request).name, "least": people.LEAST_SIGNS,
    }  # fmt: skip
    return render(request, "pages/people.html", about, status=status)


def _add(request: HttpRequest) -> None:
    sent = request.POST
    people.add_person(
        the_book(), sent.get("name", ""), sent.get("initials", ""), sent.get("role", ""),
        sent.get("password", ""), clock_now(),
    )  # fmt: skip


def _role(request: HttpRequest) -> None:
    people.change_role(the_book(), request.POST.get("name", ""), request.POST.get("role", ""))


def _end(request: HttpRequest) -> None:
    if request.POST.get("sure") != "yes":
        raise BadInputError("the box beside the button", "not ticked", "a tick, to be sure")
    people.end_access(the_book(), request.POST.get("name", ""))


def _password(request: HttpRequest) -> None:
    name, password = request.POST.get("name", ""), request.POST.get("password", "")
    people.give_password(the_book(), name, password, who_asks(request).key)


_DO: dict[str, Callable[[HttpRequest], None]] = {
    "add": _add, "role": _role, "end": _end, "password": _password,
}  # fmt: skip
PAGES = (
    Page("people/", show_people, "people", Role.OWNER, ("GET", "POST"), title="People",
         says="Who may see this ground, and who may write in it.", shelf=Shelf.BOOK),
)  # fmt: skip
