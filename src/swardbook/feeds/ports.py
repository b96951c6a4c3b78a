"""Ports and names of this machine."""

import socket
from contextlib import suppress

_ELSEWHERE = ("192.0.2.1", 9)
"""An address that is set aside for writing about addresses; nothing is sent to it."""


def is_free(address: str, port: int) -> bool:
    """Tell whether a port can be listened on."""
    family = socket.AF_INET6 if ":" in address else socket.AF_INET
    with socket.socket(family) as tried:
        tried.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            tried.bind((address, port))
        except OSError:
            return False
    return True


def own_names() -> tuple[str, ...]:
    """Give the address, then the names, under which other machines reach this one."""
    host = socket.gethostname().casefold()
    found = []
    with suppress(OSError), socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asked:
        asked.connect(_ELSEWHERE)  # chooses the way out; a datagram socket sends nothing by it
        found.append(str(asked.getsockname()[0]))
    found += [host] if "." in host else [f"{host}.local", host]
    return tuple(dict.fromkeys(name for name in found if name and name != "localhost"))
