"""What is made sure of before pages are served."""

from __future__ import annotations

from swardbook.feeds.ports import is_free
from swardbook.foundation.errors import BadInputError


def require_free(address: str, port: int) -> None:
    """Make sure that a port can be listened on.

    Parameters
    ----------
    address : str
        The machine's own address.
    port : int
        The port.

    Raises
    ------
    BadInputError
        If something else listens there, or it may not be opened.
    """
    if not is_free(address, port):
        raise BadInputError(
            "--port", str(port), "a port that nothing else listens on",
            f"Are the pages open already? Else try --port {port + 1 if port < 65535 else 8351}.",
        )  # fmt: skip
