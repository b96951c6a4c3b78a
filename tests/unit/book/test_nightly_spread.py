"""A night spread over processes and over a cluster, one of them killed: the same bits."""

import json
import os
import shutil
import signal
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from swardbook.book.machine_kind import machine_kind
from swardbook.book.night import NightTold
from swardbook.book.nightly import Means, nightly
from swardbook.book.opening import open_any_book
from swardbook.demo.many_lawns import TODAY, Firm, write_firm
from swardbook.feeds.spread import Spread
from swardbook.feeds.spread_here import SpreadHere
from swardbook.settings import MachineWork, Settings
from tests.support.spreading import InPlace

pytestmark = [pytest.mark.long, pytest.mark.filterwarnings("ignore::UserWarning:distributed.*")]
LAWNS = 3


def clock() -> date:
    return TODAY


@pytest.fixture(scope="module")
def firm(tmp_path_factory: pytest.TempPathFactory) -> Path:
    home = tmp_path_factory.mktemp("firm")
    write_firm(Settings(home), Firm(lawns=LAWNS, years=1))
    return home


def bits(firm: Path, to: Path, spread: Spread, kills: bool = False) -> set[str]:
    """Work a night out, with a look-ahead for each lawn; gives all answers."""
    to.mkdir()
    shutil.copy2(firm / "book.sqlite3", to)
    settings = Settings(
        to,
        cache_folder=Path(os.environ["SWARDBOOK_CACHE"]),
        machine_work=MachineWork(draws=64, days=1),
    )
    book = open_any_book(settings, clock)
    told: list[NightTold] = []

    def watch(one: NightTold) -> None:
        told.append(one)
        if kills and len(told) == 1:
            os.kill(int(one.process.split()[-1]), signal.SIGKILL)

    run = nightly(book, Means(spread, "tests", lambda: datetime.now(UTC), watch=watch))
    book.store.close()
    spread.close()
    assert (run.looked, run.ahead, run.faults) == (LAWNS, LAWNS, ())
    return {one.text for one in told}


def test_whoever_works_a_night_out_it_has_the_same_bits(firm: Path, tmp_path: Path) -> None:
    from swardbook.feeds.spread_cluster import join

    alone = bits(firm, tmp_path / "alone", InPlace())
    assert len(alone) == LAWNS
    assert all(json.loads(each)["ahead"] for each in alone)
    assert bits(firm, tmp_path / "here", SpreadHere(2), kills=True) == alone
    cluster = join("here", machine_kind().mark, 2)
    assert bits(firm, tmp_path / "cluster", cluster, kills=True) == alone
