"""Workers of this machine: one that dies is begun anew, and its task too."""

from collections.abc import Iterator
from pathlib import Path

from swardbook.feeds.spread import Done, Task, Work
from swardbook.feeds.spread_here import SpreadHere
from tests.support import spreading


def told(work: Work, contents: list[bytes], width: int = 2) -> dict[str, Done]:
    tasks = (Task(str(n), content) for n, content in enumerate(contents))
    found = list(SpreadHere(width).each(work, tasks))
    return {each.key: each for each in found if each is not None}


def test_each_task_is_done_once_by_one_of_the_processes() -> None:
    found = told(spreading.doubled, [b"a", b"b", b"c", b"d", b"e"])
    assert {key: each.result for key, each in found.items()} == {
        "0": b"aa", "1": b"bb", "2": b"cc", "3": b"dd", "4": b"ee",
    }  # fmt: skip


def test_a_task_that_fails_says_why_and_stops_no_other() -> None:
    found = told(spreading.refused, [b"good", b"bad", b"well"])
    assert found["1"].result is None
    assert found["1"].reason == "ValueError: no good"
    assert (found["0"].result, found["2"].result) == (b"good", b"well")


def test_a_process_that_dies_is_begun_anew_and_its_task_too(tmp_path: Path) -> None:
    marker = tmp_path / "here"
    marker.touch()
    contents = [str(tmp_path / "not there").encode(), str(marker).encode()] * 2
    found = told(spreading.killed, contents)
    assert not marker.exists()
    assert [found[str(n)].result for n in range(4)] == contents


def test_a_task_that_always_kills_is_given_up_and_stops_no_other() -> None:
    found = told(spreading.always_killed, [b"bad", b"good", b"well"])
    assert found["0"].result is None
    assert "died 3 times" in found["0"].reason
    assert (found["1"].result, found["2"].result) == (b"good", b"well")


def test_tasks_are_asked_for_only_when_a_process_is_free() -> None:
    asked: list[int] = []

    def tasks() -> Iterator[Task]:
        for n in range(6):
            asked.append(n)
            yield Task(str(n), b"a")

    finished = 0
    for done in SpreadHere(2).each(spreading.doubled, tasks()):
        if done is not None:
            assert len(asked) - finished <= 2
            finished += 1
    assert asked == list(range(6))
