"""Whatever is written, in whatever order and however often, the diary loses and changes nothing."""

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory
from uuid import UUID

from hypothesis import given, settings
from hypothesis import strategies as st

from swardbook.husbandry.diary import DiaryEntry
from swardbook.husbandry.happenings import Cut
from swardbook.records.opening import create_store
from swardbook.settings import Settings
from tests.support.books import entry, filled

SENT = st.tuples(
    st.integers(1, 6),  # which entry
    st.integers(1, 3),  # with which content
    st.integers(0, 20),  # how many days ago
    st.none() | st.integers(1, 6),  # what it corrects
)


def made(which: int, content: int, ago: int, corrects: int | None) -> DiaryEntry:
    day = date(2011, 10, 8) - timedelta(days=ago)
    root = None if corrects in {None, which} else UUID(int=corrects or 0)
    return entry(which, Cut(float(content * 10)), day=day, corrects=root)


def outcome(sent: DiaryEntry) -> DiaryEntry:
    """Leave out what the book adds."""
    return replace(sent, id=UUID(int=0), needs_a_look="", written_on=None)


@settings(max_examples=25, deadline=None)
@given(st.lists(SENT, max_size=14))
def test_the_diary_only_grows_and_holds_all_that_was_acknowledged(
    orders: list[tuple[int, int, int, int | None]],
) -> None:
    with TemporaryDirectory() as folder:
        store = filled(create_store(Settings(Path(folder) / "home")))
        before: tuple[DiaryEntry, ...] = ()
        for order in orders:
            sent = made(*order)
            known = {each.id for each in before}
            if sent.corrects is not None and sent.corrects not in known:
                continue
            [kept] = store.add([sent])
            assert outcome(kept) == outcome(sent)
            now = store.whole_diary()
            assert now[: len(before)] == before
            assert kept in now
            assert len(now) - len(before) in {0, 1}
            before = now
        assert store.check() == ()
        standing = store.ground().diary
        corrected = {each.corrects for each in before}
        assert {each.id for each in before if each.id not in corrected} >= {
            each.id for each in standing
        }
        store.close()
