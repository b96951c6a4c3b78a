"""A firm's day over all its lawns: who goes where, seed, templates, and one lawn twice."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect, render
from django.utils.text import slugify
from django.utils.translation import gettext
from django.views.decorators.http import require_safe

from swardbook.book.firm import clock_words, comes_here, say_who_comes
from swardbook.book.firm_seed import firm_stock
from swardbook.book.firm_seed_words import (
    age_of_lot,
    doubts_of_lot,
    left_of_lot,
    plan_of_lot,
    shed_notes,
    trace_head,
)
from swardbook.book.firm_sheet import week_paper
from swardbook.book.firm_week import FirmWeek, PersonDay, firm_week, people_out
from swardbook.book.firm_words import (
    call_words,
    cautions_of_day,
    day_words,
    firm_notes,
    job_words,
    left_words,
    wash_words,
)
from swardbook.book.ground import read_site
from swardbook.book.lawn_templates import begin_from, find_template, template_words, templates
from swardbook.book.lawns_standing import names_standing
from swardbook.book.lot_trace import sowing_words, trace_lot
from swardbook.book.lot_trace_out import trace_table
from swardbook.book.put_together import part, put_together
from swardbook.foundation.errors import BadInputError, SwardbookError
from swardbook.web import opened
from swardbook.web.asker import who_asks
from swardbook.web.guarding import status_of
from swardbook.web.page import Page, Role, Shelf
from swardbook.web.remembering import remembered
from swardbook.web.views.lawns import grounds_seen, outside_a_lawn

LONGEST = 80


@require_safe
def week(request: HttpRequest) -> HttpResponse:
    """List who goes out this week; of one person every day, lawn by lawn."""
    book, seen = opened.any_book(), grounds_seen(request)
    outside_a_lawn(request)
    who = request.GET.get("who", "").strip()[:LONGEST]
    if not who:
        about: dict[str, Any] = {
            "people": people_out(book, seen), "several": opened.has_several(),
            "is_owner": who_asks(request).role is Role.OWNER,
        }  # fmt: skip
        return render(request, "pages/firm_week.html", about)
    found = firm_week(book, who, seen)
    return render(request, "pages/firm_person.html", _person(found))


def _person(found: FirmWeek) -> dict[str, Any]:
    [own] = found.people
    return {
        "own": own, "left": left_words(own), "notes": firm_notes(found), "today": found.today,
        "days": [(day, day_words(day), _calls(day), cautions_of_day(day)) for day in own.days],
        "waits": [(lawn, job.status.shape, job_words(job)) for lawn, job in own.only_waits],
    }  # fmt: skip


def _calls(day: PersonDay) -> list[Any]:
    return [
        (call, call_words(call), wash_words(call),
         [(each.status.shape, each.status.value, job_words(each))
          for each in (*call.jobs, *call.waits)])
        for call in day.calls
    ]  # fmt: skip


@require_safe
def sheet(request: HttpRequest) -> HttpResponse:
    """Give one person's week as a paper."""
    book = opened.any_book()
    who = request.GET.get("who", "").strip()[:LONGEST]
    if not who:
        raise BadInputError("the sheet", "nobody", "the person whose week it is")
    found = firm_week(book, who, grounds_seen(request))
    name = slugify(found.people[0].worker.name) or "week"
    return _file(week_paper(found, book), f"{name}-{found.today.isoformat()}.pdf",
                 "application/pdf")  # fmt: skip


@require_safe
def seed(request: HttpRequest) -> HttpResponse:
    """Add up the seed of all lawns, lot by lot."""
    found = firm_stock(opened.any_book(), grounds_seen(request))
    outside_a_lawn(request)
    lots = [
        (each, left_of_lot(each), plan_of_lot(each), age_of_lot(each), doubts_of_lot(each))
        for each in found.lots
    ]
    about = {"shed": found, "lots": lots, "notes": shed_notes(found)}
    return render(request, "pages/firm_seed.html", about)


@require_safe
def lot(request: HttpRequest) -> HttpResponse:
    """Show every lawn that was sown with a lot, and a note to each owner."""
    code, because = (request.GET.get(name, "").strip()[:200] for name in ("code", "because"))
    if not code:
        return seed(request)
    found = trace_lot(opened.any_book(), code, grounds_seen(request), because)
    outside_a_lawn(request)
    lawns: dict[str, list[Any]] = {}
    for each in found.sown:
        lawns.setdefault(each.slug, []).append((each, sowing_words(each)))
    notes = {slug: note for slug, _, note in found.notes}
    names = {each.slug: each.ground for each in found.sown}
    about = {
        "found": found, "head": trace_head(found), "because": because,
        "lawns": [(slug, names[slug], sown, notes[slug]) for slug, sown in lawns.items()],
    }  # fmt: skip
    return render(request, "pages/firm_lot.html", about)


@require_safe
def lot_table(request: HttpRequest) -> HttpResponse:
    """Give where a lot went as an open table."""
    code = request.GET.get("code", "").strip()[:LONGEST]
    found = trace_lot(opened.any_book(), code, grounds_seen(request))
    name = f"lot-{slugify(found.code) or 'traced'}.csv"
    return _file(trace_table(found).encode(), name, "text/csv; charset=utf-8")


def together(request: HttpRequest) -> HttpResponseBase:
    """Put two lawns together that are one, or part them again."""
    book, own = opened.any_book(), grounds_seen(request, Role.OWNER)
    outside_a_lawn(request)
    sent, said, status = request.POST, "", 200
    if request.method == "POST":
        try:
            slugs = [sent.get(name, "") for name in ("first", "second", "ground") if name in sent]
            for each in slugs:
                _require_own(each, own)
            if sent.get("do") == "part":
                _require_own(sent.get("bring_to", ""), own)
                part(book, opened.clock_today, sent.get("ground", ""), sent.get("bring_to", ""))
            else:
                zones = dict(_pair(line) for line in sent.get("zones", "").splitlines() if line)
                put_together(book, opened.clock_today, sent.get("first", ""),
                             sent.get("second", ""), zones)  # fmt: skip
        except SwardbookError as refusal:
            said, status = str(refusal), status_of(refusal)
        else:
            return redirect("firm-together")
    rows = names_standing(book, own)
    about = {"rows": rows, "both": [each for each in rows if each.of], "said": said, "typed": sent}
    return render(request, "pages/firm_together.html", about, status=status)


def _pair(line: str) -> tuple[str, str]:
    old, apart, new = line.partition("=")
    if not apart:
        raise BadInputError(gettext("a zone"), line, "SECOND=FIRST, such as Front=Front lawn")
    return old.strip(), new.strip()


def _require_own(slug: str, own: frozenset[str] | None) -> None:
    """Refuse what is about a ground that whoever asks is no owner of."""
    if slug and own is not None and slug not in own:
        raise BadInputError(gettext("the lawn"), slug, gettext("a lawn that you are an owner of"))


def begin(request: HttpRequest) -> HttpResponseBase:
    """Begin a lawn from a template of the firm's."""
    book = opened.any_book()
    outside_a_lawn(request)
    sent, said, status = request.POST, "", 200
    there = templates(book) if grounds_seen(request) is None else ()
    if request.method == "POST":
        try:
            if grounds_seen(request) is not None:
                said_no = gettext("A further lawn is begun on the machine that holds the book.")
                raise BadInputError(gettext("a new lawn"), "", said_no)
            found = find_template(book, sent.get("template", ""))
            areas = {
                each.zone.name: sent.get(f"area {n}", "").strip()
                for n, each in enumerate(found.zones)
            }
            site = read_site(*(sent.get(name, "") for name in ("name", "latitude", "elevation")))
            made = begin_from(book, site, found, {zone: m2 for zone, m2 in areas.items() if m2})
        except SwardbookError as refusal:
            said, status = str(refusal), status_of(refusal)
        else:
            return redirect(f"/at/{made.slug}/")
    told = [(each, list(map(template_words, each.zones))) for each in there]
    about = {"templates": told, "said": said, "typed": sent}
    return render(request, "pages/firm_templates.html", about, status=status)


def who_comes(request: HttpRequest) -> HttpResponseBase:
    """Say who comes to this lawn, and when it may be worked on."""
    book, said, status = opened.the_book(), "", 200
    sent = {name: request.POST.get(name, "")[:LONGEST] for name in ("who", "days", "between")}
    if request.method == "POST":
        try:
            say_who_comes(book, sent["who"], sent["days"], sent["between"])
        except SwardbookError as refusal:
            said, status = str(refusal), status_of(refusal)
        else:
            return redirect("who-comes")
    now = remembered("who comes", comes_here)
    between = "" if now.opens is None or now.closes is None else (
        f"{clock_words(now.opens)}-{clock_words(now.closes)}"
    )  # fmt: skip
    about = {"now": now, "between": between, "said": said, "typed": sent}
    return render(request, "pages/who_comes.html", about, status=status)


def _file(held: bytes, name: str, kind: str) -> HttpResponse:
    answer = HttpResponse(held, content_type=kind)
    answer.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    return answer


_BOTH = ("GET", "POST")
PAGES = (
    Page("firm-week/", week, "firm-week", Role.READER, title="Who goes where this week",
         shelf=Shelf.BOOK, says="Each person's lawns of the week, day by day, with hours."),
    Page("firm-week/sheet/", sheet, "file-firm-week", Role.READER),
    Page("firm-seed/", seed, "firm-seed", Role.READER, title="Seed over all lawns",
         shelf=Shelf.SEED, says="What lies in the shed, what is planned, what is short."),
    Page("firm-seed/lot/", lot, "firm-lot", Role.READER),
    Page("firm-seed/lot/table/", lot_table, "file-firm-lot", Role.READER),
    Page("firm-together/", together, "firm-together", Role.OWNER, _BOTH, title="One lawn twice",
         shelf=Shelf.BOOK, says="Two grounds that are the same lawn, put together or parted."),
    Page("firm-templates/", begin, "firm-templates", Role.OWNER, _BOTH, shelf=Shelf.BOOK,
         title="Begin a lawn from a template", says="Zones, tolerances, programmes and places."),
    Page("who-comes/", who_comes, "who-comes", Role.OWNER, _BOTH, title="Who comes here",
         shelf=Shelf.BOOK, says="Who comes to this lawn, and when it may be worked on."),
)  # fmt: skip
