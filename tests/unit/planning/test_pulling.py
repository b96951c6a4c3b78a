"""Numbers of plants are written no finer than a few counted places support."""

import pytest

from swardbook.planning.pulling import roughly


@pytest.mark.parametrize(
    ("number", "words"),
    [(998.4, "1,000"), (3.2, "3"), (19.4, "19"), (37.7, "38"), (128, "130"), (12_345, "12,000")],
)
def test_a_number_of_plants_has_two_figures_at_most(number: float, words: str) -> None:
    assert roughly(number) == words
