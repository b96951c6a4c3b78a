"""The ground as a drawn plan: looked at, drawn on, and touched to place a spot or find a peg."""

from __future__ import annotations

import json
from typing import Any
from uuid import UUID, uuid4

from django.http import HttpRequest, HttpResponse, HttpResponseBase, QueryDict
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext_lazy as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from swardbook.book.fields import degrees
from swardbook.book.lots_there import lots_at
from swardbook.book.opening import Book
from swardbook.book.peg_finding import find_pegs
from swardbook.book.pictures_in import most_bytes
from swardbook.book.plan_backdrop import keep_backdrop, lay_backdrop, size_of_picture
from swardbook.book.plan_drawing import LAYERS, GroundPlan, drawn_plan
from swardbook.book.plan_edits import (
    add_fixed_point,
    draw_zone,
    last_edit,
    place_peg,
    set_backdrop,
    tie_to_globe,
    undo_edit,
)
from swardbook.book.plan_frames import fixed_points, frames, plan_of
from swardbook.book.sent import Sent, take_in
from swardbook.book.spot_forms import JOBS, spot_forms, spot_job
from swardbook.book.survey_area import read_corners
from swardbook.book.telling_where import read_pair
from swardbook.book.units import shown_in
from swardbook.figures.ground_plan import NARROW, Drawn, legend_for_page, plan_for_page
from swardbook.foundation.asked_units import asked_in, with_unit
from swardbook.foundation.dates import read_day
from swardbook.foundation.errors import BadInputError, SwardbookError
from swardbook.handbook.species import ANNUAL_MEADOW_GRASS, YORKSHIRE_FOG, in_words, key_of
from swardbook.web.answering import show
from swardbook.web.at_hand import the_ground, the_units
from swardbook.web.forms import UNIT
from swardbook.web.guarding import status_of
from swardbook.web.opened import the_book
from swardbook.web.page import Page, Role, Shelf
from swardbook.web.remembering import remembered

_WORK = ("GET", "HEAD", "POST")
_LAYER_WORDS = {"stage": _("How far each zone is"), "weed": _("Weeds counted"),
                "lot": _("Seed lots")}  # fmt: skip
_KINDS = (ANNUAL_MEADOW_GRASS, YORKSHIRE_FOG, "bare")


@require_safe
def plan(request: HttpRequest) -> HttpResponse:
    """Show the plan on a day, by a layer."""
    layer = request.GET.get("layer", LAYERS[0])
    kind = key_of(request.GET.get("kind", ANNUAL_MEADOW_GRASS))
    book = the_book()
    typed = request.GET.get("on", "")
    day = min(read_day(typed, book.today), book.today) if typed.strip() else book.today
    found, drawn = remembered(
        f"plan {layer} {kind} {day}", lambda book: _whole(book, day, layer, kind)
    )
    about = {
        "plan": found, "drawn": drawn, "layers": _LAYER_WORDS.items(), "layer": layer,
        "legend": legend_for_page(found.drawn, drawn),
        "kinds": [(each, in_words(each)) for each in _KINDS], "kind": kind, "day": day,
    }  # fmt: skip
    return show(request, "pages/plan.html", about)


def _whole(book: Book, day: Any, layer: str, kind: str) -> tuple[GroundPlan, Drawn]:
    found = drawn_plan(book, day, layer, kind=kind, under=_under(book))
    links = {("zone", name, name): reverse("plan-zone", args=[name]) for name in found.frames}
    return found, plan_for_page(found.drawn, links, units=shown_in(book.settings, book))


def _under(book: Book) -> str:
    backdrop = plan_of(book.ground()).backdrop
    return reverse("file-whole", args=[backdrop.picture]) if backdrop is not None else ""


@require_safe
def zone(request: HttpRequest, zone: str) -> HttpResponse:
    """Show one zone: its pegs, spots and plots."""
    layer = request.GET.get("layer", LAYERS[0])
    about = remembered(f"plan of {zone} {layer}", lambda book: _zone(book, zone, layer))
    return show(request, "pages/plan_zone.html", {**about, "layers": _LAYER_WORDS.items()})


def _zone(book: Book, zone: str, layer: str) -> dict[str, Any]:
    name = book.ground().zone(zone).name
    found = drawn_plan(book, layer=layer, zone=name)
    links = {("peg", name, mark.name): f"{reverse('find-peg')}#peg-{mark.name}"
             for mark in found.drawn.marks if mark.kind == "peg"}  # fmt: skip
    drawn = plan_for_page(found.drawn, links, NARROW, shown_in(book.settings, book))
    return {"plan": found, "name": name, "layer": layer, "drawn": drawn,
            "legend": legend_for_page(found.drawn, drawn)}  # fmt: skip


@require_safe
def sown(request: HttpRequest) -> HttpResponse:
    """Tell every lot that was put at a place: from any blade back to the bag."""
    typed = request.GET.get("at", "")
    about: dict[str, Any] = {"typed": typed}
    status = 200
    if typed:
        try:
            place = read_pair(typed, "the place")
            about["there"] = remembered(f"sown {place}", lambda book: lots_at(book, *place))
        except SwardbookError as refusal:
            about["said"], status = str(refusal), status_of(refusal)
    return render(request, "pages/plan_sown.html", about, status=status)


@require_http_methods(["GET", "HEAD", "POST"])
def draw(request: HttpRequest) -> HttpResponseBase:
    """Draw zones, place pegs and fixed points."""
    said, status = "", 200
    if request.method == "POST":
        try:
            told = _drawn(the_book(), request.POST)
            where = f"{reverse('plan-draw')}?did={request.POST.get('what', '')}"
            if not told:
                return redirect(where)
            said = " ".join(told)
        except SwardbookError as refusal:
            said, status = str(refusal), status_of(refusal)
    about = remembered("plan to draw on", _to_draw)
    edit = remembered("last edit of the plan", last_edit)
    return show(
        request, "pages/plan_draw.html",
        {**about, "said": said, "typed": request.POST, "edit": edit,
         "did": request.GET.get("did", ""), "is_kept": bool(said) and status == 200},
        status,
    )  # fmt: skip


def _to_draw(book: Book) -> dict[str, Any]:
    found = drawn_plan(book, under=_under(book))
    ground = book.ground()
    places = [(each.name, each.zone, each.at is not None) for each in ground.pegs]
    places += [(each.name, each.zone, each.at is not None) for each in ground.squares]
    zones = []
    for name, frame in found.frames.items():
        edge = " ".join(f"{x:g},{y:g}" for x, y in frame.outline.on_site[0])
        zones.append((name, edge if frame.is_drawn else "", frame.is_drawn,
                      frame.outline.east_m, frame.outline.north_m))  # fmt: skip
    corners = [
        corner for frame in found.frames.values() if frame.is_drawn
        for ring in frame.outline.on_site for corner in ring
    ]  # fmt: skip
    drawn = plan_for_page(found.drawn, units=shown_in(book.settings, book))
    return {"plan": found, "drawn": drawn, "zones": zones, "places": places,
            "points": _points(book), "site_plan": plan_of(ground),
            "corners": json.dumps(corners)}  # fmt: skip


def _drawn(book: Book, sent: QueryDict) -> tuple[str, ...]:
    what, who = sent.get("what", ""), sent.get("who", "")
    if what == "zone":
        ground = book.ground()
        old = ground.zone(sent.get("zone", "")).outline
        holes = old.on_site[1:] if old is not None else ()
        corners = read_corners(sent.get("corners", ""))
        return draw_zone(book, sent.get("zone", ""), corners, holes, who=who).notes
    if what == "peg":
        return place_peg(book, sent.get("peg", ""), sent.get("where", ""), who=who).notes
    if what == "point":
        place = read_pair(sent.get("place", ""), "the place")
        add_fixed_point(book, sent.get("name", ""), place, who=who)
        return ()
    if what == "globe":
        place = read_pair(sent.get("place", "") or "0, 0", "the place")
        position = [degrees(str(sent.get(name, "")), name) for name in ("latitude", "longitude")]
        north = degrees(str(sent.get("north", "") or "0"), "north")
        tie_to_globe(book, position[0], position[1], north, place, who=who)
        return ()
    raise BadInputError("what is drawn", what, "zone, peg, point or globe")


@require_http_methods(["GET", "HEAD", "POST"])
def backdrop(request: HttpRequest) -> HttpResponseBase:
    """Put a picture under the plan by two points, or take it away."""
    said, status = "", 200
    if request.method == "POST":
        try:
            return redirect(_backdrop(the_book(), request))
        except SwardbookError as refusal:
            said, status = str(refusal), status_of(refusal)
    mark = request.POST.get("picture") or request.GET.get("picture", "")
    about: dict[str, Any] = {"said": said, "typed": request.POST, "mark": mark}
    if mark:
        about["wide"], about["high"] = size_of_picture(the_book(), mark)
    about["points"] = remembered("points to lay a picture by", _points)
    about["laid"] = plan_of(the_ground()).backdrop
    return show(request, "pages/plan_backdrop.html", about, status)


def _points(book: Book) -> list[tuple[str, str]]:
    ground = book.ground()
    return [(name, f"{x:.2f}, {y:.2f}")
            for name, (x, y) in fixed_points(ground, frames(ground)).items()]  # fmt: skip


def _backdrop(book: Book, request: HttpRequest) -> str:
    sent, who = request.POST, request.POST.get("who", "")
    if sent.get("what") == "away":
        set_backdrop(book, None, who=who)
        return reverse("plan-backdrop")
    if (file := request.FILES.get("file")) is not None:
        if (file.size or 0) > most_bytes():
            raise BadInputError(file.name or "the picture", "too large a file", "a smaller one")
        mark = keep_backdrop(book, file.read(), file.name or "the picture", who=who)
        return f"{reverse('plan-backdrop')}?picture={mark}"
    picture = [read_pair(sent.get(name, ""), "the point on the picture") for name in ("p1", "p2")]
    ground = [read_pair(sent.get(name, ""), "the point on the ground") for name in ("g1", "g2")]
    lay_backdrop(book, sent.get("picture", ""), (picture[0], picture[1]), (ground[0], ground[1]),
                 who=who)  # fmt: skip
    return reverse("plan")


@require_POST
def undo(request: HttpRequest) -> HttpResponse:
    """Take the last edit of the plan back; it stays in the diary."""
    undo_edit(the_book(), who=request.POST.get("who", ""))
    return redirect(f"{reverse('plan-draw')}?did=undo")


@require_http_methods(["GET", "HEAD", "POST"])
def spot(request: HttpRequest) -> HttpResponseBase:
    """Place a spot by touch, by two tapes or by the phone, and say what was done there."""
    said, status = "", 200
    if request.method == "POST":
        try:
            return redirect(reverse("kept", args=[_spot_kept(the_book(), request.POST)]))
        except SwardbookError as refusal:
            said, status = str(refusal), status_of(refusal)
    forms = remembered("spot forms", spot_forms)
    jobs = [(job, json.dumps(dict(job.fields))) for job in JOBS]
    zones = [(each, json.dumps(each.spots)) for each in forms.zones]
    about = {
        "forms": forms, "jobs": jobs, "zones": zones, "said": said, "typed": request.POST,
        "zone_names": [each.name for each in forms.zones], "id": uuid4(),
        "margin_unit": asked_in("mm", the_units()),
    }  # fmt: skip
    return show(request, "pages/spot.html", about, status)


def _spot_kept(book: Book, sent: QueryDict) -> UUID:
    job = spot_job(sent.get("did", ""))
    fields = dict(job.fields)
    asked = str(sent.get(job.asks, "")).strip() if job.asks else ""
    if asked:
        fields[job.asks] = with_unit(asked, sent.get(f"{UNIT}{job.asks}", "")[:20])
    at = str(sent.get("at", "")).strip()
    if not at:
        raise BadInputError("where it is", "nothing", "a touch on the plan, two tapes or a phone")
    try:
        made = UUID(sent.get("id", ""))
    except ValueError:
        made = uuid4()
    return take_in(
        book,
        Sent(made, job.kind, fields, sent.get("zone", ""), who=sent.get("who", ""),
             note=sent.get("note", ""), said_on=book.today, at=at,
             private=sent.get("private") == "yes"),
    ).entry.id  # fmt: skip


@require_safe
def find_peg(request: HttpRequest) -> HttpResponse:
    """Tell how to find every peg again: sketch, two tapes, last year's picture over the camera."""
    pegs = remembered("pegs to find", find_pegs)
    zones = list(dict.fromkeys(each.zone for each in pegs))
    groups = [(name, [each for each in pegs if each.zone == name]) for name in zones]
    return show(request, "pages/find_peg.html", {"groups": groups})


PAGES = (
    Page("plan/", plan, "plan", Role.READER, title="Plan of the ground", shelf=Shelf.GROUND,
         offline=True, says="Zones, plots, pegs and spots to scale; by stage, weed or seed lot."),
    Page("plan/zone/<str:zone>/", zone, "plan-zone", Role.READER, example={"zone": "Main court"},
         offline=True),
    Page("plan/sown/", sown, "plan-sown", Role.READER, title="From a blade to the bag",
         shelf=Shelf.SEED, says="Every lot that was ever put at a place."),
    Page("plan/draw/", draw, "plan-draw", Role.WORKER, _WORK, title="Draw the plan",
         shelf=Shelf.GROUND, says="Corners of zones, pegs and fixed points, by touch or by tape."),
    Page("plan/backdrop/", backdrop, "plan-backdrop", Role.WORKER, _WORK,
         title="Picture under the plan", shelf=Shelf.GROUND,
         says="A picture from above, laid under the plan by two points."),
    Page("plan/undo/", undo, "plan-undo", Role.WORKER, ("POST",)),
    Page("plan/spot/", spot, "spot", Role.WORKER, _WORK, title="Place a spot", shelf=Shelf.LAWN,
         offline=True, says="A clump dug, a hole refilled or looked at again, where it is."),
    Page("plan/find-peg/", find_peg, "find-peg", Role.READER, title="Find a peg again",
         shelf=Shelf.LAWN, offline=True, says="Sketch, two tapes, and its last picture."),
)  # fmt: skip
