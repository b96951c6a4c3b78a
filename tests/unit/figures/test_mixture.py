"""A mixture by weight and by number, in a picture."""

from swardbook.figures.mixture import picture_of_mixture
from swardbook.seed import by_number
from swardbook.seed.lot import LotPart
from tests.support.pictures import of_mixture


def test_its_sentence_names_what_most_of_the_seeds_are() -> None:
    told = of_mixture().sentence
    assert told.startswith("Bobbin. Browntop bent is 20 % of the weight and")
    assert told.endswith("of the seeds.")


def test_two_of_one_species_are_told_apart() -> None:
    parts = (
        LotPart("chewings fescue", 0.5, cultivar="Ferrule"),
        LotPart("chewings fescue", 0.3),
        LotPart("browntop bent", 0.2),
    )
    names = [row[0] for row in picture_of_mixture(by_number(parts)).tables[0].rows]
    assert names == ["Chewings fescue, Ferrule", "Chewings fescue, 2", "Browntop bent"]


def test_weights_given_leave_no_range_to_draw() -> None:
    parts = (
        LotPart("chewings fescue", 0.8, thousand_seed_weight=1.0),
        LotPart("browntop bent", 0.2, thousand_seed_weight=0.075),
    )
    assert "Line on the bar" not in picture_of_mixture(by_number(parts)).key
    assert "Line on the bar" in of_mixture().key
