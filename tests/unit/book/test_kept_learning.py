"""What was learned once is not learned again, and comes back to the last bit."""

from __future__ import annotations

import json
import subprocess
import sys
from dataclasses import replace
from datetime import date, timedelta
from functools import cache
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest

from swardbook.book import kept_learning
from swardbook.book.kept_learning import READS, KeptLearning, rests_on
from swardbook.book.kept_worth import program
from swardbook.book.look_ahead import Asked, chance_of, question_of
from swardbook.demo.scenario import TODAY, made_up_ground, made_up_weather
from swardbook.model.chance import Array, Chance
from swardbook.model.growing import Grow, grower
from swardbook.model.past import Known, Seen, Story, live_through
from tests.support.model import kernel

DRAWS = 64
ZONE = "Lime Walk"
LAST_SEEN = date(2011, 8, 6)
"""Nothing more was seen there for two months."""


@cache
def asked() -> tuple[Story, Chance]:
    ground = made_up_ground()
    question, _ = question_of(Asked(ground, made_up_weather(), TODAY, DRAWS), ZONE)
    return question.story, chance_of(ground, question.story.zone)


@cache
def fresh() -> Known:
    story, chance = asked()
    return live_through(story, DRAWS, chance, grower(kernel()))


@pytest.fixture
def lived(monkeypatch: pytest.MonkeyPatch) -> list[Story]:
    """Give the stories that were lived through, each answered with one and the same learning."""
    stories = []

    def live(story: Story, draws: int, chance: Chance, grow: Grow) -> Known:
        stories.append(story)
        return fresh()

    monkeypatch.setattr(kept_learning, "live_through", live)
    return stories


def learn(folder: Path) -> Known:
    story, chance = asked()
    return KeptLearning(folder).learn(story, DRAWS, chance, grower(kernel()))


def only_file(folder: Path) -> Path:
    (path,) = folder.iterdir()
    return path


def bits(known: Known) -> list[tuple[bytes, tuple[int, ...], tuple[int, ...]]]:
    cloud = known.learned.cloud
    arrays: list[Array] = [cloud.states, cloud.unbounded, cloud.log_weights, known.before]
    return [(each.tobytes(), each.shape, each.strides) for each in arrays]


def test_what_was_kept_comes_back_to_the_last_bit(tmp_path: Path, lived: list[Story]) -> None:
    assert fresh().learned.weighings
    assert fresh().expected
    first, second = learn(tmp_path), learn(tmp_path)
    assert len(lived) == 1
    assert first is fresh()
    assert second is not first
    assert bits(second) == bits(first)
    assert second.unknowns == first.unknowns
    assert (second.rows, second.learned.refusal) == (first.rows, first.learned.refusal)
    assert second.learned.weighings == first.learned.weighings
    assert (second.expected, second.expected_rest) == (first.expected, first.expected_rest)


def test_a_refusal_is_kept_as_it_was_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    refused = replace(fresh(), learned=replace(fresh().learned, refusal="It does not fit: ½."))
    monkeypatch.setattr(kept_learning, "live_through", lambda *_: refused)
    assert learn(tmp_path).learned == refused.learned
    monkeypatch.setattr(kept_learning, "live_through", None)
    assert learn(tmp_path).learned.refusal == "It does not fit: ½."


def test_whatever_differs_is_another_question(monkeypatch: pytest.MonkeyPatch) -> None:
    story, chance = asked()
    name = kernel().identity
    heights = np.array(story.operations.cut_height, dtype=np.float64)
    heights[-1] = np.nextafter(heights[-1], np.inf)
    rain = np.array(story.drivers.rain, dtype=np.float64)
    rain[0] = -0.0 if not np.signbit(rain[0]) and rain[0] == 0 else np.nextafter(rain[0], np.inf)
    visit = story.visits[-1]
    places = (replace(visit.places[0], counter="Somebody else"), *visit.places[1:])
    seen = tuple(replace(each, places=places) if each is visit else each for each in story.seen)
    marks = [
        rests_on(story, DRAWS, chance, name),
        rests_on(story, 128, chance, name),
        rests_on(story, DRAWS, chance.under("x"), name),
        rests_on(story, DRAWS, chance, "another machine"),
        rests_on(replace(story, today=story.today - timedelta(days=1)), DRAWS, chance, name),
        rests_on(replace(story, first=story.first - timedelta(days=1)), DRAWS, chance, name),
        rests_on(replace(story, seen=story.seen[:-1]), DRAWS, chance, name),
        rests_on(replace(story, seen=seen), DRAWS, chance, name),
        rests_on(replace(story, assumed=("nothing",)), DRAWS, chance, name),
        rests_on(replace(story, zone=replace(story.zone, area_m2=1.0)), DRAWS, chance, name),
        rests_on(replace(story, start=replace(story.start, bare=0.123)), DRAWS, chance, name),
        rests_on(
            replace(story, operations=story.operations._replace(cut_height=heights)),
            DRAWS, chance, name,
        ),
        rests_on(
            replace(story, drivers=story.drivers._replace(rain=rain)), DRAWS, chance, name
        ),
    ]  # fmt: skip
    monkeypatch.setattr(kept_learning, "program", lambda _: "another text")
    marks.append(rests_on(story, DRAWS, chance, name))
    monkeypatch.undo()
    monkeypatch.setattr(kept_learning, "version", lambda library: f"another {library}")
    marks.append(rests_on(story, DRAWS, chance, name))
    assert len(set(marks)) == len(marks)


def on(day: date) -> Story:
    ground = made_up_ground()
    question, _ = question_of(Asked(ground, made_up_weather(), day, DRAWS), ZONE)
    return question.story


def cut_at(story: Story, place: int) -> Story:
    heights = np.array(story.operations.cut_height, dtype=np.float64)
    cuts = np.array(story.operations.cut, dtype=np.float64)
    heights[place], cuts[place] = 30.0, 1.0 - cuts[place]
    return replace(story, operations=story.operations._replace(cut_height=heights, cut=cuts))


def test_days_and_work_after_the_last_thing_seen_leave_what_was_learned() -> None:
    september, october = on(LAST_SEEN + timedelta(days=2)), on(LAST_SEEN + timedelta(days=61))
    assert september.seen == october.seen
    assert september.last_autumn != october.last_autumn
    name, (_, chance) = kernel().identity, asked()
    first = rests_on(september, DRAWS, chance, name)
    later = rests_on(october, DRAWS, chance, name)
    at = (LAST_SEEN - october.first).days
    cut = rests_on(cut_at(october, at), DRAWS, chance, name)
    assert first[0] == later[0] == cut[0]
    assert len({first[1], later[1], cut[1]}) == 3
    looked = Seen(LAST_SEEN, species=october.seen[-1].species, tufts=(3.0, 10.0))
    after = replace(october, seen=(*october.seen, looked))
    marks = {rests_on(each, DRAWS, chance, name)[0] for each in (after, cut_at(after, at))}
    assert len(marks | {first[0]}) == 3
    pulls = np.array(october.operations.pull_hours, dtype=np.float64)
    pulls[at] = 0.01
    pulled = replace(october, operations=october.operations._replace(pull_hours=pulls))
    assert rests_on(pulled, DRAWS, chance, name)[0] != first[0]
    for place in (0, at - 1):
        assert rests_on(cut_at(october, place), DRAWS, chance, name)[0] != first[0]
    weeks = on(date(2011, 7, 2)), on(date(2011, 6, 28))
    assert weeks[0].seen == weeks[1].seen
    # A new growth year brings guesses of its own.
    assert len({rests_on(each, DRAWS, chance, name)[0] for each in weeks}) == 2


def test_taken_on_to_a_later_day_the_draws_are_those_learned_anew_to_the_last_bit(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    september, october = on(LAST_SEEN + timedelta(days=2)), on(LAST_SEEN + timedelta(days=61))
    october = cut_at(october, (LAST_SEEN - october.first).days)
    (_, chance), grow, kept = asked(), grower(kernel()), KeptLearning(tmp_path)
    kept.learn(september, DRAWS, chance, grow)
    anew = live_through(october, DRAWS, chance, grow)
    monkeypatch.setattr(kept_learning, "live_through", None)
    taken = kept.learn(october, DRAWS, chance, grow)
    assert bits(taken) == bits(anew)
    assert taken.unknowns == anew.unknowns
    assert taken.learned.weighings == anew.learned.weighings
    assert (taken.expected, taken.expected_rest) == (anew.expected, anew.expected_rest)
    earlier = KeptLearning(tmp_path).learn(september, DRAWS, chance, grow)
    assert not np.array_equal(taken.state.zone.gap, earlier.state.zone.gap)


def test_a_refusal_is_told_anew_on_another_day(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    refused = replace(fresh(), learned=replace(fresh().learned, refusal="It does not fit."))
    monkeypatch.setattr(kept_learning, "live_through", lambda *_: refused)
    learn(tmp_path)
    told: list[Story] = []

    def live(story: Story, *_: object) -> Known:
        told.append(story)
        return refused

    monkeypatch.setattr(kept_learning, "live_through", live)
    story, chance = asked()
    tomorrow = replace(story, assumed=("another day",))
    kept, grow = KeptLearning(tmp_path), grower(kernel())
    kept.learn(story, DRAWS, chance, grow)
    assert told == []
    kept.learn(tomorrow, DRAWS, chance, grow)
    assert told == [tomorrow]


def test_a_zone_in_which_nothing_was_seen_has_nothing_to_keep(
    tmp_path: Path, lived: list[Story]
) -> None:
    story, chance = asked()
    KeptLearning(tmp_path).learn(replace(story, seen=()), DRAWS, chance, grower(kernel()))
    assert len(lived) == 1
    assert list(tmp_path.iterdir()) == []


def test_the_same_question_has_the_same_name_however_it_was_read() -> None:
    story, chance = asked()
    again, _ = question_of(Asked(made_up_ground(), made_up_weather(), TODAY, DRAWS), ZONE)
    name = kernel().identity
    assert rests_on(again.story, DRAWS, chance, name) == rests_on(story, DRAWS, chance, name)


def test_learning_reads_no_text_that_its_name_does_not_stand_for() -> None:
    code = "import sys, swardbook.model.past; print(*sys.modules)"
    told = subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True)
    named = [each.split(".") for each in told.stdout.split() if each.startswith("swardbook.")]
    assert ["swardbook", "model", "past"] in named
    assert {parts[1] for parts in named} <= set(READS)
    assert program(READS) != program()


@pytest.mark.parametrize("part", [0.0, 0.001, 0.5, 0.999])
def test_a_torn_file_is_made_anew(tmp_path: Path, lived: list[Story], part: float) -> None:
    learn(tmp_path)
    whole = only_file(tmp_path).read_bytes()
    only_file(tmp_path).write_bytes(whole[: int(part * len(whole))])
    learn(tmp_path)
    assert len(lived) == 2
    assert only_file(tmp_path).read_bytes() == whole


def test_a_changed_bit_is_found_out(tmp_path: Path, lived: list[Story]) -> None:
    learn(tmp_path)
    content = bytearray(only_file(tmp_path).read_bytes())
    content[len(content) // 2] ^= 1
    only_file(tmp_path).write_bytes(content)
    assert bits(learn(tmp_path)) == bits(fresh())
    assert len(lived) == 2


@pytest.mark.parametrize(
    "change",
    [
        {"states": None},
        {"rest": None},
        {"states": np.zeros((3, DRAWS))},
        {"unbounded": np.zeros((3, DRAWS))},
        {"log_weights": np.zeros(DRAWS, np.float32)},
        {"log_weights": np.array([{}] * DRAWS, dtype=object)},
        {"rest": np.frombuffer(b"{}", np.uint8)},
        {"rest": np.frombuffer(b'{"rests_on": "x"', np.uint8)},
    ],
)
def test_a_foreign_file_is_ignored(
    tmp_path: Path, lived: list[Story], change: dict[str, Array | None]
) -> None:
    learn(tmp_path)
    with np.load(only_file(tmp_path)) as held:
        arrays = {name: held[name] for name in held.files} | change
    file = BytesIO()
    np.savez(file, **{name: each for name, each in arrays.items() if each is not None})
    only_file(tmp_path).write_bytes(file.getvalue())
    assert bits(learn(tmp_path)) == bits(fresh())
    assert len(lived) == 2


def test_a_file_of_another_question_under_this_name_is_ignored(
    tmp_path: Path, lived: list[Story]
) -> None:
    learn(tmp_path)
    with np.load(only_file(tmp_path)) as held:
        arrays = {name: held[name] for name in held.files}
    rest = json.loads(arrays["rest"].tobytes()) | {"rests_on": "another"}
    arrays["rest"] = np.frombuffer(json.dumps(rest).encode(), np.uint8)
    np.savez(only_file(tmp_path), **arrays)
    learn(tmp_path)
    assert len(lived) == 2


def test_a_folder_that_cannot_be_written_is_let_be(tmp_path: Path, lived: list[Story]) -> None:
    (tmp_path / "learned").write_text("in the way")
    for number in (1, 2):
        assert learn(tmp_path / "learned") is fresh()
        assert len(lived) == number


def test_a_full_disk_leaves_nothing_behind(
    tmp_path: Path, lived: list[Story], monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.replace", full)
    assert learn(tmp_path) is fresh()
    assert list(tmp_path.iterdir()) == []


def test_the_longest_unused_go_first(
    tmp_path: Path, lived: list[Story], monkeypatch: pytest.MonkeyPatch
) -> None:
    story, chance = asked()
    kept, grow = KeptLearning(tmp_path), grower(kernel())
    keys = [chance.under(str(number)) for number in range(4)]
    kept.learn(story, DRAWS, keys[0], grow)
    size = only_file(tmp_path).stat().st_size
    monkeypatch.setattr(kept_learning, "MOST_BYTES", 3 * size + 100)
    for key in [*keys[1:3], keys[0], keys[3]]:
        kept.learn(story, DRAWS, key, grow)
    assert len(list(tmp_path.iterdir())) == 3
    lived.clear()
    for key in (keys[0], keys[2], keys[3]):
        kept.learn(story, DRAWS, key, grow)
    assert lived == []
    kept.learn(story, DRAWS, keys[1], grow)
    assert len(lived) == 1
