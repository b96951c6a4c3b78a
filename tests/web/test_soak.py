"""A short round of the soak; `make soak` goes on for ten minutes."""

import time
from pathlib import Path

from tools.soak import GROUND, LAWN, alone, kept, slowest_twentieth, together

from tests.web.conftest import Server


def test_who_asks_together_hears_no_error_and_nothing_that_was_sent_is_lost(
    server: Server, home: Path
) -> None:
    first = alone(server.port, 1)
    assert first.errors == []
    assert {page for page, _ in first.seconds} >= {f"GET {each}" for each in (*LAWN, *GROUND)}
    began = time.monotonic()
    heard, memory = together(server.port, server.served.pid, 0.15)
    assert heard.errors == []
    assert heard.sent
    assert len(heard.seconds) >= len(heard.sent) + 25  # each opened a page at least
    assert slowest_twentieth(heard) < time.monotonic() - began
    assert all(0 < each < 4000 for each in memory)
    assert (heard.sent | first.sent) <= kept(home)
