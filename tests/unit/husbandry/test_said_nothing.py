"""A cut or a watering of which nothing is said is kept, and asked about."""

from __future__ import annotations

import pytest

from swardbook.husbandry.ground import Ground
from swardbook.husbandry.happenings import Cut, Happening, Water
from swardbook.husbandry.looks import odd
from tests.support.books import MAIN, SITE, entry

GROUND = Ground(SITE, (MAIN,))


@pytest.mark.parametrize("what", [Cut(), Water(), Water(by="hose")])
def test_nothing_said_is_asked_about(what: Happening) -> None:
    assert "no more is said" in odd(entry(1, what), GROUND)


@pytest.mark.parametrize(
    "what", [Cut(8.0), Cut(boxed=False), Cut(filled_box=True), Water(minutes=20.0), Water(4.0)]
)
def test_anything_said_is_enough(what: Happening) -> None:
    assert "no more is said" not in odd(entry(1, what), GROUND)
