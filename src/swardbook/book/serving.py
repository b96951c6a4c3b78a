"""How pages are served: to this machine alone, or to others with TLS and log-in."""

from __future__ import annotations

import json
import os
import re
import secrets
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from ipaddress import ip_address
from pathlib import Path

from swardbook.feeds.certificates import fingerprint, make_certificate, require_pair
from swardbook.feeds.ports import is_free, own_names
from swardbook.foundation.errors import BadInputError, StorageError
from swardbook.records.files import make_private_folder
from swardbook.settings import Settings

LOOPBACK = "127.0.0.1"
ENVIRONMENT = "SWARDBOOK_SERVED"
"""By this variable the server's process is told."""
PORT, MORE_PORTS = 8350, 20
"""The usual port, and how many after it are tried where it is taken."""
_LETTERS = "bcdfghkmnpqrtvwxz"
_NAME = re.compile(r"(?!-)[a-z0-9-]{1,63}(?:\.(?!-)[a-z0-9-]{1,63})*")


@dataclass(frozen=True, slots=True)
class Served:
    """To whom pages are served, and how.

    Parameters
    ----------
    to_others : bool
        Whether other machines are answered; then nobody is without log-in.
    names : tuple of str
        Names and addresses of this machine that are answered to, besides the loopback.
    has_tls : bool
        Whether the browser speaks TLS.
    behind_proxy : bool
        Whether TLS ends at a proxy before this program, whose word is taken for it.
    is_certified : bool
        Whether the certificate is not of our own making, so that browsers may insist on it.
    code : str
        The one-time code that whoever makes the owner's account must know.
    """

    to_others: bool = False
    names: tuple[str, ...] = ()
    has_tls: bool = False
    behind_proxy: bool = False
    is_certified: bool = False
    code: str = ""

    def told(self) -> dict[str, str]:
        """Write it for the environment of the server's process."""
        return {ENVIRONMENT: json.dumps(asdict(self))}


def read_served(text: str) -> Served:
    """Read what the server's process was told; nothing: this machine alone."""
    if not text:
        return Served()
    found = json.loads(text)
    return Served(**{**found, "names": tuple(found["names"])})


@dataclass(frozen=True, slots=True)
class Asked:
    """What was asked of ``serve``.

    Parameters
    ----------
    port : int or None
        The port; None takes the usual one, or the next that is free.
    host : str
        Address to listen on.
    names : tuple of str
        Further names of this machine.
    certificate, key : str
        Files of the certificate; empty for none.
    make_certificate : bool
        Whether to make one where there is none yet.
    behind_proxy : bool
        Whether TLS ends at a proxy.
    """

    port: int | None = None
    host: str = LOOPBACK
    names: tuple[str, ...] = ()
    certificate: str = ""
    key: str = ""
    make_certificate: bool = False
    behind_proxy: bool = False


@dataclass(frozen=True, slots=True)
class Serving:
    """How the server is to be begun.

    Parameters
    ----------
    served : Served
        What its process is told.
    host : str
        Address to listen on.
    port : int
        The port.
    address : str
        Where a browser finds it.
    port_taken : int or None
        The usual port, where something else listens on it.
    certificate, key : Path or None
        Files of the certificate.
    fingerprint : str
        Of the certificate, as browsers show it; empty without one.
    """

    served: Served
    host: str
    port: int
    address: str
    port_taken: int | None
    certificate: Path | None
    key: Path | None
    fingerprint: str


def make_ready(settings: Settings, asked: Asked, needs_owner: bool) -> Serving:
    """Choose how to serve, and make sure that it can be.

    Parameters
    ----------
    settings : Settings
        How this installation is set.
    asked : Asked
        What was asked.
    needs_owner : bool
        Whether the book has no owner yet who could log in.

    Raises
    ------
    BadInputError
        If the port is taken, or other machines would be answered without TLS.
    StorageError
        If a certificate could not be made.
    """
    is_own = is_loopback(asked.host)
    to_others = asked.behind_proxy or not is_own
    names = _names(asked) if to_others else ()
    certificate, key = _pair(settings, asked, names or ("localhost", LOOPBACK))
    has_tls = certificate is not None
    if to_others and not has_tls and not asked.behind_proxy:
        raise BadInputError(
            "--host", asked.host, "an address of this machine alone, as long as there is no TLS",
            "Other machines are let in by log-in, and passwords do not go over the network in the"
            " open. At home: --make-certificate. With a certificate: --certificate FILE --key"
            " FILE. Where a proxy speaks TLS before this program: --behind-proxy.",
        )  # fmt: skip
    port = _port(asked)
    served = Served(
        to_others, names, has_tls or asked.behind_proxy, asked.behind_proxy,
        has_tls and certificate != _own_pair(settings)[0],
        _code() if to_others and needs_owner else "",
    )  # fmt: skip
    shown = names[0] if names else asked.host if is_own else "localhost"
    shown = f"[{shown}]" if ":" in shown else shown
    at = f"https://{shown}/" if asked.behind_proxy else f"http{'s' * has_tls}://{shown}:{port}/"
    return Serving(
        served, asked.host, port, at, PORT if asked.port is None and port != PORT else None,
        certificate, key, fingerprint(certificate) if certificate else "",
    )  # fmt: skip


def is_loopback(host: str) -> bool:
    """Tell whether an address can only be reached from this machine."""
    if host.casefold() == "localhost":
        return True
    try:
        return ip_address(host.strip("[]").partition("%")[0]).is_loopback
    except ValueError:
        return False


def kept_key(settings: Settings) -> str:
    """Give the key of this installation's pages; made once, in a private file beside the book.

    Raises
    ------
    StorageError
        If the folder does not take it.
    """
    file = settings.home / "pages.key"
    try:
        make_private_folder(settings.home)
        try:
            handle = os.open(file, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600)
        except FileExistsError:
            return file.read_text("ascii").strip()
        made = secrets.token_urlsafe(50)
        with os.fdopen(handle, "w", encoding="ascii") as written:
            written.write(f"{made}\n")
    except OSError as slip:
        raise StorageError(str(file), slip.strerror or str(slip)) from slip
    return made


def _names(asked: Asked) -> tuple[str, ...]:
    given = [each.strip().casefold().rstrip(".") for each in asked.names]
    for each in given:
        if not _NAME.fullmatch(each) and not _is_address(each):
            raise BadInputError(
                "--name", each, "a name or address of this machine, such as lawns.local"
            )
    is_any = _is_address(asked.host) and ip_address(asked.host).is_unspecified
    if not is_any and not is_loopback(asked.host):
        if not _NAME.fullmatch(asked.host.casefold()) and not _is_address(asked.host):
            raise BadInputError("--host", asked.host, "an address of this machine, or 0.0.0.0")
        given.append(asked.host.casefold())
    if not asked.behind_proxy and (is_any or not given):
        given += own_names()
    if not given:
        raise BadInputError(
            "--behind-proxy", "no name", "--name NAME, as browsers ask the proxy for it"
        )
    return tuple(dict.fromkeys(given))


def _is_address(text: str) -> bool:
    try:
        ip_address(text)
    except ValueError:
        return False
    return True


def _own_pair(settings: Settings) -> tuple[Path, Path]:
    return settings.home / "certificate.pem", settings.home / "certificate-key.pem"


def _pair(
    settings: Settings, asked: Asked, names: tuple[str, ...]
) -> tuple[Path | None, Path | None]:
    given = (asked.certificate, asked.key)
    if bool(given[0]) != bool(given[1]):
        raise BadInputError(
            "--certificate", given[0] or "nothing", "--certificate and --key together"
        )
    if asked.behind_proxy and (any(given) or asked.make_certificate):
        raise BadInputError("--behind-proxy", "a certificate", "none: the proxy has it")
    if all(given):
        if asked.make_certificate:
            raise BadInputError("--make-certificate", "--certificate", "one of them")
        pair = Path(given[0]).expanduser().resolve(), Path(given[1]).expanduser().resolve()
    elif asked.make_certificate:
        pair = _own_pair(settings)
        if not pair[0].exists():
            make_private_folder(settings.home)
            make_certificate(*pair, [*names, *({"localhost", LOOPBACK} - set(names))])
    else:
        return None, None
    require_pair(*pair)
    return pair


def _port(asked: Asked) -> int:
    if asked.port is None:
        for port in range(PORT, PORT + MORE_PORTS):
            if is_free(asked.host, port):
                return port
    wanted = PORT if asked.port is None else asked.port
    if not is_free(asked.host, wanted):
        other = wanted + 1 if wanted < 65535 else PORT + 1
        raise BadInputError(
            "--port", str(wanted), "a port of this machine that nothing else listens on",
            f"Are the pages open already? Else try --port {other}.",
        )  # fmt: skip
    return wanted


def _code() -> str:
    letters = "".join(secrets.choice(_LETTERS) for _ in range(12))
    return "-".join(letters[place : place + 4] for place in (0, 4, 8))


def environment_of(serving: Serving) -> Mapping[str, str]:
    """Give the variables that the server's process needs."""
    return serving.served.told()
