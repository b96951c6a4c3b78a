"""The ways in for programs, asked anything in any order by anybody, do what a short model says.

An owner at the machine, workers' keys, a reader's key, ended keys and strangers send entries, send
them again, send something else under the same id or mark, put right, take back, and read; the
server is begun anew in between.
"""

from __future__ import annotations

import atexit
import json
import re
import shutil
import tempfile
from collections import Counter
from contextlib import ExitStack
from functools import cache
from pathlib import Path
from typing import Any, ClassVar
from uuid import UUID, uuid4

import pytest
from django.test import Client
from hypothesis import Phase, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    invariant,
    precondition,
    rule,
    run_state_machine_as_test,
)

from swardbook.book.tokens import end_token, make_token, tokens
from swardbook.records.beside import wait_for_marks
from swardbook.web import opened
from swardbook.web.opened import clock_now, the_book
from tests.support.books import MAIN, small_book
from tests.support.people import NAMES, hash_lightly, let_people_in

NO_SHRINKING = (Phase.explicit, Phase.reuse, Phase.generate)
KEYS = {
    "rain gauge": ("worker", NAMES["worker"]), "timer": ("worker", NAMES["worker"]),
    "borrowed": ("worker", NAMES["reader"]), "calendar": ("reader", ""),
}  # fmt: skip
"""Other programs: what each is for, what its key may do at most, and whose it is."""
WRITERS, READERS, STRANGERS = (
    ("owner", "rain gauge", "timer"),
    ("borrowed", "calendar"),
    ("nobody",),
)
ASKERS = (*WRITERS, *READERS, *STRANGERS)
NONSENSE = ("", "[]", "null", "{", '{"id": 7}', '{"id": "x", "kind": "cut"}')
LOOKS = (
    "/api/diary/", "/api/openapi.json", "/api/ask/zone/show/", "/api/ask/diary/show/",
    "/api/ask/cut/", "/api/ask/no/such/", "/api/ask/hold-off/?job=cut&reason=wet", "/api/kept/",
    "/api/diary/?zone=Mian court", "/api/ask/fit/?zone=Main court",
)  # fmt: skip
ODD = ({"fields": {"height_of_cut_mm": "tall"}}, {"kind": "mowing about"}, {"zone": "Mian court"},
       {"when": "31 September"})  # fmt: skip
writers = st.sampled_from(WRITERS)
askers = st.sampled_from(ASKERS)
which = st.integers(0, 3)
TAKEN_BACK = "taken back"


class Api(RuleBasedStateMachine):
    """A served book, and what must be in it: one word for each thing that stands."""

    lives: ClassVar[list[int]] = []
    """How many entries were acknowledged in each of its lives."""

    def __init__(self) -> None:
        super().__init__()
        self.closing = ExitStack()
        patch = self.closing.enter_context(pytest.MonkeyPatch.context())
        self.folder = Path(tempfile.mkdtemp(prefix="api-"))
        home = self.folder / "home"
        shutil.copytree(book_with_people(), home)
        patch.setenv("SWARDBOOK_HOME", str(home))
        patch.delenv("SWARDBOOK_DATABASE", raising=False)
        opened.close()
        self.client = Client(HTTP_HOST="localhost")
        self.keys = {
            name: make_token(the_book(), name, role, whose, clock_now())[1]
            for name, (role, whose) in KEYS.items()
        }
        self.ended: set[str] = set()
        self.stands: dict[str, str] = {}
        self.written = 0
        self.sent: list[dict[str, Any]] = []
        self.marked: dict[tuple[str, str], tuple[dict[str, str], Any]] = {}
        self.number = 0
        self.stamp = the_book().store.stamp()

    def teardown(self) -> None:
        self.lives.append(self.written)
        opened.close()
        wait_for_marks()
        self.closing.close()
        shutil.rmtree(self.folder, ignore_errors=True)

    def get(self, asker: str, way: str) -> Any:
        """Look at something, and see that nobody wrote, not even the same again."""
        about: dict[str, Any] = self.about(asker)
        before = the_book().store.writes()
        answer = self.client.get(way, **about)
        assert the_book().store.writes() == before
        return answer

    def word(self) -> str:
        self.number += 1
        return f"<{self.number}>"

    def may_write(self, asker: str) -> bool:
        return asker in WRITERS and asker not in self.ended

    def refusal(self, asker: str) -> int:
        """Give the status with which somebody is refused who may not write."""
        return 403 if asker in READERS and asker not in self.ended else 401

    def about(self, asker: str) -> dict[str, str]:
        if asker == "owner":
            return {}
        if asker == "nobody":
            return {"REMOTE_ADDR": "192.0.2.9"}
        return {"HTTP_AUTHORIZATION": f"Bearer {self.keys[asker]}"}

    def post(self, asker: str, way: str, body: Any, **more: str) -> Any:
        text = body if isinstance(body, str) else json.dumps(body)
        about: dict[str, Any] = {**self.about(asker), **more}
        return self.client.post(way, text, content_type="application/json", **about)

    def kept(self, name: str, word: str) -> None:
        self.stands[name] = word
        self.written += 1
        self.stamp = the_book().store.stamp()

    # entries of phones

    def send(self, asker: str, entry: dict[str, Any]) -> Any:
        answer = self.post(asker, "/api/entries/", entry)
        if not self.may_write(asker):
            assert answer.status_code == self.refusal(asker)
            return None
        told = answer.json()
        was_there = told["id"] in self.stands
        assert (answer.status_code, told["was_there"]) == ((200 if was_there else 201), was_there)
        if not was_there:
            self.kept(told["id"], entry["note"])
        return told

    @rule(asker=askers, odd=st.sampled_from(({}, {}, *ODD)))
    def write_down(self, asker: str, odd: dict[str, Any]) -> None:
        entry = {"id": str(uuid4()), "kind": "cut", "zone": MAIN.name, "fields": {"boxed": "yes"},
                 "note": self.word(), **odd}  # fmt: skip
        told = self.send(asker, entry)
        if told is not None:
            assert told["id"] == entry["id"]
            assert (told["kind"] == "note") == bool(odd)
            assert bool(told["needs_a_look"]) >= bool(odd)
            self.sent.append(entry)

    @precondition(lambda self: self.sent)
    @rule(asker=askers, which=which)
    def send_again(self, asker: str, which: int) -> None:
        entry = self.sent[-1 - which % len(self.sent)]
        told = self.send(asker, entry)
        assert told is None or told["was_there"]

    @precondition(lambda self: self.sent)
    @rule(asker=askers, which=which)
    def send_something_else_under_the_same_id(self, asker: str, which: int) -> None:
        entry = {**self.sent[-1 - which % len(self.sent)], "note": self.word()}
        for is_again in (False, True):
            told = self.send(asker, entry)
            if told is not None:
                assert (told["has_clashed"], told["was_there"]) == (True, is_again)
                assert told["id"] != entry["id"]

    @precondition(lambda self: self.stands)
    @rule(asker=askers, which=which, times=st.integers(1, 2))
    def take_back(self, asker: str, which: int, times: int) -> None:
        name = list(self.stands)[-1 - which % len(self.stands)]
        for _ in range(times):
            answer = self.post(asker, f"/api/entries/{name}/take-back/", {})
            if not self.may_write(asker):
                assert answer.status_code == self.refusal(asker)
            elif self.stands[name] == TAKEN_BACK:
                assert answer.status_code == 200
            else:
                assert answer.status_code == 200
                self.kept(name, TAKEN_BACK)

    @rule(asker=askers, body=st.sampled_from(NONSENSE))
    def send_nonsense(self, asker: str, body: str) -> None:
        for way in ("/api/entries/", "/api/ask/hold-off/"):
            answer = self.post(asker, way, body)
            allowed = {400, 422} if self.may_write(asker) else {self.refusal(asker)}
            assert answer.status_code in allowed
            assert answer.json()["refusal"]
        missing = self.post(asker, f"/api/entries/{UUID(int=7)}/take-back/", {})
        assert missing.status_code == (404 if self.may_write(asker) else self.refusal(asker))

    # questions under a mark

    @rule(asker=askers, mark=st.sampled_from(["one", "two"]), is_again=st.booleans())
    def ask_under_a_mark(self, asker: str, mark: str, is_again: bool) -> None:
        """Send something new, or what this program sent last under the mark."""
        known = self.marked.get((asker, mark))
        body = {"job": "verticut", "reason": self.word(), "zone": MAIN.name}
        if is_again and known is not None:
            body = known[0]
        answer = self.post(asker, "/api/ask/hold-off/", body, HTTP_IDEMPOTENCY_KEY=mark)
        if not self.may_write(asker):
            assert answer.status_code == self.refusal(asker)
        elif known is None:
            assert answer.status_code == 200
            self.marked[asker, mark] = (body, answer.json())
            self.kept(answer.json()["entry"]["id"], body["reason"])
        elif body == known[0]:
            assert (answer.status_code, answer.json()) == (200, known[1])
        else:
            assert answer.status_code == 422
            assert "another mark" in answer.json()["refusal"]

    @precondition(lambda self: self.stands)
    @rule(asker=askers, which=which)
    def put_right(self, asker: str, which: int) -> None:
        name = list(self.stands)[-1 - which % len(self.stands)]
        body = {"entry": name, "set": "hours=2", "reason": self.word()}
        if self.stands[name] == TAKEN_BACK:
            return
        answer = self.post(asker, "/api/ask/put-right/", body)
        assert answer.status_code == (200 if self.may_write(asker) else self.refusal(asker))
        if self.may_write(asker):
            self.kept(name, body["reason"])

    # the server, and keys

    @rule()
    def begin_anew(self) -> None:
        opened.close()

    @precondition(lambda self: len(self.ended) < len(KEYS) - 1)
    @rule(name=st.sampled_from(["timer", "borrowed", "calendar"]))
    def end_a_key(self, name: str) -> None:
        for each in tokens(the_book()):
            if each.name == name:
                end_token(the_book(), each.key, clock_now())
        self.ended.add(name)

    # what holds

    @rule(asker=askers, way=st.sampled_from(LOOKS))
    def look(self, asker: str, way: str) -> None:
        status = self.get(asker, way).status_code
        if asker in STRANGERS or asker in self.ended:
            assert status == 401
        else:
            assert status in ({200, 404, 405, 422} | ({403} if asker in READERS else set()))

    @rule(asker=st.sampled_from(["owner", "rain gauge", "borrowed"]))
    def read_the_diary(self, asker: str) -> None:
        if asker in self.ended:
            return
        listed = self.get(asker, "/api/diary/").json()["entries"]
        assert Counter(map(word_of, listed)) == Counter(self.stands.values())

    @invariant()
    def nothing_else_was_written(self) -> None:
        assert the_book().store.stamp() == self.stamp

    @invariant()
    def the_diary_is_as_long_as_what_was_acknowledged(self) -> None:
        assert len(the_book().store.chain()) == self.written


def word_of(entry: dict[str, Any]) -> str:
    """Find the last word of the test in an entry as a program is given it."""
    what = entry["what"]
    words = f"{what.get('text', '')} {what.get('reason', '')} {entry['note']}"
    if "Taken back" in words:
        return TAKEN_BACK
    return str(re.findall(r"<\d+>", words)[-1])


@cache
def book_with_people() -> Path:
    """Make a small book with people once for a process."""
    folder = Path(tempfile.mkdtemp(prefix="api-first-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    with pytest.MonkeyPatch.context() as patch:
        hash_lightly(patch)
        book = small_book(folder / "home")
        let_people_in(book)
        book.store.close()
    return folder / "home"


def run(examples: int, steps: int, *, is_random: bool) -> list[int]:
    """Live so many random lives; give how many entries were acknowledged in each."""
    Api.lives.clear()
    run_state_machine_as_test(
        Api,
        settings=settings(
            max_examples=examples, stateful_step_count=steps, deadline=None, phases=NO_SHRINKING,
            derandomize=not is_random,
        ),
    )  # fmt: skip
    return Api.lives


def test_whatever_programs_send_is_written_once_and_only_by_who_may() -> None:
    lives = run(6, 12, is_random=False)
    assert len(lives) >= 6
    assert max(lives) > 0


@pytest.mark.long
def test_whatever_programs_send_in_long_days_is_written_once_and_only_by_who_may() -> None:
    lives = run(150, 40, is_random=True)
    assert len(lives) >= 150
    assert max(lives) > 0
