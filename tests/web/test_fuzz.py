"""A short round of the fuzzer; `make test-fuzz` goes on to ten thousand."""

from collections.abc import Iterator

import pytest
from tools.fuzz import CASES_BY_NAME, Place, place_for_fuzzing, run_case

ROUND = 70
SEED = 11


@pytest.fixture(scope="module")
def place() -> Iterator[Place]:
    with place_for_fuzzing() as made:
        yield made


def test_malformed_files_are_refused_in_words_and_nothing_is_left_of_them(place: Place) -> None:
    wrong = [each for number in range(ROUND) for each in run_case(place, number, SEED)]
    assert wrong == []
    assert sum(place.tally.values()) == ROUND
    assert place.book.store.check() == ()
    ended = {each.rsplit(": ", 1)[1] for each in place.tally}
    assert {"refused", "kept"} <= ended
    assert len({each.rsplit(": ", 1)[0] for each in place.tally}) > len(CASES_BY_NAME) // 2


def test_the_fuzzer_tells_what_is_half_stored(
    place: Place, monkeypatch: pytest.MonkeyPatch
) -> None:
    def half(place: Place, _chance: object) -> str:
        (place.home / "pictures").mkdir(exist_ok=True)
        (place.home / "pictures" / "left over.jpg").write_bytes(b"x")
        return "refused"

    monkeypatch.setattr("tools.fuzz.CASES_BY_NAME", {"half": (half, 1)})
    told = run_case(place, 1, SEED)
    assert "refused, yet" in told[0]
    assert "lies where nothing should" in told[1]
    (place.home / "pictures" / "left over.jpg").unlink()


def test_the_fuzzer_tells_a_fault(place: Place, monkeypatch: pytest.MonkeyPatch) -> None:
    def faulty(_place: Place, _chance: object) -> str:
        raise ZeroDivisionError

    monkeypatch.setattr("tools.fuzz.CASES_BY_NAME", {"faulty": (faulty, 1)})
    assert "ZeroDivisionError" in run_case(place, 1, SEED)[0]
