"""The night's round of all lawns: the same whoever works it out, and nothing lost on the way."""

import json
import shutil
from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from swardbook.book.all_lawns import all_lawns, look_over_lawns
from swardbook.book.machine_kind import machine_kind
from swardbook.book.night import NightTold, night_work, read_told
from swardbook.book.nightly import Means, NightRun, nightly, prefix_of
from swardbook.book.opening import Book, open_any_book
from swardbook.demo.many_lawns import TODAY, Firm, write_firm
from swardbook.feeds.spread import Done, Task, Work
from swardbook.foundation.errors import RefusedError
from swardbook.records.job_list import jobs_of
from swardbook.settings import MachineWork, Settings
from tests.support.spreading import InPlace

NOW = datetime(2026, 11, 26, 2, 0, tzinfo=UTC)


def clock() -> date:
    return TODAY


def now() -> datetime:
    return NOW


@pytest.fixture(scope="module")
def firm(tmp_path_factory: pytest.TempPathFactory) -> Path:
    home = tmp_path_factory.mktemp("firm")
    write_firm(Settings(home), Firm(lawns=4, years=1))
    return home


@pytest.fixture
def book(firm: Path, tmp_path: Path) -> Iterator[Book]:
    shutil.copy2(firm / "book.sqlite3", tmp_path)
    settings = Settings(tmp_path, machine_work=MachineWork(days=0))
    book = open_any_book(settings, clock)
    yield book
    book.store.close()


def round_of(book: Book, **about: Any) -> NightRun:
    return nightly(book, Means(InPlace(), "tests", now, **about))


def looked_over(book: Book) -> list[object]:
    return [replace(each, looked_on=None) for each in all_lawns(book).lawns]


def test_a_round_finds_what_a_look_at_each_lawn_finds(book: Book, firm: Path) -> None:
    run = round_of(book)
    assert (run.lawns, run.looked, run.before, run.faults) == (4, 4, 0, ())
    assert run.is_well
    other = open_any_book(Settings(firm), clock)
    look_over_lawns(other, clock)
    assert looked_over(book) == looked_over(other)
    assert all_lawns(book).stale == 0
    other.store.close()


def test_what_was_looked_over_is_not_again(book: Book) -> None:
    first = round_of(book)
    second = round_of(book)
    assert (first.looked, second.looked, second.before) == (4, 0, 4)


def test_a_round_that_is_stopped_goes_on_with_the_rest(book: Book) -> None:
    seen: list[NightTold] = []

    def stop(told: NightTold) -> None:
        seen.append(told)
        if len(seen) == 2:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        round_of(book, watch=stop)
    jobs = jobs_of(book.store)
    counts = jobs.counts(prefix_of(TODAY))
    assert (counts["done"], counts["running"]) == (1, 3)
    after = Means(InPlace(), "tests", lambda: NOW + timedelta(minutes=2))
    run = nightly(book, after)
    assert (run.before, run.looked, run.lost) == (1, 3, 3)
    assert jobs.counts(prefix_of(TODAY))["done"] == 4


def test_a_lawn_that_cannot_be_read_is_named_and_stops_no_other(book: Book) -> None:
    from django.db import connections

    with connections[book.store._rows.alias].cursor() as cursor:
        cursor.execute("UPDATE records_thing SET text='{}' WHERE kind='site' AND ground_id=2")
    run = round_of(book)
    assert (run.looked, len(run.faults)) == (3, 1)
    assert not run.is_well
    [lawn] = [each for each in all_lawns(book).lawns if each.fault]
    assert lawn.slug == run.faults[0].ground
    [failed] = jobs_of(book.store).listed(["failed"])
    assert failed.reason == lawn.fault
    jobs_of(book.store).again(failed.id, NOW)
    assert len(round_of(book).faults) == 1


def test_work_that_breaks_is_told_with_its_lawn(book: Book) -> None:
    def broken(content: bytes) -> bytes:
        told = read_told(night_work(content))
        if json.loads(told.text)["look"]["entries"] % 2:
            raise ZeroDivisionError("odd")
        return night_work(content)

    run = round_of(book, work=broken)
    assert run.looked + len(run.faults) == 4
    assert {each.reason for each in run.faults} <= {"ZeroDivisionError: odd"}


def test_the_same_task_has_the_same_answer_each_time(book: Book) -> None:
    tasks: list[bytes] = []

    def twice(content: bytes) -> bytes:
        tasks.append(content)
        return night_work(content)

    round_of(book, work=twice)
    texts = [(read_told(night_work(each)).text, read_told(night_work(each)).text) for each in tasks]
    assert len(texts) == 4
    assert all(one == other and one for one, other in texts)


def test_a_worker_of_another_kind_works_nothing_out(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    theirs = replace(machine_kind(), numba="0.1", processor="another")
    monkeypatch.setattr("swardbook.book.night.machine_kind", lambda _strict: theirs)
    seen: list[NightTold] = []
    with pytest.raises(RefusedError, match=r"another numba, 0\.1, a processor"):
        round_of(book, watch=seen.append)
    assert [each.text for each in seen] == [""]
    monkeypatch.undo()
    run = round_of(book)
    assert (run.looked, run.lost, run.faults) == (4, 0, ())


def test_leases_that_run_out_while_a_lawn_is_worked_at_lose_nothing(book: Book) -> None:
    time = [NOW]

    def slow(content: bytes) -> bytes:
        time[0] += timedelta(seconds=100)
        return night_work(content)

    class Ahead(InPlace):
        """Asks for a task before what came of the last one is told."""

        def each(self, work: Work, tasks: Iterable[Task]) -> Iterator[Done | None]:
            waiting = iter(tasks)
            under_way = [next(waiting)]
            while under_way:
                done = Done(under_way[0].key, work(under_way[0].content))
                under_way = under_way[1:]
                under_way += [each for each in [next(waiting, None)] if each is not None]
                yield done

    run = nightly(book, Means(Ahead(), "tests", lambda: time[0], slow))
    assert (run.looked, run.faults) == (4, ())
    assert {each.state for each in jobs_of(book.store).listed()} == {"done"}
