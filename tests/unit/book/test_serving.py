"""How pages are served: to this machine in the open, to others with TLS only."""

from __future__ import annotations

import shutil
import socket
from pathlib import Path

import pytest

from swardbook.book.serving import Asked, Served, is_loopback, kept_key, make_ready, read_served
from swardbook.foundation.errors import BadInputError
from swardbook.settings import Settings

needs_openssl = pytest.mark.skipif(shutil.which("openssl") is None, reason="there is no openssl")


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    return Settings(tmp_path / "book")


def a_port() -> int:
    with socket.socket() as asked:
        asked.bind(("127.0.0.1", 0))
        return int(asked.getsockname()[1])


def test_this_machine_alone_is_served_in_the_open(settings: Settings) -> None:
    for host in ("127.0.0.1", "localhost"):
        found = make_ready(settings, Asked(a_port(), host), needs_owner=True)
        assert found.served == Served()
        assert found.address == f"http://{host}:{found.port}/"
    assert not settings.home.exists()


@pytest.mark.parametrize(
    ("host", "loopback"),
    [("127.0.0.1", True), ("::1", True), ("[::1]", True), ("localhost", True), ("127.9.9.9", True),
     ("0.0.0.0", False), ("::", False), ("192.168.1.4", False), ("lawns.example", False),
     ("127.0.0.1.elsewhere.example", False), ("", False)],
)  # fmt: skip
def test_only_the_loopback_is_this_machine(host: str, loopback: bool) -> None:
    assert is_loopback(host) is loopback


@pytest.mark.parametrize("host", ["0.0.0.0", "192.168.1.4", "lawns.example", "::"])
def test_other_machines_are_not_let_in_without_tls_and_are_told_how(
    settings: Settings, host: str
) -> None:
    with pytest.raises(BadInputError, match=r"--make-certificate.*--behind-proxy"):
        make_ready(settings, Asked(a_port(), host), needs_owner=True)


def test_a_proxy_that_speaks_tls_is_taken_at_its_word_by_its_name(settings: Settings) -> None:
    asked = Asked(a_port(), names=("Lawns.example.",), behind_proxy=True)
    found = make_ready(settings, asked, needs_owner=True)
    assert found.address == "https://lawns.example/"
    served = found.served
    assert (served.to_others, served.has_tls, served.behind_proxy) == (True, True, True)
    assert (served.names, served.is_certified) == (("lawns.example",), False)
    with pytest.raises(BadInputError, match="--name NAME"):
        make_ready(settings, Asked(a_port(), behind_proxy=True), needs_owner=True)


@pytest.mark.parametrize("name", ["*", "a b", "http://lawns.example", "-x", ".example", "a/b"])
def test_a_name_that_is_none_is_refused(settings: Settings, name: str) -> None:
    with pytest.raises(BadInputError, match="--name"):
        make_ready(settings, Asked(a_port(), names=(name,), behind_proxy=True), needs_owner=True)


def test_the_code_for_the_first_page_is_made_only_while_it_is_needed(settings: Settings) -> None:
    asked = Asked(a_port(), names=("lawns.example",), behind_proxy=True)
    codes = {make_ready(settings, asked, needs_owner=True).served.code for _ in range(5)}
    assert len(codes) == 5
    assert all(len(code) == 14 for code in codes)
    assert make_ready(settings, asked, needs_owner=False).served.code == ""
    assert make_ready(settings, Asked(a_port()), needs_owner=True).served.code == ""


def test_what_the_server_is_told_comes_back_as_it_was() -> None:
    told = Served(True, ("lawns.example", "::1"), True, False, True, "bcdf-ghkm-npqr")
    [text] = told.told().values()
    assert read_served(text) == told
    assert read_served("") == Served()


def test_a_port_that_is_taken_is_refused_if_asked_for_and_stepped_over_if_not(
    settings: Settings, monkeypatch: pytest.MonkeyPatch
) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = int(taken.getsockname()[1])
        with pytest.raises(BadInputError, match="nothing else listens on"):
            make_ready(settings, Asked(port), needs_owner=False)
        monkeypatch.setattr("swardbook.book.serving.PORT", port)
        found = make_ready(settings, Asked(), needs_owner=False)
    assert found.port_taken == port
    assert found.port > port
    assert f":{found.port}/" in found.address


def test_the_key_of_the_pages_is_made_once_and_only_its_owner_reads_it(settings: Settings) -> None:
    first = kept_key(settings)
    assert kept_key(settings) == first
    assert len(first) > 50
    assert (settings.home / "pages.key").stat().st_mode & 0o077 == 0


@needs_openssl
def test_a_certificate_for_the_home_network_is_made_once_and_its_key_is_private(
    settings: Settings,
) -> None:
    asked = Asked(a_port(), "0.0.0.0", names=("lawns.local",), make_certificate=True)
    found = make_ready(settings, asked, needs_owner=True)
    assert found.certificate is not None
    assert found.key is not None
    assert found.key.stat().st_mode & 0o077 == 0
    assert found.address.startswith("https://lawns.local:")
    assert not found.served.is_certified, "browsers do not insist on one of our own"
    again = make_ready(settings, asked, needs_owner=True)
    assert (again.fingerprint, len(again.fingerprint)) == (found.fingerprint, 95)
    given = Asked(a_port(), "0.0.0.0", certificate=str(found.certificate), key=str(found.key))
    assert make_ready(settings, given, needs_owner=True).fingerprint == found.fingerprint


@needs_openssl
def test_files_that_are_no_pair_are_refused_in_words(settings: Settings, tmp_path: Path) -> None:
    for name in ("one", "other"):
        home = Settings(tmp_path / name)
        make_ready(home, Asked(a_port(), "0.0.0.0", make_certificate=True), needs_owner=False)
    one, other = (str(tmp_path / name) for name in ("one", "other"))
    for certificate, key, says in (
        (f"{one}/certificate.pem", "", "together"),
        (f"{one}/nothing.pem", f"{one}/certificate-key.pem", "a file that is there"),
        (f"{one}/certificate.pem", f"{one}/certificate.pem", "PKCS#8"),
        (f"{one}/certificate.pem", f"{other}/certificate-key.pem", "the key of certificate.pem"),
        (f"{one}/certificate-key.pem", f"{one}/certificate-key.pem", "TLS says"),
    ):
        asked = Asked(a_port(), "0.0.0.0", certificate=certificate, key=key)
        with pytest.raises(BadInputError, match=says):
            make_ready(settings, asked, needs_owner=False)


def test_without_openssl_it_says_what_else_would_do(
    settings: Settings, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("swardbook.feeds.certificates.shutil.which", lambda _: None)
    with pytest.raises(BadInputError, match="--certificate FILE --key FILE"):
        make_ready(settings, Asked(a_port(), "0.0.0.0", make_certificate=True), needs_owner=True)
