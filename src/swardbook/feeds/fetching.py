"""One file from a service, or the reason why not: bounded in size and time, and never from inside.

An address that was set is asked over TLS, or without it on this machine. Where the answer leads on
to another address, that one is asked over TLS only, and never inside a network of one's own: each
name is looked up once, what was found is looked at, and the connection goes there.
"""

from __future__ import annotations

import http.client
import socket
import ssl
import threading
import urllib.error
import urllib.request
from contextlib import suppress
from dataclasses import dataclass
from functools import partial
from http.client import HTTPMessage, HTTPResponse
from ipaddress import IPv6Address, ip_address
from typing import IO, Any
from urllib.parse import urlsplit

from swardbook import __version__
from swardbook.foundation.errors import BadInputError, SwardbookError

MOST_BYTES = 4 * 1024 * 1024
"""Largest answer that is read; a year of days for fifty courses is under half of it."""
SECONDS = 20.0
"""Longest time for all of it [s]."""
_LEADS_ON, _LEADING = 3, {301, 302, 303, 307, 308}
_PART = 64 * 1024


class NoAnswerError(SwardbookError):
    """Nothing that can be used came from a service; the reason in words, without the address."""

    def __str__(self) -> str:
        """Give the reason."""
        return str(self.args[0])


@dataclass(frozen=True, slots=True)
class Answer:
    """What a service answered.

    Parameters
    ----------
    body : bytes
        The file; empty where it is as it was.
    is_unchanged : bool
        Whether it is as it was.
    etag, last_modified : str
        What to send next time to be told only of changes.
    """

    body: bytes
    is_unchanged: bool
    etag: str = ""
    last_modified: str = ""


def fetch(
    address: str, *, etag: str = "", last_modified: str = "", most_bytes: int = MOST_BYTES,
    seconds: float = SECONDS,
) -> Answer:  # fmt: skip
    """Ask a service for one file.

    Parameters
    ----------
    address : str
        Where; https, or http on this machine.
    etag, last_modified : str
        Of the answer that is kept; then the service may say that it is still so.
    most_bytes : int
        Longest answer that is read.
    seconds : float
        Longest time for all of it. [s]

    Raises
    ------
    BadInputError
        If the address is none that is asked.
    NoAnswerError
        If nothing came that can be used.
    """
    host_of(address)
    headers = {
        "User-Agent": f"swardbook/{__version__}", "Accept": "application/json",
        "Accept-Encoding": "identity", "Connection": "close",
    }  # fmt: skip
    headers |= {"If-None-Match": etag} if etag else {}
    headers |= {"If-Modified-Since": last_modified} if last_modified else {}
    watch = _Watch(seconds)
    try:
        request = urllib.request.Request(address, headers=headers)
        with watch, _opener(watch).open(request, timeout=seconds) as answer:
            found = _read(answer, most_bytes)
            if watch.is_over:  # what was cut looks like the end of an answer without a length
                raise TimeoutError
            return found
    except urllib.error.HTTPError as told:
        with told:
            if told.code == http.HTTPStatus.NOT_MODIFIED and (etag or last_modified):
                return Answer(b"", True, etag, last_modified)
            on = ", without an address that can be asked" if told.code in _LEADING else ""
            raise NoAnswerError(f"the server answered {told.code}{on}") from None
    except NoAnswerError:
        raise
    except (OSError, http.client.HTTPException, ValueError) as slip:
        raise NoAnswerError(_why(slip, watch, seconds)) from None


def host_of(address: str) -> str:
    """Give the host of an address that may be asked.

    Raises
    ------
    BadInputError
        If it is no address, not over TLS, or holds a name and password.
    """
    allowed = "an address that begins with https://, or http:// on this machine"
    try:
        parts = urlsplit(address)
        host, _port = parts.hostname or "", parts.port
    except ValueError:
        raise BadInputError("the address", "one that cannot be read", allowed) from None
    is_here = host == "localhost" or _is_loopback(host)
    if parts.scheme != "https" and not (parts.scheme == "http" and is_here):
        raise BadInputError("the address", f"{parts.scheme or 'no'}://{host}", allowed)
    if not host or "@" in parts.netloc or not address.isascii() or not address.isprintable():
        raise BadInputError("the address", host or "no host", allowed, "No name or password in it.")
    if " " in address:
        raise BadInputError("the address", f"a space after {host}", allowed)
    return host


def _read(answer: HTTPResponse, most_bytes: int) -> Answer:
    told = answer.headers
    if answer.status != http.HTTPStatus.OK:
        raise NoAnswerError(f"the server answered {answer.status}")
    if told.get("Content-Encoding", "identity").casefold() != "identity":
        raise NoAnswerError("the server sent it packed, which was not asked for")
    too_long = f"the answer is longer than {most_bytes / 1e6:.1f} MB"
    length = told.get("Content-Length", "0")
    if length.isdecimal() and int(length) > most_bytes:
        raise NoAnswerError(too_long)
    held = bytearray()
    while part := answer.read1(_PART):
        held += part
        if len(held) > most_bytes:
            raise NoAnswerError(too_long)
    if length.isdecimal() and "Content-Length" in told and len(held) != int(length):
        raise NoAnswerError(f"the answer broke off after {len(held):,} bytes")
    return Answer(bytes(held), False, _short(told.get("ETag")), _short(told.get("Last-Modified")))


def _short(text: str | None) -> str:
    return text if text and len(text) <= 200 and text.isprintable() else ""


class _Watch:
    """Cuts the line when the time is over, however slowly something comes over it."""

    def __init__(self, seconds: float) -> None:
        self._timer = threading.Timer(seconds, self._cut)
        self._timer.daemon = True
        self._lines: list[socket.socket] = []
        self.is_over = False

    def __enter__(self) -> None:
        self._timer.start()

    def __exit__(self, *_: object) -> None:
        self._timer.cancel()

    def over(self, line: socket.socket) -> None:
        """Watch over a line."""
        self._lines.append(line)

    def _cut(self) -> None:
        self.is_over = True
        for each in self._lines:
            with suppress(OSError):
                each.shutdown(socket.SHUT_RDWR)


class _LedOn(urllib.request.Request):
    """A request to where an answer led."""


class _Leading(urllib.request.HTTPRedirectHandler):
    max_redirections = _LEADS_ON
    max_repeats = 1

    def redirect_request(
        self, req: urllib.request.Request, fp: IO[bytes], code: int, msg: str,
        headers: HTTPMessage, newurl: str,
    ) -> urllib.request.Request | None:  # fmt: skip
        """Follow over TLS only."""
        del msg, headers
        reason = "it led on to an address without TLS"
        if urlsplit(newurl).scheme == "https":
            with suppress(BadInputError):
                host_of(newurl)
                return _LedOn(newurl, headers=dict(req.header_items()), unverifiable=True)
            reason = "it led on to an address that is none"
        fp.close()
        raise NoAnswerError(reason)


def _opener(watch: _Watch) -> urllib.request.OpenerDirector:
    """Make what asks: by http and https alone, by no proxy: that would look names up itself."""
    made = urllib.request.OpenerDirector()
    for each in (
        _Plainly(watch), _Securely(watch), _Leading(), urllib.request.HTTPErrorProcessor(),
        urllib.request.HTTPDefaultErrorHandler(),
    ):  # fmt: skip
        made.add_handler(each)
    return made


class _Plainly(urllib.request.HTTPHandler):
    def __init__(self, watch: _Watch) -> None:
        super().__init__()
        self._watch = watch

    def http_open(self, req: urllib.request.Request) -> HTTPResponse:
        """Ask on this machine."""
        return self.do_open(_made(_PlainLine, req, self._watch), req)


class _Securely(urllib.request.HTTPSHandler):
    def __init__(self, watch: _Watch) -> None:
        super().__init__()
        self._watch = watch

    def https_open(self, req: urllib.request.Request) -> HTTPResponse:
        """Ask over TLS."""
        return self.do_open(_made(_SecureLine, req, self._watch), req)


def _made(line: Any, request: urllib.request.Request, watch: _Watch) -> Any:
    return partial(line, watch=watch, may_be_inside=not isinstance(request, _LedOn))


class _PlainLine(http.client.HTTPConnection):
    def __init__(self, host: str, *, watch: _Watch, may_be_inside: bool, timeout: float) -> None:
        super().__init__(host, timeout=timeout)
        self._watch, self._may_be_inside = watch, may_be_inside

    def connect(self) -> None:
        """Connect to where the name was found to be."""
        self.sock = _connected(self, self._watch, may_be_inside=self._may_be_inside)


class _SecureLine(http.client.HTTPSConnection):
    def __init__(self, host: str, *, watch: _Watch, may_be_inside: bool, timeout: float) -> None:
        super().__init__(host, timeout=timeout)
        self._watch, self._may_be_inside = watch, may_be_inside

    def connect(self) -> None:
        """Connect to where the name was found to be, and see its certificate."""
        plain = _connected(self, self._watch, may_be_inside=self._may_be_inside)
        context = ssl.create_default_context()
        line = context.wrap_socket(plain, server_hostname=self.host, do_handshake_on_connect=False)
        self._watch.over(line)
        self.sock = line
        line.do_handshake()


def _connected(
    asked: http.client.HTTPConnection, watch: _Watch, *, may_be_inside: bool
) -> socket.socket:
    slip: OSError | None = None
    for family, kind, protocol, _name, where in socket.getaddrinfo(
        asked.host, asked.port, type=socket.SOCK_STREAM
    ):
        if not may_be_inside and not _is_outside(str(where[0])):
            raise NoAnswerError("it led on to an address inside a network of one's own")
        line = socket.socket(family, kind, protocol)
        line.settimeout(asked.timeout)
        watch.over(line)
        try:
            line.connect(where)
        except OSError as failed:
            slip = failed
            line.close()
        else:
            return line
    raise slip or OSError("its name leads nowhere")


def _is_outside(text: str) -> bool:
    found = ip_address(text.partition("%")[0])
    if isinstance(found, IPv6Address):
        inner = found.ipv4_mapped or found.sixtofour
        if inner is not None:
            found = inner
    return found.is_global and not found.is_multicast


def _is_loopback(host: str) -> bool:
    try:
        return ip_address(host).is_loopback
    except ValueError:
        return False


def _why(slip: Exception, watch: _Watch, seconds: float) -> str:
    if watch.is_over or isinstance(slip, TimeoutError):
        return f"no whole answer within {seconds:g} seconds"
    reason = slip.reason if isinstance(slip, urllib.error.URLError) else slip
    if isinstance(reason, NoAnswerError):
        return str(reason)
    if isinstance(reason, TimeoutError):
        return f"no whole answer within {seconds:g} seconds"
    if isinstance(reason, ssl.SSLCertVerificationError):
        return f"its certificate is not trusted ({getattr(reason, 'verify_message', reason)})"
    if isinstance(reason, OSError) and reason.strerror:
        return f"no answer ({reason.strerror})"
    if isinstance(reason, http.client.HTTPException):
        return f"what came is no answer ({type(reason).__name__})"
    return f"no answer ({type(reason).__name__})"
