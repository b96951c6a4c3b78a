"""Private words: told to owners and workers, and to nobody else, page by page."""

from __future__ import annotations

import io
import json
import zipfile
from collections.abc import Iterator
from pathlib import Path
from uuid import uuid4

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from PIL import Image

from swardbook.book.archive import export_book
from swardbook.book.diary import write
from swardbook.book.letter import LetterAsked, write_letter
from swardbook.book.opening import open_book, privately
from swardbook.foundation.dates import When
from swardbook.husbandry.attachments import Attachment
from swardbook.husbandry.happenings import Cut, Note
from swardbook.settings import Settings
from swardbook.web import opened
from swardbook.web.asker import cookie_name
from tests.support.books import TODAY, small_book
from tests.support.people import OTHERS, browser, hash_lightly, let_people_in, token_of

SECRET = "the neighbour complained"
ON_THE_PHONE = "only between ourselves"
TOLD = ("/diary/", "/api/diary/", "/", "/ask/diary/show/", "/in-and-out/finds.csv", "/more/")


@pytest.fixture(scope="module")
def browsers(tmp_path_factory: pytest.TempPathFactory) -> Iterator[dict[str, Client]]:
    home = tmp_path_factory.mktemp("private") / "home"
    small_book(home).store.close()
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("SWARDBOOK_HOME", str(home))
        for name, text in OTHERS.told().items():
            patch.setenv(name, text)
        hash_lightly(patch)
        book = open_book(Settings(Path(home)), lambda: TODAY)
        with privately():
            write(book, Note(SECRET), When.on(TODAY), zone="Main court")
            write(book, Cut(8.0, boxed=True), When.on(TODAY), zone="Main court", note=SECRET)
        let_people_in(book)
        found = {}
        for role in ("worker", "reader"):
            found[role] = browser(enforce_csrf=False)
            found[role].cookies[cookie_name()] = token_of(book, role, opened.clock_now())
        book.store.close()
        yield found
        opened.close()


@pytest.mark.parametrize("address", TOLD)
def test_a_reader_is_never_told_private_words_not_even_after_a_worker_asked(
    browsers: dict[str, Client], address: str
) -> None:
    for role in ("worker", "reader", "worker", "reader"):
        answer = browsers[role].get(address)
        assert answer.status_code == 200
        if role == "reader":
            assert SECRET not in answer.content.decode()


def test_a_worker_is_told_them_and_a_reader_sees_the_cut(browsers: dict[str, Client]) -> None:
    assert browsers["worker"].get("/api/diary/").content.decode().count(SECRET) == 2
    kinds = [
        each["what"]["kind"] for each in browsers["reader"].get("/api/diary/").json()["entries"]
    ]
    assert kinds == ["cut"]


def test_the_whole_book_is_taken_out_by_nobody_but_its_owner(browsers: dict[str, Client]) -> None:
    for each in browsers.values():
        assert each.get("/in-and-out/book.zip").status_code == 403


def jpeg() -> bytes:
    held = io.BytesIO()
    Image.new("RGB", (64, 48), (90, 120, 40)).save(held, "JPEG")
    return held.getvalue()


def test_what_a_form_of_the_phone_marks_private_is_in_no_letter_and_no_copy_for_others(
    browsers: dict[str, Client], tmp_path: Path
) -> None:
    worker = browsers["worker"]
    typed = {"id": str(uuid4()), "zone": "Main court", "text": ON_THE_PHONE, "private": "yes"}
    assert 'name="private"' in worker.get("/done/note/").content.decode()
    kept = worker.post("/done/note/", typed, follow=True).content.decode()
    assert ON_THE_PHONE in kept
    assert "for owners and workers alone" in kept
    file = SimpleUploadedFile("odd.jpg", jpeg(), "image/jpeg")
    about = {"id": str(uuid4()), "zone": "Main court", "private": True}
    sent = worker.post("/api/files/", {"about": json.dumps(about), "file": file})
    assert sent.status_code == 201
    book = opened.the_book()
    note, picture = book.store.whole_diary()[-2:]
    assert isinstance(picture.what, Attachment)
    assert note.private
    assert picture.private
    for address in (*TOLD, f"/done/kept/{note.id}/", f"/file/{picture.what.file}/"):
        assert ON_THE_PHONE not in str(getattr(browsers["reader"].get(address), "content", b""))
    assert browsers["reader"].get(f"/file/{picture.what.file}/small/").status_code == 404
    assert ON_THE_PHONE not in repr(write_letter(book, LetterAsked()))
    out = export_book(book, tmp_path / "theirs.zip", to_others=True)
    with zipfile.ZipFile(out.path) as held:
        names = held.namelist()
        assert not any(ON_THE_PHONE.encode() in held.read(name) for name in names)
        assert not any(picture.what.file in name for name in names)


def test_a_refused_form_keeps_its_tick_and_one_without_it_is_for_everybody(
    browsers: dict[str, Client],
) -> None:
    worker = browsers["worker"]
    typed = {"id": str(uuid4()), "zone": "Main court", "text": "", "private": "yes"}
    refused = worker.post("/done/note/", typed)
    assert refused.status_code == 422
    assert 'name="private" value="yes" checked' in refused.content.decode()
    worker.post("/done/note/", {"id": str(uuid4()), "text": "open to all"})
    assert "open to all" in browsers["reader"].get("/api/diary/").content.decode()
