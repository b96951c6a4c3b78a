"""Whatever can stand in a diary comes back from plain JSON as it was."""

import json
import typing
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from datetime import date
from decimal import Decimal
from typing import Any
from uuid import UUID

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swardbook.foundation.dates import When
from swardbook.foundation.errors import BadInputError
from swardbook.husbandry.codec import plain_entry, plain_happening, read_entry, read_happening
from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.happenings import KINDS, Count, Cut
from swardbook.observations.counts import Method, PlaceCount
from swardbook.records.chain import canonical

TEXT = st.text(st.characters(codec="utf-8"), max_size=30)
NUMBERS = st.floats(allow_nan=False, allow_infinity=False)
DAYS = st.dates(date(1990, 1, 1), date(2100, 1, 1))
PLACES = st.builds(
    PlaceCount,
    place=TEXT,
    method=st.just(Method.BY_EYE),
    found=st.dictionaries(TEXT, st.floats(0, 100), max_size=4),
    looked=st.just(100.0),
    counter=TEXT,
    placement=st.integers(1, 4),
)
PLAIN: dict[Any, st.SearchStrategy[Any]] = {
    str: TEXT,
    bool: st.booleans(),
    int: st.integers(-1000, 10**9),
    float: NUMBERS,
    date: DAYS,
    UUID: st.uuids(),
    Decimal: st.decimals(allow_nan=False, allow_infinity=False, places=2),
}


def values_of(hint: Any) -> st.SearchStrategy[Any]:
    """Build any value that a field may have."""
    inner = typing.get_args(hint)
    if type(None) in inner:
        return st.none() | values_of(next(each for each in inner if each is not type(None)))
    if typing.get_origin(hint) is tuple:
        each = PLACES if inner[0] is PlaceCount else values_of(inner[0])
        return st.lists(each, max_size=3).map(tuple)
    if isinstance(hint, type) and is_dataclass(hint):
        own = typing.get_type_hints(hint)
        return st.builds(hint, **{each.name: values_of(own[each.name]) for each in fields(hint)})
    if typing.get_origin(hint) is Mapping:
        return st.dictionaries(TEXT, values_of(inner[1]), max_size=3)
    return PLAIN[hint]


def happenings(kind: str) -> st.SearchStrategy[Any]:
    """Build any happening of one kind."""
    made = KINDS[kind]
    hints = typing.get_type_hints(made)
    return st.builds(made, **{each.name: values_of(hints[each.name]) for each in fields(made)})


@st.composite
def whens(draw: st.DrawFn) -> When:
    first, last = sorted((draw(DAYS), draw(DAYS)))
    return When(first, last, draw(TEXT))


@st.composite
def entries(draw: st.DrawFn, kind: str) -> DiaryEntry:
    return DiaryEntry(
        id=draw(st.uuids()),
        when=draw(whens()),
        what=draw(happenings(kind)),
        zone=draw(TEXT),
        who=draw(TEXT),
        hours=draw(st.none() | st.floats(0, 100)),
        money=draw(st.none() | PLAIN[Decimal]),
        note=draw(TEXT),
        number=draw(st.integers(1, 100)),
        corrects=draw(st.none() | st.uuids()),
        written_on=draw(st.none() | DAYS),
        needs_a_look=draw(TEXT),
    )


@pytest.mark.parametrize("kind", sorted(KINDS))
@settings(max_examples=25, deadline=None)
@given(data=st.data())
def test_every_kind_of_entry_comes_back_as_it_was(kind: str, data: st.DataObject) -> None:
    entry = data.draw(entries(kind))
    text = canonical(plain_entry(entry))
    back = read_entry(json.loads(text))
    assert back == entry
    assert type(back.what) is type(entry.what)
    assert canonical(plain_entry(back)) == text


def test_a_whole_number_in_a_field_of_measure_is_written_as_one() -> None:
    assert plain_happening(Cut(8)) == plain_happening(Cut(8.0))
    assert canonical(plain_happening(Cut(8))).count("8.0") == 1
    assert read_happening({"kind": "cut", "height_of_cut_mm": 8}) == Cut(8.0)


@pytest.mark.parametrize(
    ("plain", "named"),
    [
        ({"kind": "mow"}, "mow"),
        ({"kind": "cut", "hight": 8.0}, "hight"),
        ({"kind": "cut", "height_of_cut_mm": "8"}, "height_of_cut_mm"),
        ({"kind": "cut", "height_of_cut_mm": float("inf")}, "height_of_cut_mm"),
        ({"kind": "cut", "boxed": 1}, "boxed"),
        ({"kind": "closure", "until": "2011-13-01"}, "until"),
        ({"kind": "count", "places": [{"place": "P1"}]}, "places"),
        ({"kind": "count", "places": {}}, "places"),
        ([], "entry"),
    ],
)
def test_what_is_no_entry_is_refused_by_the_name_of_its_fault(plain: Any, named: str) -> None:
    with pytest.raises(BadInputError) as refused:
        read_happening(plain)
    assert named in str(refused.value)


def test_a_field_that_came_later_takes_its_default() -> None:
    assert read_happening({"kind": "verticut"}) == KINDS["verticut"]()


def test_a_mapping_stays_a_mapping() -> None:
    plain = {"place": "P1", "method": "points", "found": {"bare": 2}, "looked": 25}
    read = read_happening({"kind": "count", "places": [plain]})
    assert isinstance(read, Count)
    found = read.places[0].found
    assert isinstance(found, Mapping)
    assert found == {"bare": 2.0}
