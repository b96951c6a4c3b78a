"""An answer that is kept is found again, for its zone or for the whole site."""

from datetime import date
from pathlib import Path

import pytest

from swardbook.book.worked_out import Answer, keep_answer, last_answer, require_answer
from swardbook.cli.telling import tell
from swardbook.foundation.errors import BadInputError, UnknownNameError
from tests.support.books import MAIN, SHORT, small_book

SHADE = Answer("shade", "3.5 h of sun in June.", {"hours": "3.5", "by": ""}, {"sun_h": 3.5})


def test_the_last_answer_of_a_zone_is_the_one_in_use(tmp_path: Path) -> None:
    book = small_book(tmp_path)
    for day, hours in (("1 June", 3.5), ("2 June", 4.5)):
        keep_answer(book, Answer("shade", f"{hours} h", found={"sun_h": hours}), zone="main court",
                    when=day)  # fmt: skip
    found = last_answer(book.ground(), "shade", MAIN.name)
    assert found is not None
    assert (found.day, found.answer.found["sun_h"]) == (date(2011, 6, 2), 4.5)


def test_an_answer_for_the_whole_site_holds_where_a_zone_has_none(tmp_path: Path) -> None:
    book = small_book(tmp_path)
    keep_answer(book, SHADE)
    keep_answer(book, Answer("shade", "full sun", named={"light": "full sun"}), zone=MAIN.name)
    ground = book.ground()
    short, main = last_answer(ground, "shade", SHORT.name), last_answer(ground, "shade", MAIN.name)
    assert short is not None
    assert main is not None
    assert short.answer.found == {"sun_h": 3.5}
    assert main.answer.named == {"light": "full sun"}


def test_what_was_not_said_is_not_kept_as_said(tmp_path: Path) -> None:
    book = small_book(tmp_path)
    entry = keep_answer(book, SHADE, who="Ines", note="from the bench")
    said = "Sat 8 October 2011, whole site: shade: 3.5 h of sun in June, by Ines."
    assert tell(entry) == said
    found = last_answer(book.ground(), "shade")
    assert found is not None
    assert found.answer.given == {"hours": "3.5"}


def test_nothing_kept_names_the_command_that_keeps(tmp_path: Path) -> None:
    book = small_book(tmp_path)
    with pytest.raises(BadInputError, match="swardbook shade --keep"):
        require_answer(book.ground(), "shade", MAIN.name, "swardbook shade")
    with pytest.raises(UnknownNameError):
        keep_answer(book, SHADE, zone="moon")
