"""Papers of a trial print on A4 in black, can be read by a machine, and are the same twice."""

from __future__ import annotations

import io
import re
from dataclasses import replace

import numpy as np
import pypdf
import pytest

from swardbook.figures.trial_sheets import Papers, papers_pages, papers_pdf
from swardbook.trials.bags import Entry, bags, weighed
from swardbook.trials.design import UNSOWN, Design, Kind
from swardbook.trials.layout import lay, size_of_plot
from swardbook.trials.shuffling import draw

ENTRIES = {
    "Bobbin": Entry("Bobbin", "BB-0417", 30.0), "Thimble": Entry("Thimble", "TH-1182", 9.0),
    "Ears & #hash [brackets]": Entry("Ears & #hash [brackets]", "", 35.0), UNSOWN: Entry(UNSOWN),
}  # fmt: skip
A4 = (595.28, 841.89)


def papers(kind: Kind = Kind.BLOCKS, repeats: int = 3) -> Papers:
    design = Design(kind, tuple(ENTRIES), repeats, ("8 mm", "12 mm") if kind is Kind.SPLIT else ())
    laid = lay(draw(design, 9), size_of_plot(0.51, 1.5, 2.0), 0.75, 1.0)
    every = bags(laid, ENTRIES)
    return Papers(
        "Old bed: 4 entries", "Old bed", "shuffled by seed 9", "Made-up ground.",
        ("wet south", "dry north"), ("west", "east"), laid, every, weighed(every, 0.15),
        ("The tap is at the east side.",), ("sown", "annual meadow-grass", "bare"),
        ("quality", "height mm"),
    )  # fmt: skip


@pytest.fixture(scope="module")
def pages() -> list[str]:
    reader = pypdf.PdfReader(io.BytesIO(papers_pdf(papers())))
    for page in reader.pages:
        assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(A4, abs=1)
    return [page.extract_text() for page in reader.pages]


def test_there_is_a_peg_plan_bags_a_tally_for_each_block_ratings_and_labels(
    pages: list[str],
) -> None:
    heads = ["Peg plan:", "Bags to weigh", "Tally, block 1", "Tally, block 2", "Tally, block 3",
             "Ratings and heights", "Bag labels", "Peg labels"]  # fmt: skip
    assert len(pages) == len(heads)
    for head, text in zip(heads, pages, strict=True):
        assert head in text


def test_the_peg_plan_tells_every_plot_and_how_to_peg_it_out(pages: list[str]) -> None:
    plan = pages[0]
    for plot in papers().laid.plots:
        assert plot.name in plan
    assert "Both diagonals must be" in " ".join(plan.split())
    assert "wet south" in plan
    assert "3 mower passes wide" in " ".join(plan.split())


def test_bags_are_told_in_grams_and_two_ways(pages: list[str]) -> None:
    assert "45 + 45" in pages[1]
    assert "13.5 + 13.5" in pages[1]
    assert "BB-0417" in pages[1]
    assert "270" in pages[1]


def test_who_counts_is_not_told_the_mixture(pages: list[str]) -> None:
    for page in (*pages[2:6], pages[7]):
        for name in ENTRIES:
            assert name not in page
    assert "Bobbin" in pages[6]
    assert "not sown" in pages[6]


def test_every_page_says_that_the_ground_is_made_up_and_the_seed(pages: list[str]) -> None:
    for page in pages:
        assert "Made-up ground." in page
        assert "shuffled by seed 9" in page


def test_words_that_a_typesetter_would_take_for_orders_are_printed_as_they_are(
    pages: list[str],
) -> None:
    assert "Ears & #hash [brackets]" in " ".join(pages[1].split())


def test_the_same_plan_gives_the_same_bytes() -> None:
    assert papers_pdf(papers()) == papers_pdf(papers())


def test_nothing_is_told_by_colour() -> None:
    from PIL import Image

    for page in papers_pages(papers(), 40):
        pixels = np.asarray(Image.open(io.BytesIO(page)).convert("RGB"), dtype=np.int64)
        assert int(np.ptp(pixels, axis=2).max()) == 0


def test_a_label_is_read_back_by_its_code() -> None:
    cv2 = pytest.importorskip("cv2")
    page = papers_pages(papers(), 200)[-1]
    picture = cv2.imdecode(np.frombuffer(page, np.uint8), cv2.IMREAD_GRAYSCALE)
    _, told, _, _ = cv2.QRCodeDetector().detectAndDecodeMulti(picture)
    read = {text for text in told if text}
    assert len(read) >= 6
    assert all(re.fullmatch(r"Old bed; plot [1-3]-0[1-4]", text) for text in read)


@pytest.mark.parametrize(
    ("kind", "repeats"),
    [
        pytest.param(Kind.SPLIT, 4, marks=pytest.mark.long),
        pytest.param(Kind.BLOCKS, 20, marks=pytest.mark.long),
        (Kind.TUBS, 4),
    ],
)
def test_large_and_nested_trials_still_print(kind: Kind, repeats: int) -> None:
    made = papers_pdf(papers(kind, repeats))
    text = " ".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(made)).pages)
    assert papers(kind, repeats).laid.plots[-1].name in text
    if kind is Kind.SPLIT:
        assert "12 mm" in text


def test_a_trial_without_words_for_its_ends_prints_too() -> None:
    bare = replace(papers(), ends=("", ""), sides=("", ""), mind=(), note="")
    first = pypdf.PdfReader(io.BytesIO(papers_pdf(bare))).pages[0].extract_text()
    assert "the first end" in first
