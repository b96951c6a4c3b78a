"""Each person's week over all lawns: who, where, how long, and what is not known."""

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from swardbook.book.firm import Comes, clock_words, comes_of, name_yard, say_who_comes, set_worker
from swardbook.book.firm_sheet import week_paper
from swardbook.book.firm_week import FirmWeek, firm_week
from swardbook.book.firm_words import firm_notes, job_words
from swardbook.book.opening import Book
from swardbook.book.plan import week
from swardbook.foundation.errors import BadInputError, UnknownNameError
from swardbook.planning.tasks import Status
from tests.support.firms import LAWNS, PLACELESS, YARD, at, firm_book


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    opened = firm_book(tmp_path / "home")
    yield opened
    opened.store.close()


def asked(book: Book) -> int:
    from django.db import connections
    from django.test.utils import CaptureQueriesContext

    with CaptureQueriesContext(connections[book.store._rows.alias]) as caught:
        firm_week(book)
    return len(caught)


def lawns_in(found: FirmWeek) -> list[str]:
    return [call.slug for each in found.people for day in each.days for call in day.calls]


def test_every_lawn_with_something_due_is_in_somebodys_week_or_is_named(book: Book) -> None:
    found = firm_week(book)
    due = {
        slug.slug for slug in book.store.grounds()
        if slug.slug != YARD and week(at(book, slug.slug)).of(Status.DUE)
    }  # fmt: skip
    named = {each.slug for each in found.nobodys}
    assert {*lawns_in(found)} | named == due
    assert len(lawns_in(found)) == len({*lawns_in(found)})
    assert found.unseen == ()


def test_hours_and_jobs_are_those_of_each_lawns_own_week(book: Book) -> None:
    for person in firm_week(book).people:
        for call in (call for day in person.days for call in day.calls):
            own = week(at(book, call.slug))
            assert [job.name for job in call.jobs] == [each.name for each in own.of(Status.DUE)]
            assert call.hours.high == pytest.approx(own.hours.high)
            assert len(call.waits) == len(own.tasks) - len(own.of(Status.DUE))


def test_days_keep_to_who_works_when_and_how_long(book: Book) -> None:
    found = {each.worker.name: each for each in firm_week(book).people}
    assert [each.out.day.isoweekday() for each in found["Bram"].days] == [1, 3, 5]
    assert all(day.out.hours <= 6.0 for day in found["Bram"].days)
    assert all(day.hours.low <= day.hours.high for day in found["Ines"].days)
    set_worker(at(book, YARD), "bram", "2")
    bram = next(each for each in firm_week(book).people if each.worker.name == "bram")
    assert all(day.out.hours <= 2.0 for day in bram.days)
    assert len(bram.days) == 5


def test_a_lawn_is_only_visited_on_days_and_in_hours_when_it_may_be(book: Book) -> None:
    slug = lawns_in(firm_week(book, "Ines"))[0]
    say_who_comes(at(book, slug), days="thu", between="10:00-16:00")
    [person] = firm_week(book, "Ines").people
    [(day, call)] = [(day, call) for day in person.days for call in day.calls if call.slug == slug]
    assert day.out.day.isoweekday() == 4
    assert call.leg.arrives + call.leg.waits >= 10.0
    assert call.leg.leaves <= 16.0


def test_what_is_held_off_is_told_with_its_reason_and_takes_no_hours(book: Book) -> None:
    waits = [
        job for each in firm_week(book).people for day in each.days for call in day.calls
        for job in call.waits if job.status is Status.HELD_OFF
    ]  # fmt: skip
    assert waits
    assert all(job.because and "held off" in job_words(job) for job in waits)


def test_a_lawn_without_a_place_comes_last_and_is_named(book: Book) -> None:
    found = firm_week(book)
    lost = [each for each in found.people if each.without_place]
    assert [each.worker.name for each in lost] == ["Bram"]
    days = [day for day in lost[0].days if PLACELESS in [call.slug for call in day.calls]]
    assert [day.calls[-1].slug for day in days] == [PLACELESS]


def test_what_is_longer_than_a_day_is_parted(book: Book) -> None:
    set_worker(at(book, YARD), "Ines", "1.5")
    [person] = firm_week(book, "ines").people
    jobs = [job for day in person.days for call in day.calls for job in call.jobs]
    assert all(day.out.hours <= 1.5 + 1e-6 for day in person.days)
    assert person.left or any(job.is_part for job in jobs)


def test_it_is_one_question_and_what_may_have_changed_is_counted(book: Book) -> None:
    assert asked(book) <= 2
    assert firm_week(book).stale == 0
    at(book, lawns_in(firm_week(book))[0]).store.save_forecast(None)
    assert firm_week(book).stale == 1
    from dataclasses import replace

    assert firm_week(replace(book, today=book.today + timedelta(days=1))).stale == LAWNS


def test_only_lawns_that_somebody_may_see_are_in_their_answer(book: Book) -> None:
    mine = lawns_in(firm_week(book))[0]
    found = firm_week(book, among=frozenset({mine}))
    assert lawns_in(found) == [mine]
    assert found.nobodys == ()
    assert found.yard is not None
    hidden = [each.name for each in book.store.grounds() if each.slug not in (mine, YARD)]
    assert not any(name in note for name in hidden for note in firm_notes(found))


def test_a_person_nobody_knows_is_answered_with_the_nearest(book: Book) -> None:
    with pytest.raises(UnknownNameError, match="Ines"):
        firm_week(book, "Inez")


def test_a_sheet_has_a_page_for_each_day_out(book: Book) -> None:
    from io import BytesIO

    from pypdf import PdfReader

    found = firm_week(book, "Bram")
    paper = PdfReader(BytesIO(week_paper(found, book)))
    [person] = found.people
    assert len(paper.pages) >= max(1, sum(bool(day.calls) for day in person.days))
    text = "".join(page.extract_text() for page in paper.pages)
    assert "The week of Bram" in text
    assert all(call.name in text for day in person.days for call in day.calls)


def test_a_yard_is_no_lawn_and_there_is_one_at_most(book: Book) -> None:
    with pytest.raises(BadInputError, match="without zones"):
        name_yard(at(book, PLACELESS))
    with pytest.raises(BadInputError, match="named the yard"):
        set_worker(at(book, PLACELESS), "Odalys")
    assert YARD not in lawns_in(firm_week(book))


@pytest.mark.parametrize(
    ("days", "between", "wrong"),
    [("mun", None, UnknownNameError), (None, "9-8", BadInputError), (None, "noon", BadInputError),
     ("t", None, UnknownNameError)],
)  # fmt: skip
def test_days_and_hours_that_cannot_be_read_are_refused(
    book: Book, days: str | None, between: str | None, wrong: type[Exception]
) -> None:
    with pytest.raises(wrong):
        say_who_comes(at(book, PLACELESS), days=days, between=between)


def test_what_is_not_said_anew_stays(book: Book) -> None:
    lawn = at(book, PLACELESS)
    say_who_comes(lawn, "Odalys", "mon,tue", "9:30 to 12")
    say_who_comes(lawn, days="")
    rows = {row.slug: row for row in book.store.lawns(book.today)}
    assert comes_of(rows[PLACELESS]) == Comes("Odalys", (), 9.5, 12.0)
    assert clock_words(9.5) == "9:30"
