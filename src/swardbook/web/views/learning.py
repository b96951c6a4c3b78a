"""Learning: questions of the made-up ground, what if in a copy, and counting drawn frames."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.utils.safestring import SafeString
from django.views.decorators.http import require_safe

from swardbook.book.practising import (
    MOST_SETS,
    PracticeSet,
    PracticeTold,
    latin_of,
    practice_set,
    set_beside,
)
from swardbook.demo.course import Exercise, NoCourseError, answer, course_of, exercise
from swardbook.demo.course_what_if import WhatIf, read_value, try_out, what_ifs
from swardbook.figures.practice_frame import CROSSINGS, KINDS, PracticeFrame, sample_of
from swardbook.foundation.asked_units import asked_in, standing, with_unit
from swardbook.foundation.errors import SwardbookError
from swardbook.foundation.units import Units
from swardbook.web.answering import show
from swardbook.web.at_hand import the_units
from swardbook.web.drawing import as_part_of_page
from swardbook.web.forms import UNIT
from swardbook.web.opened import the_book
from swardbook.web.page import Page, Role, Shelf
from swardbook.web.remembering import PATIENCE, remembered, soon

_CLIP = 3
"""Figures that a count in a form may have."""


@dataclass(frozen=True, slots=True)
class FrameShown:
    """One frame on the page, with what was typed for each kind."""

    frame: PracticeFrame
    drawing: SafeString
    typed: tuple[tuple[str, str, str], ...]
    """Kind, name of its field, and what was typed."""


@require_safe
def course(request: HttpRequest) -> HttpResponse:
    """List the questions; on somebody's own ground say how the made-up one is opened."""
    try:
        asked = course_of(the_book())
    except NoCourseError as refusal:
        return show(request, "pages/course.html", {"said": str(refusal)})
    return show(request, "pages/course.html", {"exercises": asked})


@require_safe
def question(request: HttpRequest, key: str) -> HttpResponse:
    """Ask one question; once it is answered, say whether it is so, and why."""
    asked, said = exercise(key), request.GET.get("said", "")
    every = course_of(the_book())
    about: dict[str, Any] = {"exercise": asked, "chosen": said, "after": _after(every, asked)}
    if said:
        about["told"] = soon(
            f"course {key} {asked.choice(said).key}", lambda book: answer(book, key, said),
            "What the book answers", 10, patience=PATIENCE,
        )  # fmt: skip
    return show(request, "pages/course_question.html", about)


def _after(every: tuple[Exercise, ...], asked: Exercise) -> Exercise | None:
    at = every.index(asked) + 1
    return every[at] if at < len(every) else None


@require_safe
def what_if(request: HttpRequest) -> HttpResponse:
    """Change one input in a copy of the book, and show the answer before and after."""
    try:
        known = what_ifs(the_book())
    except NoCourseError as refusal:
        return show(request, "pages/what_if.html", {"said": str(refusal)})
    key, typed = request.GET.get("what", ""), request.GET.get("value", "").strip()
    said = with_unit(typed, request.GET.get(f"{UNIT}value", "")[:20])
    asked = [_asked_in(each, the_units()) for each in known]
    about: dict[str, Any] = {"known": asked, "chosen": key, "typed": typed, "read_as": said}
    if key and typed:
        try:
            value = read_value(key, said)
            about["tried"] = soon(
                f"what if {key} {value!r}", lambda book: try_out(book, key, value),
                "The same question, asked of a copy", 10, patience=PATIENCE,
            )  # fmt: skip
        except SwardbookError as slip:
            return show(request, "pages/what_if.html", {**about, "slip": str(slip)}, status=422)
    return show(request, "pages/what_if.html", about)


def _asked_in(what: WhatIf, units: Units) -> tuple[WhatIf, str, str, str]:
    """Give what may be changed, the unit it is asked for in, and its least and most in that."""
    unit = asked_in(what.unit, units, what.high) if what.unit else ""
    low, high = (standing(each, what.unit, units) for each in (what.low, what.high))
    return what, unit, low, high


@require_safe
def counting(request: HttpRequest) -> HttpResponse:
    """Show drawn frames to count; once all are counted, show who reads how far apart."""
    number = _set_asked(request)
    asked, drawings, key = remembered(f"practice set {number}", lambda _book: _drawn(number))
    shown = tuple(map(partial(_frame, request), asked.frames, drawings))
    about = {"set": asked, "frames": shown, "crossings": CROSSINGS, "most": MOST_SETS,
             "next": asked.number % MOST_SETS + 1, "key": key}  # fmt: skip
    if "told" not in request.GET:
        return show(request, "pages/counting.html", about)
    try:
        told = set_beside(asked, [_counts(each) for each in shown])
    except SwardbookError as slip:
        return show(request, "pages/counting.html", {**about, "slip": str(slip)}, status=422)
    return show(request, "pages/counting.html", {**about, "told": told, "rows": _rows(asked, told)})


def _set_asked(request: HttpRequest) -> int:
    text = request.GET.get("set", "")
    return int(text) if text.isdecimal() and len(text) <= _CLIP else 1


def _drawn(number: int) -> tuple[PracticeSet, list[SafeString], Sequence[tuple[str, ...]]]:
    """Draw a set: its frames, and the key to them."""
    asked = practice_set(number)
    key = [
        (kind, latin_of(kind), as_part_of_page(sample_of(kind)), how) for kind, how in KINDS.items()
    ]
    return asked, [as_part_of_page(each.svg) for each in asked.frames], key


def _frame(request: HttpRequest, frame: PracticeFrame, drawing: SafeString) -> FrameShown:
    names = [(kind, f"f{frame.frame} {kind}") for kind in KINDS]
    typed = tuple((kind, name, request.GET.get(name, "")[:_CLIP]) for kind, name in names)
    return FrameShown(frame, drawing, typed)


def _counts(shown: FrameShown) -> dict[str, int]:
    return {kind: int(text) if text.isdecimal() else 0 for kind, _, text in shown.typed}


def _rows(asked: PracticeSet, told: PracticeTold) -> list[tuple[int, str, int, int, int]]:
    """Give frame, kind, and the crossings of the learner, the colleague and the drawing."""
    return [
        (frame.frame, each.kind, mine[each.kind], theirs[each.kind], frame.truth[each.kind])
        for frame, mine, theirs in zip(asked.frames, told.yours, told.colleagues, strict=True)
        for each in told.kinds
    ]


PAGES = (
    Page("learn/", course, "course", Role.READER, title="Questions of the made-up ground",
         shelf=Shelf.LEARN,
         says="What can be told from a book, and what cannot; answered from the book itself."),
    Page("learn/question/<str:key>/", question, "course-question", Role.READER,
         example={"key": "bobbin_or_thimble"}),
    Page("learn/what-if/", what_if, "what-if", Role.READER, title="What if?", shelf=Shelf.LEARN,
         says="Change one input in a copy, and see what becomes of the answer."),
    Page("learn/counting/", counting, "counting", Role.READER, title="Practise counting",
         shelf=Shelf.LEARN,
         says="Count drawn frames; see how far you read from a colleague and from the truth."),
)  # fmt: skip
