"""Ports and names of this machine."""

import socket
from contextlib import suppress

_ADDRESS_OF = 0x8915
"""What Linux calls the question for an interface's address."""


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
    """Give the addresses, then the names, under which other machines reach this one.

    Nobody is asked but this machine; where it does not tell its addresses, only the names.
    """
    host = socket.gethostname().casefold()
    found = [*_own_addresses(), *([host] if "." in host else [f"{host}.local", host])]
    return tuple(dict.fromkeys(name for name in found if name and name != "localhost"))


def _own_addresses() -> list[str]:
    try:
        import fcntl
    except ImportError:  # another system
        return []
    found = []
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asked:
        for _, name in socket.if_nameindex():
            with suppress(OSError):
                told = fcntl.ioctl(asked, _ADDRESS_OF, name.encode()[:15].ljust(256, b"\0"))
                found.append(socket.inet_ntoa(told[20:24]))
    return [each for each in found if not each.startswith("127.")]
