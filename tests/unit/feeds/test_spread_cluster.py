"""Tasks over a cluster: short ones go together, and none pays for another."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from swardbook.feeds.spread import Done, Task
from swardbook.feeds.spread_cluster import TOGETHER, SpreadCluster, _bundles, _do, join
from tests.support.spreading import always_killed, doubled, killed, refused


def short(many: int) -> list[Task]:
    return [Task(f"task {n}", f"{n}".encode()) for n in range(many)]


def test_short_tasks_go_together_and_a_long_one_by_itself() -> None:
    tasks = short(2 * TOGETHER + 1)
    tasks.insert(1, Task("long", b"", is_long=True))
    bundles = list(_bundles(tasks))
    assert [len(each) for each in bundles] == [1, TOGETHER, TOGETHER, 1]
    assert bundles[0][0].is_long
    assert {task.key for bundle in bundles for task in bundle} == {task.key for task in tasks}


def test_tasks_are_asked_for_only_as_bundles_are() -> None:
    asked = []

    def tasks() -> Iterator[Task]:
        for task in short(3 * TOGETHER):
            asked.append(task)
            yield task

    bundles = _bundles(tasks())
    next(bundles)
    assert len(asked) == TOGETHER


def test_one_that_fails_stops_none_of_its_bundle() -> None:
    assert _do(refused, [b"a", b"bad", b"c"]) == [
        (b"a", ""), (None, "ValueError: no good"), (b"c", ""),
    ]  # fmt: skip


@pytest.fixture(scope="module")
def cluster() -> Iterator[SpreadCluster]:
    spread = join("here", "tests", 2)
    yield spread
    spread.close()


@pytest.mark.long
@pytest.mark.filterwarnings("ignore::UserWarning:distributed.*")
class TestOnACluster:
    """What only a cluster can show."""

    def test_each_task_is_done_once(self, cluster: SpreadCluster) -> None:
        done = [each for each in cluster.each(doubled, short(50)) if each]
        assert {(each.key, each.result) for each in done} == {
            (task.key, 2 * task.content) for task in short(50)
        }
        assert len(done) == 50

    def test_nobody_from_outside_can_reach_it(self, cluster: SpreadCluster) -> None:
        import psutil

        assert cluster.width == 2
        ours = psutil.Process()
        listening = {
            each.laddr.ip
            for process in (ours, *ours.children(recursive=True))
            for each in process.net_connections("inet")
            if each.status == psutil.CONN_LISTEN
        }
        assert listening == {"127.0.0.1"}

    def test_a_bundle_whose_worker_dies_is_done_again(
        self, cluster: SpreadCluster, tmp_path: Path
    ) -> None:
        (tmp_path / "once").touch()
        tasks = [*short(5), Task("deadly", str(tmp_path / "once").encode()), *short(0)]
        done = [each for each in cluster.each(killed, tasks) if each]
        assert sorted(each.key for each in done) == sorted(task.key for task in tasks)
        assert all(each.result is not None for each in done)

    def test_one_that_always_kills_is_given_up_and_its_neighbours_are_done(
        self, cluster: SpreadCluster
    ) -> None:
        done = {each.key: each for each in cluster.each(
            always_killed, [*short(3), Task("deadly", b"bad")]) if each}  # fmt: skip
        assert done.pop("deadly") == Done(
            "deadly", None, "its worker died each time, also when it was alone"
        )
        assert all(each.result is not None for each in done.values())
        assert len(done) == 3
