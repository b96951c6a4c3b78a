"""The machine's own work: rows with a lease."""

import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from swardbook.foundation.errors import UnknownNameError
from swardbook.records.job import NewJob
from swardbook.records.job_list import jobs_of
from swardbook.records.jobs import Jobs
from swardbook.records.nights import Found, end_night
from swardbook.records.opening import create_store, open_store
from swardbook.settings import Settings
from tests.support.books import TODAY, filled
from tests.support.databases import emptied

NOW = datetime(2026, 11, 26, 2, 0, tzinfo=UTC)
LEASE = timedelta(seconds=60)


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Settings:
    settings: Settings = emptied(tmp_path_factory.mktemp("jobs") / "home")
    filled(create_store(settings)).close()
    return settings


@pytest.fixture
def jobs(home: Settings) -> Iterator[Jobs]:
    store = open_store(home)
    jobs = jobs_of(store)
    jobs._rows().delete()
    yield jobs
    store.close()


def asked(jobs: Jobs, *keys: str, most: int = 3) -> int:
    return jobs.ask([NewJob(key, "night", "fennowick-croquet-club", {}) for key in keys], NOW, most)


def test_work_asked_for_twice_is_there_once(jobs: Jobs) -> None:
    assert asked(jobs, "one", "two", "one") == 2
    assert asked(jobs, "two", "three") == 1
    assert [each.key for each in jobs.listed()] == ["three", "two", "one"]


def test_work_for_a_ground_there_is_not_is_refused(jobs: Jobs) -> None:
    with pytest.raises(UnknownNameError):
        jobs.ask([NewJob("one", "night", "no-such-lawn", {})], NOW, 3)


def test_what_one_holds_is_not_given_to_another(jobs: Jobs) -> None:
    asked(jobs, "one", "two")
    [first] = jobs.take("a", "v", NOW, LEASE)
    [second] = jobs.take("b", "v", NOW, LEASE)
    assert {first.key, second.key} == {"one", "two"}
    assert jobs.take("c", "v", NOW, LEASE) == ()
    assert first.ground == "fennowick-croquet-club"


def test_a_lease_that_ran_out_gives_the_work_to_another(jobs: Jobs) -> None:
    asked(jobs, "one")
    [late] = jobs.take("a", "v", NOW, LEASE)
    [now] = jobs.take("b", "w", NOW + LEASE, LEASE)
    assert (now.attempt, now.worker, now.code) == (2, "b", "w")
    assert not jobs.end(late, {"by": "a"}, NOW + LEASE)
    assert not jobs.fail(late, "no", NOW + LEASE)
    assert not jobs.tell(late, "half")
    assert jobs.renew([late], NOW + LEASE, LEASE) == frozenset()
    assert jobs.end(now, {"by": "b"}, NOW + LEASE)
    [ended] = jobs.listed()
    assert (ended.state, ended.result) == ("done", {"by": "b"})


def test_what_is_ended_stays_as_it_ended(jobs: Jobs) -> None:
    asked(jobs, "one")
    [held] = jobs.take("a", "v", NOW, LEASE)
    assert jobs.end(held, {"n": 1}, NOW)
    assert not jobs.end(held, {"n": 2}, NOW)
    assert not jobs.fail(held, "late", NOW)
    assert jobs.take("b", "v", NOW + 9 * LEASE, LEASE) == ()
    assert jobs.listed()[0].result == {"n": 1}


def test_a_lease_that_is_renewed_holds(jobs: Jobs) -> None:
    asked(jobs, "one")
    [held] = jobs.take("a", "v", NOW, LEASE)
    assert jobs.renew([held], NOW + LEASE / 2, LEASE) == {held.id}
    assert jobs.tell(held, "half", 0.5)
    assert jobs.take("b", "v", NOW + LEASE, LEASE) == ()
    [seen] = jobs.listed(["running"])
    assert (seen.progress, seen.share) == ("half", 0.5)


def test_work_whose_holder_is_always_lost_is_given_up(jobs: Jobs) -> None:
    asked(jobs, "one", most=2)
    for turn in range(2):
        assert len(jobs.take("a", "v", NOW + turn * LEASE, LEASE)) == 1
    assert jobs.take("a", "v", NOW + 2 * LEASE, LEASE) == ()
    [lost] = jobs.listed(["failed"])
    assert "gone each time" in lost.reason


def test_a_failure_is_tried_again_later_and_not_for_ever(jobs: Jobs) -> None:
    asked(jobs, "one", most=2)
    [held] = jobs.take("a", "v", NOW, LEASE)
    assert jobs.fail(held, "no signal", NOW, NOW + timedelta(minutes=5))
    assert jobs.take("a", "v", NOW, LEASE) == ()
    assert jobs.listed()[0].reason == "no signal"
    [held] = jobs.take("a", "v", NOW + timedelta(minutes=5), LEASE)
    assert jobs.fail(held, "no signal", NOW, NOW + timedelta(hours=1))
    assert jobs.counts() == {"waiting": 0, "running": 0, "done": 0, "failed": 1}


def test_what_failed_can_be_done_again(jobs: Jobs) -> None:
    asked(jobs, "one")
    [held] = jobs.take("a", "v", NOW, LEASE)
    with pytest.raises(UnknownNameError):
        jobs.again(held.id, NOW)
    jobs.fail(held, "no", NOW)
    assert jobs.again(held.id, NOW).attempt == 0
    [again] = jobs.take("b", "v", NOW, LEASE)
    assert again.id == held.id
    assert not jobs.end(replace(held, attempt=7), {}, NOW)


def test_only_the_kinds_that_were_asked_for_are_taken(jobs: Jobs) -> None:
    jobs.ask([NewJob("p", "photos", "", {"n": 1}), NewJob("q", "letter", "", {})], NOW, 1)
    [held] = jobs.take("a", "v", NOW, LEASE, kinds=["letter"])
    assert (held.key, held.ground) == ("q", "")
    [other] = jobs.take("a", "v", NOW, LEASE, most=5, starting="p")
    assert other.arguments == {"n": 1}


def test_old_results_go_but_the_last_of_each_ground(jobs: Jobs) -> None:
    asked(jobs, "one", "two", "three")
    for held in jobs.take("a", "v", NOW, LEASE, most=3):
        jobs.end(held, {"key": held.key}, NOW)
    assert jobs.forget("night", NOW + LEASE) == 2
    [last] = jobs.last_done("night")
    assert last.key == "three"


def test_a_night_is_ended_with_what_it_found_or_not_at_all(home: Settings, jobs: Jobs) -> None:
    store = open_store(home)
    asked(jobs, "one", "two")
    late, other = jobs.take("a", "v", NOW, LEASE, most=2)
    [now] = jobs.take("b", "v", NOW + LEASE, LEASE)
    for held, told, is_held in ((late, "late", False), (now, "now", True), (now, "twice", False)):
        found = Found({"stages": {}, "next_due": told}, TODAY, store.writes(), {"told": told})
        assert end_night(store, held, found, NOW) == is_held
    [row] = store.lawns(TODAY)
    assert row.summary is not None
    assert (row.summary["next_due"], row.is_written_since) == ("now", False)
    broken = Found({"fault": "torn"}, TODAY, store.writes(), {}, "torn")
    [other] = jobs.take("b", "v", NOW + LEASE, LEASE)
    assert end_night(store, other, broken, NOW)
    [row] = store.lawns(TODAY)
    assert row.summary == {"fault": "torn"}
    assert jobs.counts() == {"waiting": 0, "running": 0, "done": 1, "failed": 1}
    store.close()


def test_many_takers_at_once_get_each_piece_of_work_once(home: Settings, jobs: Jobs) -> None:
    asked(jobs, *(f"{n:02d}" for n in range(24)))

    def taken(name: int) -> list[str]:
        store, found = open_store(home), list[str]()
        while got := jobs_of(store).take(f"taker {name}", "v", NOW, LEASE, most=2):
            found += [each.key for each in got]
        store.close()
        return found

    with ThreadPoolExecutor(4) as pool:
        found = [key for each in pool.map(taken, range(4)) for key in each]
    assert sorted(found) == [f"{n:02d}" for n in range(24)]
    assert {each.attempt for each in jobs.listed()} == {1}


CHILD = """
import sys, time
from datetime import UTC, datetime, timedelta
from pathlib import Path
from swardbook.records.job_list import jobs_of
from swardbook.records.opening import open_store
from swardbook.settings import Settings
jobs = jobs_of(open_store(Settings(Path(sys.argv[1]), sys.argv[2])))
now = datetime(2026, 11, 26, 2, 0, tzinfo=UTC)
[held] = jobs.take("child", "v", now, timedelta(seconds=60))
print(held.id, flush=True)
time.sleep(600)
"""


def test_a_worker_killed_in_the_middle_costs_one_lease(home: Settings, jobs: Jobs) -> None:
    asked(jobs, "one", "two")
    child = subprocess.Popen(
        [sys.executable, "-c", CHILD, str(home.home), home.database],
        stdout=subprocess.PIPE, text=True,
    )  # fmt: skip
    assert child.stdout is not None
    number = int(child.stdout.readline())
    os.kill(child.pid, signal.SIGKILL)
    child.wait()
    child.stdout.close()
    [other] = jobs.take("b", "v", NOW + LEASE / 2, LEASE, most=9)
    assert other.id != number, "the lease of the killed one still holds"
    [again] = jobs.take("b", "v", NOW + LEASE, LEASE)
    assert (again.id, again.attempt) == (number, 2)
    for held in (other, again):
        assert jobs.end(held, {}, NOW + LEASE)
    assert jobs.counts()["done"] == 2


def test_the_latest_come_by_state_in_the_order_asked_for(jobs: Jobs) -> None:
    asked(jobs, "one", "two", "three", "four")
    [held] = jobs.take("worker", "code", NOW, LEASE)
    assert jobs.fail(held, "no signal", NOW)
    jobs.take("worker", "code", NOW, LEASE)
    jobs.ask([NewJob("whole", "copy", "", {})], NOW, 3)

    def told(*states: str, most: int = 9, ground: str = "fennowick-croquet-club") -> list[str]:
        return [each.key for each in jobs.latest(states, ground, most)]

    assert told("failed", "running", "waiting") == ["one", "two", "whole", "four", "three"]
    assert told("waiting", "failed", most=3) == ["whole", "four", "three"]
    assert told("waiting", "failed", ground="another-lawn") == ["whole"]
    assert jobs.latest(("failed",), "fennowick-croquet-club", 1) == jobs.listed(["failed"])
