"""Several grounds in one book: nothing of one is seen, changed or counted in another."""

import inspect
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any
from uuid import UUID

import numpy as np
import pytest

from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.husbandry.ground import HonestSquare, Peg, Plot
from swardbook.husbandry.happenings import Cut, Note
from swardbook.records.among import parts_of_grounds
from swardbook.records.grounds import GroundName, WhichGroundError
from swardbook.records.opening import begin_ground, create_store, open_store
from swardbook.records.store import Store
from swardbook.settings import Settings
from swardbook.weather.forecast import Forecast
from swardbook.weather.series import DailyWeather
from tests.support.books import LOT, MAIN, SHORT, SITE, entry, filled
from tests.support.databases import SERVER, emptied

OTHER = replace(SITE, name="Almshouse Green", latitude=51.0)
PLOT = Plot("1", MAIN.name, 1, 1, "Bobbin")
NOW = datetime(2011, 10, 8, 9, tzinfo=UTC)
SQUARE = HonestSquare("S1", MAIN.name)


def days(first: str, many: int, warmth: float = 9.0) -> DailyWeather:
    on = np.arange(many) + np.datetime64(first, "D")
    flat = np.full(many, warmth)
    return DailyWeather(on, flat - 5, flat + 5, flat * 0, np.zeros(many, dtype=np.int64))


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    return emptied(tmp_path / "home")


@pytest.fixture
def stores(settings: Settings) -> tuple[Store, Store]:
    """Two grounds of one book, each over a connection of its own."""
    first = filled(create_store(settings))
    begin_ground(settings, OTHER).close()
    return first, open_store(settings, "almshouse-green")


def everything(store: Store) -> dict[str, Any]:
    """Ask a store all that it can be asked."""
    weather = store.weather()
    return {
        "slug": store.slug(),
        "ground": store.ground(),
        "whole_diary": store.whole_diary(),
        "chain": store.chain(),
        "check": store.check(),
        "site": store.site(),
        "made_up_today": store.made_up_today(),
        "kept": store.kept("guess"),
        "all_kept": store.all_kept(),
        "weather": None if weather is None else (str(weather.first), weather.tmin.tolist()),
        "weather_name": store.weather_name(),
        "forecast": repr(store.forecast()),
        "stamp": store.stamp(),
        "writes": store.writes(),
        "people": store.people().everyone(),
        "tokens": store.tokens().all(),
        "answered": store.answered().of("a mark"),
    }


def both_or_none(store: Store) -> None:
    with store.together():
        store.save_zone(replace(SHORT, height_of_cut_mm=9.0))
        store.add([entry(7)])


def let_in(store: Store) -> None:
    people = store.people()
    people.set_role(people.add("Odalys", "O", "a hash", False, NOW), "owner")


WRITES: dict[str, Callable[[Store], object]] = {
    "people": let_in,
    "answered": lambda store: store.answered().keep("a mark", "{}", NOW),
    "tokens": lambda store: store.tokens().make("a secret", "calendar", "reader", None, NOW),
    "settle": lambda store: store.settle(replace(MAIN, height_of_cut_mm=9.0)),
    "add": lambda store: store.add([entry(1), entry(2, Note("here"), zone="")]),
    "restore": lambda store: store.restore([link.text for link in store.chain()][:0]),
    "save_site": lambda store: store.save_site(replace(SITE, weekly_hours=3)),
    "save_zone": lambda store: store.save_zone(replace(MAIN, height_of_cut_mm=9.0)),
    "save_peg": lambda store: store.save_peg(Peg("P1", MAIN.name, "elsewhere")),
    "save_square": lambda store: store.save_square(SQUARE),
    "save_plot": lambda store: store.save_plot(PLOT),
    "save_lot": lambda store: store.save_lot(replace(LOT, bought_g=39_000)),
    "keep": lambda store: store.keep("guess", "autumn", {"share": 0.2}),
    "save_weather": lambda store: store.save_weather(days("2011-01-01", 9), "station"),
    "save_forecast": lambda store: store.save_forecast(
        Forecast(days("2011-10-09", 3), date(2011, 10, 8))
    ),
    "together": both_or_none,
    "remember": lambda store: store.remember({"stage": "young"}, date(2011, 10, 8), 3),
}
OF_THE_BOOK = {"at", "beside", "grounds", "close", "lawns"}
"""What is about the whole book."""


def test_every_public_method_of_a_store_is_tried_here(stores: tuple[Store, Store]) -> None:
    public = {name for name, _ in inspect.getmembers(Store, inspect.isfunction) if name[0] != "_"}
    assert public == {*everything(stores[0]), *WRITES} | OF_THE_BOOK


@pytest.mark.parametrize("name", WRITES)
def test_what_is_written_in_one_ground_is_not_seen_in_another(
    stores: tuple[Store, Store], name: str
) -> None:
    here, there = stores
    before = everything(there)
    WRITES[name](here)
    assert everything(there) == before
    assert there.check() == here.check() == ()


def test_both_grounds_may_hold_the_same_names_and_the_same_ids(
    stores: tuple[Store, Store],
) -> None:
    here, there = stores
    for zone in (MAIN, SHORT):
        there.save_zone(zone)
    here.add([entry(1)])
    there.add([entry(1, Cut(30.0, False)), entry(2)])
    assert [each.needs_a_look for each in there.whole_diary()] == ["", ""]
    assert [link.position for link in here.chain()] == [1]
    assert [link.position for link in there.chain()] == [1, 2]
    assert here.chain()[0].checksum != there.chain()[0].checksum


def test_each_ground_has_a_whole_chain_of_its_own_however_they_take_turns(
    stores: tuple[Store, Store],
) -> None:
    here, there = stores
    for n in range(6):
        (here, there)[n % 2].add([entry(n)])
    alone = [link.checksum for link in here.chain()]
    assert here.check() == there.check() == ()
    assert [link.position for link in here.chain()] == [1, 2, 3]
    assert len({*alone}) == 3


def test_a_ground_cannot_be_corrected_from_another(stores: tuple[Store, Store]) -> None:
    here, there = stores
    here.add([entry(1)])
    with pytest.raises(UnknownNameError):
        there.add([entry(2, corrects=UUID(int=1))])


def test_the_same_weather_is_kept_once_and_is_let_go_by_each_alone(
    stores: tuple[Store, Store],
) -> None:
    from swardbook.records.models import WeatherDay

    here, there = stores
    for store in stores:
        store.save_weather(days("2011-01-01", 40), "county")
    assert WeatherDay.objects.using(here._rows.alias).count() == 40
    here.save_weather(days("2011-01-01", 50), "county")
    kept = there.weather()
    assert kept is not None
    assert (len(kept), here.check(), there.check()) == (40, (), ())
    there.save_weather(days("2011-01-01", 50), "county")
    assert WeatherDay.objects.using(here._rows.alias).count() == 50


def test_weather_without_a_day_is_whole_and_one_whose_days_are_gone_is_not(
    stores: tuple[Store, Store],
) -> None:
    from swardbook.records.models import WeatherDay

    here, there = stores
    here.save_weather(days("2011-01-01", 0), "county")
    there.save_weather(days("2011-01-01", 4), "county")
    assert (here.check(), there.check()) == ((), ())
    WeatherDay.objects.using(here._rows.alias).all().delete()
    assert here.check() == ()
    assert [each.where for each in there.check()] == ["The weather"]


def test_damaged_weather_is_not_shared_with_who_saves_it_anew(stores: tuple[Store, Store]) -> None:
    from swardbook.records.models import WeatherDay

    here, there = stores
    here.save_weather(days("2011-01-01", 40), "county")
    WeatherDay.objects.using(here._rows.alias).filter(day="2011-01-05").update(tmax=70)
    there.save_weather(days("2011-01-01", 40), "county")
    assert [each.where for each in here.check()] == ["The weather"]
    assert there.check() == ()


def test_without_a_name_the_only_ground_is_meant(settings: Settings) -> None:
    filled(create_store(settings)).close()
    for asked in (None, "", "fennowick-croquet-club", "Fennowick Croquet CLUB"):
        store = open_store(settings, asked)
        assert store.site() == SITE
        store.close()
    with pytest.raises(UnknownNameError, match="fennowick-croquet-club"):
        open_store(settings, "fennowick")


def test_of_several_one_must_be_named_and_the_refusal_names_them(
    stores: tuple[Store, Store], settings: Settings
) -> None:
    with pytest.raises(WhichGroundError) as refused:
        open_store(settings)
    told = str(refused.value)
    assert "2 grounds" in told
    assert "almshouse-green (Almshouse Green)" in told
    assert "--ground" in told
    store = open_store(replace(settings, ground="Almshouse Green"))
    assert store.site() == OTHER
    store.close()


def test_grounds_are_listed_by_both_names_and_reached_from_each_other(
    stores: tuple[Store, Store],
) -> None:
    here, there = stores
    assert there.grounds() == here.grounds() == (
        GroundName("fennowick-croquet-club", SITE.name, False),
        GroundName("almshouse-green", OTHER.name, False),
    )  # fmt: skip
    assert here.at("almshouse-green").site() == OTHER


def test_a_short_name_stays_when_the_site_is_given_another_name(
    stores: tuple[Store, Store],
) -> None:
    _, there = stores
    there.save_site(replace(OTHER, name="Old Green"), on=date(2011, 10, 8))
    assert there.slug() == "almshouse-green"
    assert [each.name for each in there.grounds()] == [SITE.name, "Old Green"]


def test_grounds_of_one_name_are_told_apart_by_number(settings: Settings) -> None:
    store = filled(create_store(settings))
    with store.together():
        twin = store.beside(SITE.name)
        twin.save_site(SITE)
    assert twin.slug() == "fennowick-croquet-club-2"
    with pytest.raises(WhichGroundError, match="fits 2 grounds"):
        store.at(SITE.name)
    assert store.at("fennowick-croquet-club-2").site() == SITE


def test_a_ground_that_fails_half_way_is_not_begun(settings: Settings) -> None:
    store = filled(create_store(settings))
    with pytest.raises(BadInputError), store.together():
        store.beside("Almshouse Green").ground()
    assert len(store.grounds()) == 1


def test_a_ground_of_that_name_is_never_written_over(settings: Settings) -> None:
    begin_ground(settings, SITE).close()
    with pytest.raises(BadInputError, match="never written over"):
        begin_ground(settings, replace(SITE, name=SITE.name.upper()))


def test_no_real_ground_is_begun_in_a_made_up_book(settings: Settings) -> None:
    begin_ground(settings, replace(SITE, made_up_today=date(2011, 10, 8))).close()
    with pytest.raises(BadInputError, match="never written over"):
        begin_ground(settings, OTHER)


@pytest.mark.skipif(bool(SERVER), reason="it is made on the server already")
def test_a_name_without_latin_letters_has_a_short_name_too(tmp_path: Path) -> None:
    store = begin_ground(Settings(tmp_path / "home"), replace(SITE, name="芝生"))
    assert store.slug() == "ground"


def test_of_grounds_read_in_part_only_the_one_written_to_is_read_anew(
    stores: tuple[Store, Store],
) -> None:
    first, second = stores
    for store in stores:
        store.add([entry(41, Cut(12.0))])
    before = parts_of_grounds(first, ("cut",))
    assert {slug: len(ground.diary) for slug, ground in before.items()} == dict.fromkeys(before, 1)
    assert len(before) == 2
    second.add([entry(42, Cut(10.0)), entry(43, Note("not asked for"))])
    after = parts_of_grounds(first, ("cut",))
    there = first.slug()
    assert after[there] is before[there]
    assert [each.what for each in after[second.slug()].diary] == [Cut(12.0), Cut(10.0)]
    second.save_lot(replace(LOT, code="XX-1"))
    assert "XX-1" in {lot.code for lot in parts_of_grounds(first, ())[second.slug()].lots}
    assert set(parts_of_grounds(first, (), holding="XX-1")) == {second.slug()}
    assert parts_of_grounds(first, ("cut",), slugs=[there]) == {there: before[there]}
