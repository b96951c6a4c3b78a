"""A real server for other machines: by TLS alone, with log-in, under a certificate of our own."""

from __future__ import annotations

import json
import os
import shutil
import socket
import ssl
import subprocess
import sys
import time
from collections.abc import Iterator
from http.client import HTTPConnection, HTTPException, HTTPSConnection
from pathlib import Path
from typing import Any

import pytest

pytestmark = pytest.mark.skipif(shutil.which("openssl") is None, reason="there is no openssl")


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[dict[str, Any]]:
    home = tmp_path_factory.mktemp("tls") / "book"
    with socket.socket() as asked:
        asked.bind(("127.0.0.1", 0))
        port = asked.getsockname()[1]
    command = [sys.executable, "-m", "swardbook", "serve", "--host", "0.0.0.0", "--port", str(port),
               "--make-certificate", "--json"]  # fmt: skip
    environment = {**os.environ, "SWARDBOOK_HOME": str(home)}
    with subprocess.Popen(command, env=environment, stdout=subprocess.PIPE, text=True) as server:
        assert server.stdout is not None
        told = json.loads(server.stdout.readline())
        yield {**told, "port": port, "certificate": home / "certificate.pem"}
        server.terminate()


def ask(served: dict[str, Any], path: str, host: str = "localhost") -> tuple[int, dict[str, str]]:
    """Ask by TLS, trusting the certificate that was made and no other."""
    trusted = ssl.create_default_context(cafile=str(served["certificate"]))
    end = time.monotonic() + 60
    while True:
        one = HTTPSConnection("localhost", served["port"], timeout=60, context=trusted)
        try:
            one.request("GET", path, headers={"Host": host})
            answer = one.getresponse()
            return answer.status, {name.lower(): text for name, text in answer.getheaders()}
        except ConnectionRefusedError:
            if time.monotonic() > end:
                raise
            time.sleep(0.3)
        finally:
            one.close()


def test_the_server_answers_by_tls_under_the_certificate_it_made(served: dict[str, Any]) -> None:
    status, heads = ask(served, "/begin-here/")
    assert status == 200
    assert "secure" in heads["set-cookie"].lower()
    assert "strict-transport-security" not in heads, "only with a certificate that is trusted"
    assert ask(served, "/week/")[1]["location"] == "/begin-here/"
    assert len(served["code"]) == 14
    assert len(served["certificate_sha256"]) == 95


def test_it_answers_to_its_own_names_only(served: dict[str, Any]) -> None:
    assert ask(served, "/begin-here/", "elsewhere.example")[0] == 400


def test_it_does_not_answer_in_the_open(served: dict[str, Any]) -> None:
    ask(served, "/begin-here/")
    with pytest.raises((HTTPException, OSError)):
        in_the_open(served["port"])


def in_the_open(port: int) -> int:
    one = HTTPConnection("127.0.0.1", port, timeout=20)
    try:
        one.request("GET", "/begin-here/")
        return one.getresponse().status
    finally:
        one.close()


def test_its_key_is_private(served: dict[str, Any]) -> None:
    key = Path(served["certificate"]).with_name("certificate-key.pem")
    assert key.stat().st_mode & 0o077 == 0
    assert "PRIVATE KEY" not in Path(served["certificate"]).read_text("ascii")
