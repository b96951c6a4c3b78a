"""Where each page is: every room lists its own pages, and all of them are here."""

from __future__ import annotations

from collections.abc import Mapping

from django.urls import URLPattern, path

from swardbook.web.gate import guarded
from swardbook.web.page import Page
from swardbook.web.views import (
    asking,
    audience,
    beginning,
    desk,
    done,
    drawn,
    entering,
    firm,
    ground,
    kept_here,
    lawn,
    lawns,
    learning,
    looks,
    machine,
    more,
    outbox,
    own,
    people,
    people_record,
    programs,
    running,
    telling,
)

ROOMS = (
    looks,
    ground,
    drawn,
    lawn,
    lawns,
    firm,
    learning,
    asking,
    desk,
    more,
    own,
    people,
    people_record,
    programs,
    machine,
    kept_here,
    running,
    telling,
    audience,
    entering,
    beginning,
    outbox,
    done,
)
"""Modules of views, each with its `PAGES`; `done` is last, since it answers any other kind."""
PAGES: tuple[Page, ...] = tuple(page for room in ROOMS for page in room.PAGES)
BY_NAME: Mapping[str, Page] = {page.name: page for page in PAGES}

urlpatterns: list[URLPattern] = [path(page.route, guarded(page), name=page.name) for page in PAGES]
"""What is not listed is not there, and every page stands behind the gate."""
handler404 = "swardbook.web.gate.not_there"
