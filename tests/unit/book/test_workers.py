"""Whom a night is spread over: workers of this machine's kind, and nobody else."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

import pytest

from swardbook.book import workers
from swardbook.book.machine_kind import machine_kind
from swardbook.book.workers import spread_over
from swardbook.feeds.spread_here import SpreadHere
from swardbook.foundation.errors import RefusedError
from swardbook.settings import Settings

SETTINGS = Settings(Path("no book"))


@dataclass
class Cluster:
    """A cluster that only says who is there."""

    there: Mapping[str, Any]
    width: int
    closed: list[bool] = field(default_factory=list)

    def ask_all(self, question: Callable[[], Any]) -> Mapping[str, Any]:
        return self.there

    def close(self) -> None:
        self.closed.append(True)


def joined(monkeypatch: pytest.MonkeyPatch, cluster: Cluster) -> Cluster:
    monkeypatch.setattr(workers, "join", lambda *_: cluster)
    return cluster


def test_without_a_cluster_it_is_processes_of_this_machine() -> None:
    with spread_over(SETTINGS, "", 3) as (spread, refused):
        assert isinstance(spread, SpreadHere)
        assert (spread.width, refused) == (3, ())


def test_workers_of_another_kind_are_named_with_what_differs(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    ours = machine_kind()
    there = {
        "tcp://a": ours,
        "tcp://b": replace(ours, code="x", processor="y"),
        "tcp://c": ModuleNotFoundError("swardbook"),
    }
    cluster = joined(monkeypatch, Cluster(there, 1))
    with spread_over(SETTINGS, "tcp://s", 1) as (_, refused):
        assert refused == (
            "tcp://b: another text of swardbook, a processor that can do other things",
            "tcp://c: it cannot run swardbook (swardbook)",
        )
    assert cluster.closed == [True]


@pytest.mark.parametrize(
    ("there", "told"),
    [
        ({}, "it has none"),
        ({"tcp://a": machine_kind()}, "another SWARDBOOK_STRICT"),
        ({"tcp://a": replace(machine_kind(), numba="0.1")}, "tcp://a: another numba, 0.1"),
    ],
)
def test_where_nobody_is_of_its_kind_no_night_is_begun(
    monkeypatch: pytest.MonkeyPatch, there: Mapping[str, Any], told: str
) -> None:
    cluster = joined(monkeypatch, Cluster(there, 0))
    with pytest.raises(RefusedError) as refusal, spread_over(SETTINGS, "tcp://s", 1):
        pass
    assert told in str(refusal.value)
    assert cluster.closed == [True]


def test_with_the_strict_setting_the_processor_is_not_asked_about() -> None:
    loose, strict = machine_kind(), machine_kind(strict=True)
    assert (loose.processor == "any", strict.processor) == (False, "any")
    assert strict.unlike(replace(strict, code="x")) == ("another text of swardbook",)
    assert loose.mark != strict.mark
