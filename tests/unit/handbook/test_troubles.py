"""What may be wrong, as data."""

import re

import pytest

from swardbook.foundation.errors import UnknownNameError
from swardbook.handbook.sources import sources
from swardbook.handbook.troubles import (
    Trouble,
    find_sign,
    signs,
    telling_signs,
    trouble_called,
    troubles,
)
from swardbook.planning.trouble_weather import CONDITIONS

ALL = list(troubles().values())


def test_the_british_first_year_list_is_there() -> None:
    wanted = {
        "damping_off", "microdochium", "red_thread", "leaf_spot", "rust", "take_all", "birds",
        "slugs", "frit_fly", "worm_casts", "cats", "leaf_smother", "wash_off", "leatherjackets",
        "chafers",
    }  # fmt: skip
    assert wanted <= set(troubles())


@pytest.mark.parametrize("trouble", ALL, ids=lambda each: each.key)
def test_a_trouble_says_how_to_tell_it_what_helps_and_what_not_and_whence(trouble: Trouble) -> None:
    assert trouble.usual
    assert trouble.check.endswith((".", "?"))
    assert trouble.do
    assert trouble.not_do
    assert trouble.source in sources()
    assert {*trouble.weather, *trouble.favours} <= set(CONDITIONS)
    assert trouble.weight.is_judged


@pytest.mark.parametrize("trouble", ALL, ids=lambda each: each.key)
def test_no_trouble_names_a_product_or_a_dose(trouble: Trouble) -> None:
    told = f"{trouble.check} {trouble.do} {trouble.not_do}".casefold()
    assert not re.search(r"fungicid|insecticid|pesticid|\bspray|\bml\b|g/m|per cent|drench", told)


def test_every_sign_belongs_to_something_and_a_telling_one_to_few() -> None:
    owners = {sign: [each for each in ALL if sign in (*each.usual, *each.sometimes)]
              for sign in signs()}  # fmt: skip
    assert all(owners.values())
    assert max(len(owners[sign]) for sign in telling_signs()) <= 2


@pytest.mark.parametrize("trouble", ALL, ids=lambda each: each.key)
def test_a_trouble_is_known_by_its_own_name(trouble: Trouble) -> None:
    assert trouble_called(trouble.english) == trouble
    assert trouble_called("an odd thing") is None


def test_what_a_diary_calls_them_finds_them() -> None:
    for name, key in (
        ("Microdochium patch", "microdochium"), ("chafer grubs", "chafers"),
        ("worm casts", "worm_casts"), ("rooks on the lawn", "birds"), ("red thread", "red_thread"),
    ):  # fmt: skip
        found = trouble_called(name)
        assert found is not None
        assert found.key == key


def test_a_sign_is_found_as_typed() -> None:
    assert find_sign("Pink-Threads") == "pink threads"
    with pytest.raises(UnknownNameError, match="pink threads"):
        find_sign("pink thread")
