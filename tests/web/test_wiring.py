"""What holds under TLS, behind a proxy and on this machine alone."""

from __future__ import annotations

from dataclasses import replace

import pytest
from django.test import RequestFactory

from swardbook.book.serving import Served
from swardbook.web.asker import address_of, cookie_name
from swardbook.web.wiring import pages_settings

OTHERS = Served(to_others=True, names=("lawns.example", "2001:db8::1"), has_tls=True)


def test_on_this_machine_alone_no_other_name_is_answered() -> None:
    found = pages_settings()
    assert found["ALLOWED_HOSTS"] == ["127.0.0.1", "localhost", "[::1]"]
    assert not found["SECURE_SSL_REDIRECT"]
    assert found["SECURE_HSTS_SECONDS"] == 0
    assert found["SECRET_KEY"] != pages_settings()["SECRET_KEY"]


def test_by_tls_cookies_and_pages_go_by_nothing_else() -> None:
    found = pages_settings(OTHERS, "a kept key")
    assert found["ALLOWED_HOSTS"][-2:] == ["lawns.example", "[2001:db8::1]"]
    assert found["CSRF_COOKIE_SECURE"]
    assert found["SECURE_SSL_REDIRECT"]
    assert found["SECRET_KEY"] == "a kept key"
    assert "SECURE_PROXY_SSL_HEADER" not in found
    assert found["SECURE_HSTS_SECONDS"] == 0
    assert pages_settings(replace(OTHERS, is_certified=True))["SECURE_HSTS_SECONDS"] > 0


def test_a_proxy_is_taken_at_its_word_only_where_there_is_one(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    behind = replace(OTHERS, behind_proxy=True)
    assert pages_settings(behind)["SECURE_PROXY_SSL_HEADER"] == (
        "HTTP_X_FORWARDED_PROTO", "https",
    )  # fmt: skip
    asked = RequestFactory().get("/", headers={"x-forwarded-for": "203.0.113.9, 198.51.100.4"})
    for served, address in ((OTHERS, "127.0.0.1"), (behind, "198.51.100.4")):
        for name, text in served.told().items():
            monkeypatch.setenv(name, text)
        assert address_of(asked) == address


@pytest.mark.parametrize(
    ("told", "counted"),
    [("2001:db8:1:2:3:4:5:6", "2001:db8:1:2::/64"), ("::ffff:198.51.100.4", "198.51.100.4"),
     ("198.51.100.4", "198.51.100.4"), ("", "unknown"), ("somewhere", "unknown")],
)  # fmt: skip
def test_wrong_log_ins_are_counted_by_the_part_of_an_address_that_a_home_shares(
    told: str, counted: str
) -> None:
    assert address_of(RequestFactory().get("/", REMOTE_ADDR=told)) == counted


def test_the_cookie_is_bound_to_its_host_where_there_is_tls(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    for served, name in ((Served(), "swardbook-session"), (OTHERS, "__Host-swardbook")):
        for variable, text in served.told().items():
            monkeypatch.setenv(variable, text)
        assert cookie_name() == name
