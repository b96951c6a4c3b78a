"""Where each page is: every room lists its own pages, and all of them are here."""

from __future__ import annotations

from collections.abc import Mapping

from django.urls import URLPattern, path

from swardbook.web.page import Page
from swardbook.web.views import done, ground, lawn, looks, more, outbox

ROOMS = (looks, ground, lawn, more, outbox, done)
"""Modules of views, each with its `PAGES`; `done` is last, since it answers any other kind."""
PAGES: tuple[Page, ...] = tuple(page for room in ROOMS for page in room.PAGES)
BY_NAME: Mapping[str, Page] = {page.name: page for page in PAGES}

urlpatterns: list[URLPattern] = [path(page.route, page.view, name=page.name) for page in PAGES]
