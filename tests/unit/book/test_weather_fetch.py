import shutil
import socket
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from http.server import BaseHTTPRequestHandler
from pathlib import Path
from typing import Any

import pytest

from swardbook.book.archive import export_book, import_book
from swardbook.book.forecast import courses_told, forecast_of, told_words
from swardbook.book.letter import LetterAsked, write_letter
from swardbook.book.opening import Book, open_book
from swardbook.book.pictures import draw_weather
from swardbook.book.weather import import_weather, show_weather
from swardbook.book.weather_fetch import credits_of, fetch_weather, fetches, kept_file
from swardbook.foundation.errors import BadInputError, RefusedError
from swardbook.settings import Settings, WeatherService
from swardbook.weather.series import Flag
from tests.support.books import TODAY, small_book
from tests.support.weather_service import Service, as_bytes, days_told, serving, tell

NOW = datetime(2011, 10, 8, 6, 0, tzinfo=UTC)
CREDIT = "Weather data by the Example Weather Office, CC BY 4.0"
AHEAD = 16


def says(answer: dict[str, Any], **headers: str) -> Callable[[BaseHTTPRequestHandler], None]:
    def say(asked: BaseHTTPRequestHandler) -> None:
        etag = headers.get("ETag")
        if etag and asked.headers.get("If-None-Match") == etag:
            asked.send_response(304)
            asked.end_headers()
        else:
            tell(asked, as_bytes(answer), 200, **headers)

    return say


def usual(back: int = 7, **more: Any) -> dict[str, Any]:
    return days_told(TODAY - timedelta(days=back), back + AHEAD, **more)


@pytest.fixture
def service() -> Iterator[Service]:
    with serving(says(usual(), ETag='"1"')) as made:
        yield made


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    home = tmp_path_factory.mktemp("made") / "home"
    small_book(home).store.close()
    return home


def asking(made: Path, home: Path, service: Service, key: str = "s3cret") -> Book:
    shutil.copytree(made, home)
    book = open_book(Settings(home), lambda: TODAY)
    address = f"{service.address}/d?lat={{latitude}}&from={{first}}&to={{last}}&key={{key}}"
    return with_service(book, WeatherService(address, key, CREDIT))


def with_service(book: Book, service: WeatherService | None) -> Book:
    return replace(book, settings=replace(book.settings, weather=service, cache_folder=None))


@pytest.fixture
def book(tmp_path: Path, made: Path, service: Service) -> Iterator[Book]:
    book = asking(made, tmp_path / "home", service)
    yield book
    book.store.close()


def station(folder: Path, first: date, number: int, low: float) -> Path:
    rows = [
        f"{first + timedelta(days=at)},{low + at % 4},{low + 9 + at % 5},{at % 3}"
        for at in range(number)
    ]  # fmt: skip
    file = folder / "station.csv"
    file.write_text("\n".join(["date,tmin_c,tmax_c,rain_mm", *rows]), encoding="utf-8")
    return file


def test_past_days_are_taken_over_and_the_rest_is_a_forecast(book: Book, service: Service) -> None:
    done = fetch_weather(book, NOW)
    assert (done.state, done.taken, done.own) == ("new", 7, 0)
    [(path, _headers)] = service.asked
    assert "lat=52.0000" in path
    assert "key=s3cret" in path
    weather, told = book.store.weather(), book.store.forecast()
    assert weather is not None
    assert told is not None
    assert (weather.first, weather.last) == (date(2011, 10, 1), date(2011, 10, 7))
    assert {int(each) for each in weather.flags} == {
        int(Flag.FETCHED_TEMPERATURE | Flag.FETCHED_RAIN)
    }
    assert (told.weather.first, len(told.weather)) == (TODAY, AHEAD)
    assert told.source is not None
    assert (told.source.host, told.source.fetched_at) == ("127.0.0.1", NOW)
    ahead = forecast_of(book)
    assert ahead is not None
    assert ahead.first == TODAY + timedelta(days=1)
    assert book.store.check() == ()


def test_which_days_were_taken_and_when_is_kept(book: Book) -> None:
    fetch_weather(book, NOW)
    [(host, about)] = fetches(book)
    assert host == "127.0.0.1"
    assert about["fetched_at"] == NOW.isoformat()
    assert (about["first"], about["last"], about["days_taken"]) == ("2011-10-01", "2011-10-23", 7)
    assert (about["forecast_first"], about["forecast_last"]) == ("2011-10-08", "2011-10-23")
    assert credits_of(book) == (CREDIT,)


def test_the_places_own_records_stay_and_what_they_lack_is_taken(
    book: Book, tmp_path: Path
) -> None:
    import_weather(book, station(tmp_path, date(2011, 9, 20), 15, -1.5))  # to 4 October
    done = fetch_weather(book, NOW)
    assert (done.taken, done.own) == (3, 4)
    weather = book.store.weather()
    assert weather is not None
    assert weather.tmin[weather.index(date(2011, 10, 4))] == 0.5
    assert weather.tmin[weather.index(date(2011, 10, 5))] == 6.0
    assert not weather.flags[: weather.index(date(2011, 10, 5))].any()
    import_weather(book, station(tmp_path, date(2011, 10, 5), 3, 2.5))
    after = book.store.weather()
    assert after is not None
    assert after.tmin[-3:].tolist() == [2.5, 3.5, 4.5]
    assert not after.flags.any()


def test_a_fetched_day_takes_the_place_of_one_that_was_filled(book: Book, tmp_path: Path) -> None:
    file = station(tmp_path, date(2011, 9, 20), 18, 3.0)
    lines = [each for each in file.read_text("utf-8").split("\n") if "2011-10-04" not in each]
    file.write_text("\n".join(lines), "utf-8")
    import_weather(book, file)
    done = fetch_weather(book, NOW)
    assert (done.taken, done.own) == (1, 6)
    weather = book.store.weather()
    assert weather is not None
    at = weather.index(date(2011, 10, 4))
    assert (weather.tmin[at], Flag(int(weather.flags[at]))) == (
        5.0, Flag.FETCHED_TEMPERATURE | Flag.FETCHED_RAIN,
    )  # fmt: skip


def test_a_fresh_copy_is_not_asked_for_again(book: Book, service: Service) -> None:
    fetch_weather(book, NOW)
    assert fetch_weather(book, NOW + timedelta(hours=5)).state == "fresh"
    assert len(service.asked) == 1
    assert fetch_weather(book, NOW + timedelta(hours=5), again=True).state == "unchanged"
    assert len(service.asked) == 2


def test_an_older_copy_is_asked_for_only_if_it_has_changed(book: Book, service: Service) -> None:
    fetch_weather(book, NOW)
    later = NOW + timedelta(hours=7)
    done = fetch_weather(book, later)
    assert (done.state, done.age_h) == ("unchanged", 7.0)
    assert service.asked[-1][1]["if-none-match"] == '"1"'
    assert fetch_weather(book, later + timedelta(hours=5)).state == "fresh"
    assert len(fetches(book)) == 1
    service.say = says(usual(temperature_2m_min=[9.0] * 23), ETag='"2"')
    assert fetch_weather(book, later + timedelta(hours=7)).state == "new"
    weather = book.store.weather()
    assert weather is not None
    assert weather.tmin.tolist() == [9.0] * 7
    assert len(fetches(book)) == 2


def broken_off(asked: BaseHTTPRequestHandler) -> None:
    tell(asked, b"{", Content_Length="900")


@pytest.mark.parametrize(
    ("say", "reason"),
    [
        (lambda asked: tell(asked, b"", 503), "the server answered 503"),
        (broken_off, "broke off after 1 bytes"),
        (lambda asked: tell(asked, b"<html>"), "page for people"),
        (says(usual(temperature_2m_min=[1.0])), "1 values beside 23 days"),
        (lambda asked: tell(asked, b"\xff\xfe"), "no text in UTF-8"),
        (lambda asked: tell(asked, b"", Content_Length="104857600"), "longer than 4.2 MB"),
    ],
)
def test_where_no_answer_comes_the_copy_stands_in_with_its_age_and_the_reason(
    book: Book, service: Service, say: Callable[[BaseHTTPRequestHandler], None], reason: str
) -> None:
    fetch_weather(book, NOW)
    before = book.store.stamp()
    service.say = say
    done = fetch_weather(book, NOW + timedelta(hours=30))
    assert (done.state, done.age_h) == ("stale", 30.0)
    assert reason in done.reason
    assert done.forecast is not None
    assert book.store.stamp() == before
    service.say = says(usual(), ETag='"1"')
    assert fetch_weather(book, NOW + timedelta(hours=31)).state == "unchanged"


def test_where_nothing_is_kept_either_it_is_refused_in_words(book: Book, service: Service) -> None:
    service.say = lambda asked: tell(asked, b"", 500)
    with pytest.raises(RefusedError, match=r"answered 500\. Nothing is kept"):
        fetch_weather(book, NOW)
    assert (book.store.weather(), book.store.forecast(), fetches(book)) == (None, None, ())


@pytest.mark.parametrize("harm", [b"", b"{}", b"\xff", b'{"body": 1}', b"[]"])
def test_a_broken_copy_is_left_out(book: Book, harm: bytes) -> None:
    fetch_weather(book, NOW)
    kept_file(book).write_bytes(harm)
    assert fetch_weather(book, NOW + timedelta(hours=1)).state == "new"


def test_neither_the_key_nor_the_address_is_kept_or_told(book: Book, service: Service) -> None:
    fetch_weather(book, NOW)
    home = book.settings.home
    written = b"".join(each.read_bytes() for each in home.rglob("*") if each.is_file())
    assert b"s3cret" not in written
    assert "s3cret" not in repr(book.settings)
    service.say = lambda asked: tell(asked, b"", 403)
    assert "s3cret" not in fetch_weather(book, NOW + timedelta(hours=9)).reason


def test_several_courses_are_kept_with_the_forecast_and_go_out_and_in(
    book: Book, service: Service, tmp_path: Path
) -> None:
    service.say = says(usual(courses=3))
    fetch_weather(book, NOW)
    told = book.store.forecast()
    assert told is not None
    assert [each.tmin[0] for each in told.members] == pytest.approx([6.1, 6.2, 6.3])
    assert [each.first for each in courses_told(book)] == [TODAY + timedelta(days=1)] * 3
    assert told_words(book).startswith("forecast of 3 courses, Sun 9 October")
    later = told.after(TODAY)
    assert later is not None
    assert {len(each) for each in later.members} == {AHEAD - 1}
    export_book(book, tmp_path / "out.zip")
    settings = Settings(tmp_path / "other")
    import_book(settings, tmp_path / "out.zip")
    other = open_book(settings, lambda: TODAY)
    again = other.store.forecast()
    assert again is not None
    assert (again.source, again.made_on) == (told.source, told.made_on)
    assert [each.rain.tolist() for each in again.members] == [
        each.rain.tolist() for each in told.members
    ]
    export_book(other, tmp_path / "again.zip")
    assert (tmp_path / "again.zip").read_bytes() == (tmp_path / "out.zip").read_bytes()
    other.store.close()


def test_a_course_that_lacks_a_day_is_left_out(book: Book, service: Service) -> None:
    answer = usual(courses=3)
    answer["daily"]["precipitation_sum_member02"][-1] = None
    service.say = says(answer)
    fetch_weather(book, NOW)
    told = book.store.forecast()
    assert told is not None
    assert len(told.members) == 2


def test_nothing_is_asked_unless_a_service_is_set(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    def never(*_: object, **__: object) -> None:
        raise AssertionError("a line was opened")

    monkeypatch.setattr(socket, "getaddrinfo", never)
    monkeypatch.setattr(socket.socket, "connect", never)
    with pytest.raises(RefusedError, match="no service is set"):
        fetch_weather(with_service(book, None), NOW)
    with pytest.raises(RefusedError, match="made-up ground"):
        fetch_weather(replace(book, is_made_up=True), NOW)
    with pytest.raises(RefusedError, match="for today alone"):
        fetch_weather(replace(book, today=TODAY - timedelta(days=1)), NOW)
    with pytest.raises(BadInputError, match="https"):
        fetch_weather(with_service(book, WeatherService("http://example.org/")), NOW)
    with pytest.raises(BadInputError, match="longitude"):
        fetch_weather(with_service(book, WeatherService("https://e.org/{longitude}")), NOW)
    with pytest.raises(AssertionError, match="a line was opened"):
        fetch_weather(book, NOW)


def test_a_look_ahead_of_a_made_up_ground_or_a_past_day_is_told_nothing(book: Book) -> None:
    fetch_weather(book, NOW)
    assert len(courses_told(book)) == 1
    assert courses_told(replace(book, is_made_up=True)) == ()
    assert told_words(replace(book, today=TODAY - timedelta(days=3))) == ""


def test_what_was_fetched_is_shown_with_its_credit(book: Book) -> None:
    fetch_weather(book, NOW)
    shown = show_weather(book)
    assert shown.fetched_days == 7
    assert shown.credits == (CREDIT,)
    assert f"{CREDIT}." in draw_weather(book).key
    letter = write_letter(book, LetterAsked())
    assert f"{CREDIT}." in letter.sheet.note
