"""For the one who runs the server: is it well, and its figures."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.views.decorators.http import require_safe

from swardbook.foundation.errors import SwardbookError
from swardbook.web import opened
from swardbook.web.page import Page, Role
from swardbook.web.watching import FIGURES_TYPE, figures


@require_safe
def health(request: HttpRequest) -> JsonResponse:
    """Tell whether questions are answered and the book can be read; nothing of what is in it."""
    del request
    if not opened.is_begun():
        return _told(is_well=True, book="none yet")
    try:
        opened.any_book().store.writes()
    except SwardbookError as refusal:
        return _told(is_well=False, book=type(refusal).__name__)
    return _told(is_well=True, book="can be read")


@require_safe
def measured(request: HttpRequest) -> HttpResponse:
    """Give the figures of this process."""
    del request
    return HttpResponse(figures(), content_type=FIGURES_TYPE)


def _told(*, is_well: bool, book: str) -> JsonResponse:
    answer = JsonResponse({"is_well": is_well, "book": book}, status=200 if is_well else 503)
    answer.headers["Cache-Control"] = "no-store"
    return answer


PAGES = (
    Page("health", health, "api-health", Role.STRANGER),
    Page("metrics", measured, "api-figures", Role.READER),
)
