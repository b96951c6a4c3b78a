"""A firm's made-up lawns: the same from the same seed, and written as if entry by entry."""

from pathlib import Path

import pytest

from swardbook.demo.many_lawns import Firm, drawn, lawns_of, station, write_firm
from swardbook.husbandry.ground import Ground
from swardbook.records.opening import create_store, open_store
from swardbook.settings import Settings

FIRM = Firm(lawns=6, years=1)


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("firm") / "home"
    assert len(write_firm(Settings(made), FIRM)) == FIRM.lawns
    return made


def put_one_by_one(settings: Settings, ground: Ground) -> None:
    store = create_store(settings)
    store.save_site(ground.site)
    for zone in ground.zones:
        store.save_zone(zone)
    for peg in ground.pegs:
        store.save_peg(peg)
    for square in ground.squares:
        store.save_square(square)
    for lot in ground.lots:
        store.save_lot(lot)
    for entry in ground.diary:
        store.add([entry])
    store.save_weather(station(FIRM, 0), "Made-up station 1")
    store.close()


def test_a_lawn_is_as_it_would_be_had_it_been_written_entry_by_entry(
    home: Path, tmp_path: Path
) -> None:
    put_one_by_one(Settings(tmp_path), drawn(FIRM, 0))
    alone, among = open_store(Settings(tmp_path)), open_store(Settings(home), "1-plover-row")
    assert among.chain() == alone.chain()
    assert among.ground() == alone.ground()
    assert among.check() == ()
    assert among.weather_name() == alone.weather_name()
    assert repr(among.weather()) == repr(alone.weather())


def test_every_lawn_has_a_whole_chain(home: Path) -> None:
    store = open_store(Settings(home), "1-plover-row")
    for each in store.grounds():
        assert each.is_made_up
        assert store.at(each.slug).check() == ()


def test_a_lawn_is_the_same_in_a_book_of_few_and_of_many() -> None:
    few, many = lawns_of(Firm(lawns=2)), lawns_of(Firm(lawns=4))
    assert list(few) == [next(many), next(many)]


def test_three_years_make_some_hundred_entries_and_some_lawns_have_few() -> None:
    sizes = [len(each.diary) for each in lawns_of(Firm(lawns=40))]
    assert 150 < sorted(sizes)[20] < 700
    assert min(sizes) < 30
