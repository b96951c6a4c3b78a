"""What a trial teaches: standings beside a choice of mixture, and ranges that models draw from."""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import replace
from datetime import date

import pytest
from click.testing import CliRunner

from swardbook.book import trial_learning
from swardbook.book.choosing import Wanted, compare
from swardbook.book.compiled import kernel_of
from swardbook.book.opening import Book, open_book
from swardbook.book.trial_learned_words import learned_sentences, learned_workings
from swardbook.book.trial_learning import learn_from_trial, learned_for
from swardbook.book.trial_likeness import unlike
from swardbook.book.trial_standing import TrialStanding, trial_standings
from swardbook.cli.main import root
from swardbook.husbandry.ground import Ground
from swardbook.model.compiling import Kernel
from swardbook.model.narrowing import range_of
from swardbook.settings import read_settings
from tests.support.books import standing_on_made_up_ground

TODAY = date(2011, 10, 8)


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Book]:
    """The made-up ground, built once; these tests write nothing into it."""
    home = tmp_path_factory.mktemp("made_up") / "book"
    with standing_on_made_up_ground(home):
        yield open_book(read_settings(os.environ), lambda: TODAY)


@pytest.fixture(scope="module")
def kernel(book: Book) -> Kernel:
    return kernel_of(book.settings, lambda _: None)


def standing(ground: Ground, mixture: str, zone: str = "Main court") -> TrialStanding:
    wanted = ground.zone(zone)
    told = trial_standings(ground, wanted, wanted.height_of_cut_mm, wanted.sun_hours)
    (found,) = told[mixture.casefold()]
    return found


def test_a_mixture_stands_as_its_verdict_says_with_the_trial_its_day_and_conditions(
    book: Book,
) -> None:
    ground = book.ground()
    bobbin, haystack = standing(ground, "Bobbin"), standing(ground, "Haystack")
    assert bobbin.verdict.startswith("too close to call")
    assert "Thimble" in bobbin.level
    assert not bobbin.counts
    assert haystack.counts
    assert set(haystack.behind) >= {"Bobbin", "Thimble"}
    for part in ("Trial ground", "21 September 2011", "13 months", "cut at 10 mm", "4 plots"):
        assert part in haystack.words


def test_what_is_only_just_clear_is_said_and_moves_nothing(book: Book) -> None:
    haystack = standing(book.ground(), "Haystack")
    hardly = replace(haystack, behind=(), only_just=("Bobbin",))
    assert not hardly.counts
    assert "could easily have fallen the other way" in hardly.words


def test_only_like_for_like_moves_the_order_and_what_is_not_known_is_not_alike(book: Book) -> None:
    ground = book.ground()
    shade = standing(ground, "Haystack", "Lime Walk")
    assert shade.behind
    assert not shade.counts
    assert "cut at 10 mm there, 35 mm here" in shade.words
    trial = ground.zone("Trial ground")
    assert unlike(trial, 10.0, 7.0) == ()
    assert unlike(trial, 10.0, None) == ("hours of sun not known here",)
    assert unlike(replace(trial, sun_hours=None), 10.0, 7.0) == ("hours of sun not known there",)
    assert unlike(trial, 20.0, 7.0) == ("cut at 10 mm there, 20 mm here",)


def test_another_lot_of_the_same_name_is_another_seed(book: Book) -> None:
    bobbin = standing(book.ground(), "Bobbin")
    assert bobbin.for_lot("bb-0417") is bobbin
    assert "another seed until you say otherwise" in bobbin.for_lot("BB-0533").words


def test_an_early_count_moves_nothing(book: Book) -> None:
    haystack = standing(book.ground(), "Haystack")
    early = replace(haystack, months=4.0)
    assert early.is_so_far
    assert not early.counts
    assert "so far" in early.words


def test_a_trial_narrows_ranges_of_what_was_sown_and_says_from_what_to_what(
    book: Book, kernel: Kernel
) -> None:
    found = learn_from_trial(book, "Trial ground", kernel)
    assert found.why_not == ""
    assert (found.mixtures, found.plots, found.blocks, found.counts) == (9, 40, 4, 6)
    assert found.effective >= 0.05 * found.draws
    keys = [each.key for each in found.ranges]
    assert "model.sown.bent.cover_50" in keys
    assert all(key.startswith(("model.sown.", "seed_")) for key in keys)
    bent = found.ranges[keys.index("model.sown.bent.cover_50")]
    assert 0 < bent.scale < 1
    before, now = range_of(bent.key), range_of(bent.key, bent)
    assert now[1] > before[1]
    told = " ".join(learned_sentences(found))
    assert "300 to 600 °C d in the handbook (judged)" in told
    assert "as measured here" in told
    workings = learned_workings(found)
    assert "2,048 draws carry the weight" in workings.arithmetic[0]
    assert any("half cover" in each.name for each in workings.inputs)


def test_what_a_trial_taught_is_kept_to_the_last_bit_and_made_anew_when_torn(
    book: Book, kernel: Kernel, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = learn_from_trial(book, "Trial ground", kernel)

    def refuse(*_: object) -> None:
        raise AssertionError

    with monkeypatch.context() as patched:
        patched.setattr(trial_learning, "_learn", refuse)
        assert learn_from_trial(book, "Trial ground", kernel) == first
    for path in (book.settings.cache / "trials").glob("*.json"):
        path.write_text("{", encoding="utf-8")
    assert learn_from_trial(book, "Trial ground", kernel) == first


def test_under_three_blocks_and_without_counts_nothing_is_learned(
    book: Book, kernel: Kernel, monkeypatch: pytest.MonkeyPatch
) -> None:
    ground = book.ground()
    two = replace(ground, plots=tuple(each for each in ground.plots if each.block < 3))
    monkeypatch.setattr(Book, "ground", lambda _: two)
    few = learn_from_trial(book, "Trial ground", kernel)
    assert few.ranges == ()
    assert few.why_not == "It needs 3 blocks; there is 2."
    bare = replace(ground, diary=tuple(e for e in ground.diary if e.what.kind == "sow"))
    monkeypatch.setattr(Book, "ground", lambda _: bare)
    none = learn_from_trial(book, "Trial ground", kernel)
    assert none.ranges == ()
    assert "cover counted on its plots" in none.why_not


def test_a_ground_leans_on_a_trial_that_is_like_it_and_says_why_on_no_other(
    book: Book, kernel: Kernel
) -> None:
    ground = book.ground()
    assert learned_for(book, ground.zone("Main court"), kernel).ranges
    shade = learned_for(book, ground.zone("Lime Walk"), kernel)
    assert shade.ranges == ()
    assert learned_sentences(shade)[0].startswith("The trial in Trial ground is not leaned on.")


def test_ranges_measured_here_change_how_a_mixture_is_grown_on(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    wanted = Wanted("Main court")
    with_it = compare(book, wanted, ["TH-1182", "GP-2240"])
    assert with_it.learned.ranges
    monkeypatch.setattr("swardbook.book.choosing.learned_for", lambda *_: trial_learning.NOTHING)
    without = compare(book, wanted, ["TH-1182", "GP-2240"])
    first = [each.short_list[0].looks[0].sown.median for each in (with_it, without)]
    assert first[0] < first[1] - 0.05


@pytest.mark.long
def test_the_look_ahead_says_what_it_leans_on(book: Book) -> None:
    told = CliRunner().invoke(
        root, ["look-ahead", "--zone", "Main court", "--draws", "256"], prog_name="swardbook"
    )
    assert told.exit_code == 0, told.output
    text = " ".join(told.output.split())
    assert "Leans on the trial in Trial ground" in text
    assert "Warmth that sown bent takes to half cover" in text
    assert "ryegrass takes to half cover" not in text
