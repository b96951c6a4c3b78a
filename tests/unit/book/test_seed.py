"""A mixture is worked out whole: every answer from one question, each to be done again by hand."""

from decimal import Decimal

import pytest

from swardbook.book.seed import MixtureQuestion, mixture_workings, work_out
from swardbook.foundation.errors import OutOfRangeError
from swardbook.seed import LotPart, Method, Standard
from tests.support.seed import MIXTURES, parts_of


@pytest.mark.parametrize("name", MIXTURES)
def test_each_mixture_of_the_ground_gives_its_viable_seeds(name: str) -> None:
    _, rate, viable, *_ = MIXTURES[name]
    assert work_out(MixtureQuestion(parts_of(name), rate)).viable_m2 == pytest.approx(
        viable, rel=0.005
    )


def test_what_is_not_asked_is_left_out() -> None:
    found = work_out(MixtureQuestion(parts_of("Bobbin")))
    assert found.order is None
    assert found.comfort is None
    assert found.rate_is_usual


def test_the_workings_add_up_to_the_answer() -> None:
    found = work_out(MixtureQuestion(parts_of("Bobbin"), 30))
    shown = mixture_workings(found)
    sums = [float(line.rsplit("= ", 1)[1].replace(",", "")) for line in shown.arithmetic]
    assert sums == [9545, 9545, 70671]
    assert shown.answer == "89,761"
    assert {each.source for each in shown.inputs} == {"asked", "label"}


def test_a_number_of_the_handbook_keeps_its_grade_in_the_workings() -> None:
    shown = mixture_workings(work_out(MixtureQuestion((LotPart("tufted hair-grass", 1.0),))))
    assert "judged" in {each.source for each in shown.inputs}


@pytest.mark.parametrize(
    ("name", "hard"), [("Pocketwatch", True), ("Wheelbarrow", False), ("Bobbin", False)]
)
def test_ryegrass_beside_fine_grasses_is_marked_as_hard_to_undo(name: str, hard: bool) -> None:
    assert work_out(MixtureQuestion(parts_of(name))).hard_to_undo is hard


def test_the_order_takes_the_rate_that_was_chosen() -> None:
    question = MixtureQuestion(
        parts_of("Bobbin"), area_m2=100, method=Method.SLIT, standard=Standard.VOLUNTARY,
        price_per_kg=Decimal("9.40"),
    )  # fmt: skip
    found = work_out(question)
    assert found.order is not None
    assert found.order.sown_g == pytest.approx(100 * found.rate_g_m2)
    assert found.rate_g_m2 < work_out(MixtureQuestion(parts_of("Bobbin"))).rate_g_m2


def test_a_rate_of_nothing_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="rate"):
        work_out(MixtureQuestion(parts_of("Bobbin"), 0))
