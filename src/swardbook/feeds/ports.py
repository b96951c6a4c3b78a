"""Ports of this machine."""

import socket


def is_free(address: str, port: int) -> bool:
    """Tell whether a port can be listened on."""
    with socket.socket() as tried:
        tried.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            tried.bind((address, port))
        except OSError:
            return False
    return True
