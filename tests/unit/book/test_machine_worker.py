"""Working jobs off: each once, under a lease, whatever happens to its worker."""

import os
import shutil
import signal
import time
from collections.abc import Callable, Iterator, Mapping
from datetime import UTC, date, datetime, timedelta
from multiprocessing import get_context
from pathlib import Path
from typing import Any

import pytest

from swardbook.book import machine_jobs
from swardbook.book.all_lawns import all_lawns
from swardbook.book.machine_jobs import (
    KINDS,
    Doing,
    Kind,
    ask_for,
    ask_for_night,
    do_again,
    jobs_counted,
    jobs_listed,
)
from swardbook.book.machine_worker import Working, one_done, work_alone
from swardbook.book.opening import Book, open_any_book
from swardbook.demo.many_lawns import TODAY, Firm, write_firm
from swardbook.foundation.errors import (
    BadInputError,
    NotEnoughDataError,
    StorageError,
    UnknownNameError,
)
from swardbook.records.job_list import jobs_of
from swardbook.settings import MachineWork, Settings

NOW = datetime(2026, 11, 26, 2, 0, tzinfo=UTC)


def clock() -> date:
    return TODAY


def now() -> datetime:
    return NOW


def real_now() -> datetime:
    return datetime.now(UTC)


@pytest.fixture(scope="module")
def firm(tmp_path_factory: pytest.TempPathFactory) -> Path:
    home = tmp_path_factory.mktemp("firm")
    write_firm(Settings(home), Firm(lawns=2, years=1))
    return home


@pytest.fixture
def book(firm: Path, tmp_path: Path) -> Iterator[Book]:
    shutil.copy2(firm / "book.sqlite3", tmp_path)
    book = open_any_book(Settings(tmp_path, machine_work=MachineWork(days=0, lease=3)), clock)
    yield book
    book.store.close()


def working(book: Book, at: Callable[[], datetime] = now) -> Working:
    return Working(book.settings, clock, at, until_empty=True)


@pytest.fixture
def odd(monkeypatch: pytest.MonkeyPatch) -> Callable[[Callable[[Doing], Mapping[str, Any]]], None]:
    """Let a kind of work called odd be done in another way."""

    def put(do: Callable[[Doing], Mapping[str, Any]]) -> None:
        kinds = {**KINDS, "odd": Kind("odd", "odd work", do)}
        monkeypatch.setattr(machine_jobs, "KINDS", kinds)

    return put


def test_a_night_asked_for_twice_is_done_once_for_each_lawn(book: Book) -> None:
    assert ask_for_night(book, TODAY, NOW) == 3, "two lawns and a safe copy"
    assert ask_for_night(book, TODAY, NOW) == 0
    while one_done(working(book), book):
        pass
    assert jobs_counted(book) == {"waiting": 0, "running": 0, "done": 3, "failed": 0}
    assert all_lawns(book).stale == 0
    assert {each.kind for each in jobs_listed(book)} == {"night", "copy"}


def test_a_letter_lies_beside_the_book(book: Book) -> None:
    slug = book.store.slug()
    ask_for(book, "letter", NOW, {"leave_out": ["costs"]}, ground=slug)
    assert one_done(working(book), book)
    [job] = jobs_listed(book)
    assert (job.state, job.reason) == ("done", "")
    assert job.result is not None
    path = Path(job.result["file"])
    assert path.parent == book.settings.home / "letters"
    assert path.read_bytes().startswith(b"%PDF")


def test_work_of_no_kind_is_refused(book: Book) -> None:
    with pytest.raises(UnknownNameError):
        ask_for(book, "cooking", NOW)


def test_what_comes_to_nothing_for_now_is_tried_again_later(book: Book, odd: Any) -> None:
    def full(doing: Doing) -> Mapping[str, Any]:
        raise StorageError("the disk", "it is full")

    odd(full)
    ask_for(book, "odd", NOW)
    assert one_done(working(book), book)
    [job] = jobs_listed(book)
    assert (job.state, job.not_before) == ("waiting", NOW + timedelta(minutes=2))
    assert "it is full" in job.reason
    assert not one_done(working(book), book)


@pytest.mark.parametrize(
    ("slip", "told"),
    [(BadInputError("zone", "x", "another"), "another"), (KeyError("x"), "KeyError: 'x'")],
)
def test_what_would_fail_alike_has_failed_and_can_be_done_again(
    book: Book, odd: Any, slip: Exception, told: str
) -> None:
    def fails(doing: Doing) -> Mapping[str, Any]:
        raise slip

    odd(fails)
    ask_for(book, "odd", NOW)
    assert one_done(working(book), book)
    [job] = jobs_listed(book, ("failed",))
    assert told in job.reason
    odd(lambda doing: {"said": doing.arguments})
    do_again(book, job.id, NOW)
    assert one_done(working(book), book)
    assert jobs_counted(book)["done"] == 1


def test_too_little_data_is_an_answer(book: Book, odd: Any) -> None:
    def short(doing: Doing) -> Mapping[str, Any]:
        raise NotEnoughDataError("a look-ahead", "weather", "none")

    odd(short)
    ask_for(book, "odd", NOW)
    assert one_done(working(book), book)
    [job] = jobs_listed(book)
    assert job.state == "done"
    assert job.result is not None
    assert "not_enough_data" in job.result


def test_a_worker_that_was_too_late_writes_nothing_over(book: Book, odd: Any) -> None:
    def slow(doing: Doing) -> Mapping[str, Any]:
        later = NOW + timedelta(seconds=9)
        [taken] = jobs_of(book.store).take("quicker", "v", later, timedelta(seconds=3))
        assert jobs_of(book.store).end(taken, {"by": "the quicker"}, later)
        return {"by": "the late"}

    odd(slow)
    ask_for(book, "odd", NOW)
    assert one_done(working(book), book)
    [job] = jobs_listed(book)
    assert (job.result, job.attempt) == ({"by": "the quicker"}, 2)


def hanging(doing: Doing) -> Mapping[str, Any]:
    """Say where it is, and wait to be killed; once."""
    marker = Path(doing.arguments["marker"])
    if not marker.exists():
        marker.write_text(str(os.getpid()))
        time.sleep(600)
    return {"done": True}


def hang(working: Working) -> None:
    machine_jobs.KINDS = {**KINDS, "odd": Kind("odd", "odd work", hanging)}
    work_alone(working)


@pytest.mark.long
def test_a_worker_killed_at_its_work_costs_one_lease(book: Book, tmp_path: Path, odd: Any) -> None:
    marker = tmp_path / "marker"
    odd(hanging)
    ask_for(book, "odd", real_now(), {"marker": str(marker)})
    child = get_context("spawn").Process(target=hang, args=(working(book, real_now),))
    child.start()
    while not (marker.exists() and marker.read_text()):
        time.sleep(0.05)
    first = jobs_listed(book)[0].lease_until
    assert first is not None
    while (held := jobs_listed(book)[0].lease_until) == first:
        time.sleep(0.05)
    assert held is not None, "renewed while its worker lives"
    os.kill(child.pid or 0, signal.SIGKILL)
    child.join()
    child.close()
    while not one_done(working(book, real_now), book):
        time.sleep(0.05)
    [job] = jobs_listed(book)
    assert (job.state, job.attempt, job.result) == ("done", 2, {"done": True})
    assert job.began_at is not None
    assert job.began_at >= held, "nobody took it before its lease ran out"


@pytest.mark.long
def test_a_worker_that_is_told_to_stop_gives_its_work_back_at_once(
    book: Book, tmp_path: Path, odd: Any
) -> None:
    marker = tmp_path / "marker"
    odd(hanging)
    ask_for(book, "odd", real_now(), {"marker": str(marker)})
    child = get_context("spawn").Process(target=hang, args=(working(book, real_now),))
    child.start()
    while not (marker.exists() and marker.read_text()):
        time.sleep(0.05)
    child.terminate()
    child.join(20)
    assert child.exitcode == 0
    child.close()
    [job] = jobs_listed(book)
    assert (job.state, job.reason) == ("waiting", "its worker was stopped")
    assert one_done(working(book, real_now), book), "no lease has to run out first"
    [job] = jobs_listed(book)
    assert (job.state, job.result) == ("done", {"done": True})
