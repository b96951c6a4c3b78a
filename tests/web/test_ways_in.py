"""No nonsense makes a way in fail: each answers as its description says, whatever is sent."""

from __future__ import annotations

from collections.abc import Callable
from time import monotonic
from typing import Any

import pytest
import schemathesis
from django.core.wsgi import get_wsgi_application
from django.test import Client
from hypothesis import HealthCheck, Phase, given, settings
from schemathesis.specs.openapi.checks import positive_data_acceptance

from swardbook.book.tokens import make_token
from swardbook.web import opened
from swardbook.web.opened import clock_now, the_book
from swardbook.web.page import Role
from swardbook.web.programs.openapi import document
from swardbook.web.urls import PAGES

OF_THE_SERVER = {"api-described", "api-health", "api-figures"}
"""Ways in that are no ground's: the description itself, and what is asked of a whole server."""
QUICK = (
    "clock", "fit", "morning", "lot/show", "peg/show", "zone/show", "diary/kinds", "workings",
)  # fmt: skip
"""Questions that are answered quickly whatever is sent."""
LONG_ENOUGH = 15.0
"""After so long a way in has been asked enough. [s]"""
Way = tuple[str, str]


def ways() -> list[Way]:
    """List every way in: its address as described, and how it is asked."""
    paths = document("/")["paths"]
    return [(path, method) for path, told in paths.items() for method in told]


def which() -> list[Any]:
    """Give the quick ones to every run, and all to the long one."""
    quick = {f"/api/ask/{each}/" for each in QUICK}
    found = []
    for path, method in ways():
        is_quick = path in quick or not path.startswith("/api/ask/")
        marks = [] if is_quick else [pytest.mark.long]
        found.append(pytest.param(path, method, id=f"{method} {path}", marks=marks))
    return found


@pytest.fixture(scope="module")
def schema(home: Any) -> schemathesis.BaseSchema:
    """Give the description as a schema that is asked of the pages in this process."""
    assert (home / "book.sqlite3").is_file()
    found = schemathesis.openapi.from_dict(document("http://localhost/"))
    found.app = get_wsgi_application()
    return found


@pytest.fixture(scope="module")
def key(home: Any) -> dict[str, str]:
    """Give the key of a program that may write."""
    assert home.is_dir()
    _made, secret = make_token(the_book(), "all kinds of nonsense", "worker", "", clock_now())
    opened.close()
    told = {"Host": "localhost", "Authorization": f"Bearer {secret}"}
    return told | {"Accept-Encoding": "identity"}


def test_every_way_in_is_described(client: Client) -> None:
    assert client.get("/api/openapi.json").json()["openapi"] == "3.1.0"
    described = {path.split("{")[0] for path, _method in ways()}
    for page in PAGES:
        if page.name.startswith("api-") and page.name not in OF_THE_SERVER:
            stem = "/" + page.route.split("<")[0]
            assert any(each.startswith(stem) for each in described), page.name
            assert page.role > Role.STRANGER


@pytest.mark.parametrize(("path", "method"), which())
def test_no_nonsense_makes_a_way_in_fail(
    schema: schemathesis.BaseSchema, key: dict[str, str], path: str, method: str
) -> None:
    operation = schema[path][method]
    begun = monotonic()

    def nonsense(case: schemathesis.Case[Any]) -> None:
        if monotonic() - begun > LONG_ENOUGH:
            return
        answer = case.call(headers=key)
        assert answer.status_code < 500, answer.text
        case.validate_response(
            answer, headers=key, excluded_checks=[positive_data_acceptance]
        )  # a text may be refused for what it says

    rule: Callable[[Any], Any] = settings(
        max_examples=5, deadline=None, derandomize=True, database=None, phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )  # fmt: skip
    rule(given(operation.as_strategy())(nonsense))()
