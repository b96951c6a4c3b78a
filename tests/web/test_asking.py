"""Every command as a page: it opens, it answers, it never writes unasked."""

from __future__ import annotations

import re
from datetime import date

import pytest
from django.test import Client
from django.urls import reverse

from swardbook.cli.collecting import Heading, Laid, Marked
from swardbook.foundation.units import METRIC
from swardbook.web.asking.blocks import blocks_of, linked, step_of
from swardbook.web.asking.own_fields import has_own
from swardbook.web.asking.questions import Question, Sort, questions
from swardbook.web.asking.running import Filled, as_arguments, in_labels
from swardbook.web.asking.titles import NOT_PAGES, TITLES, WRITES
from swardbook.web.opened import the_book
from tests.support.addresses import answered
from tests.web.test_done import token

EVERY = questions()
ASKS_NOTHING = [each for each in EVERY.values() if not each.needs_something]
QUICK = [each for each in ASKS_NOTHING if each.words[0] not in {"side-by-side", "week", "settle"}]


def named(question: Question) -> str:
    return question.path


def test_every_command_has_a_title_or_a_reason_to_be_no_page() -> None:
    names = {" ".join(words) for words in EVERY}
    assert names - set(TITLES) == set()
    assert set(TITLES) - names == set()
    assert set(WRITES) - names == set()
    assert not set(NOT_PAGES) & names


@pytest.mark.parametrize("question", EVERY.values(), ids=named)
def test_every_question_opens_with_what_it_asks_for(client: Client, question: Question) -> None:
    if not question.needs_something:
        return
    answer = client.get(reverse("question", args=[question.path]))
    text = answer.content.decode()
    assert answer.status_code == 200
    for field in question.fields:
        assert has_own(question) or f'name="{field.name}"' in text, field.name
    assert " style=" not in text


@pytest.mark.parametrize("question", QUICK, ids=named)
def test_a_question_that_needs_nothing_is_answered_at_once_and_writes_nothing(
    client: Client, question: Question
) -> None:
    before = len(the_book().store.chain())
    answer = answered(client, reverse("question", args=[question.path]))
    text = answer.content.decode()
    assert answer.status_code == 200
    assert 'class="answer"' in text or 'class="refusal"' in text or "<form" in text or "PDF" in text
    assert "Made-up ground; today is" not in text
    assert len(the_book().store.chain()) == before


def test_no_question_that_is_only_asked_can_write(client: Client) -> None:
    before = len(the_book().store.chain())
    address = reverse("question", args=["clean-down"])
    filled = f"{address}?unit=mower&washed=--washed&zone=Main+court"
    answer = answered(client, filled)
    assert "Keep it in the book" in answer.content.decode()
    assert len(the_book().store.chain()) == before
    sent = {"csrfmiddlewaretoken": token(client, filled), "unit": "mower", "washed": "--washed",
            "zone": "Main court"}  # fmt: skip
    assert "Kept in the book." in client.post(address, sent).content.decode()
    assert len(the_book().store.chain()) == before + 1


def test_what_can_only_be_asked_takes_nothing(client: Client) -> None:
    address = reverse("question", args=["clock"])
    sent = {"csrfmiddlewaretoken": token(client, reverse("question", args=["hold-off"]))}
    assert client.post(address, sent).status_code == 405


def test_what_is_sent_is_kept_once_for_each_sending(client: Client) -> None:
    address = reverse("question", args=["hold-off"])
    before = len(the_book().store.chain())
    sent = {"csrfmiddlewaretoken": token(client, address), "job": "verticut",
            "reason": "--money=3", "zone": "Main court"}  # fmt: skip
    answer = client.post(address, sent)
    assert answer.status_code == 200
    assert "Kept in the book." in answer.content.decode()
    entries = the_book().store.whole_diary()
    assert len(entries) == before + 1
    assert getattr(entries[-1].what, "reason", "") == "--money=3"


def test_a_slip_is_told_in_the_words_of_the_page_and_loses_nothing(client: Client) -> None:
    address = reverse("question", args=["hold-off"])
    sent = {"csrfmiddlewaretoken": token(client, address), "job": "verticut", "note": "by the gate"}
    answer = client.post(address, sent)
    text = answer.content.decode()
    assert answer.status_code in {409, 422}
    assert "“Reason”" in text
    assert 'value="by the gate"' in text


def test_no_text_can_become_an_option() -> None:
    add = EVERY["diary", "add"]
    filled = Filled({"kind": "--note=x", "set": "--who=nobody\ntext=a", "zone": "--json"}, {})
    made = as_arguments(add, filled)
    assert made[:2] == ["diary", "add"]
    bare = made.index("--")
    assert made[bare + 1 :] == ["--note=x"]
    assert all(each.startswith(("--set=", "--zone=")) for each in made[2:bare])


def test_no_file_of_the_machine_can_be_named(client: Client) -> None:
    for question in EVERY.values():
        typed = {each.name: "/etc/hostname" for each in question.fields}
        filled = Filled(typed, {})
        files = [each for each in question.fields if each.sort is Sort.FILE]
        made = as_arguments(question, filled)
        for field in files:
            assert f"{field.flag}=/etc/hostname" not in made or not field.flag
        if files and not any(not each.flag for each in question.fields if each not in files):
            assert "--" not in made or "/etc/hostname" not in made[made.index("--") :]


def test_options_are_named_by_their_labels() -> None:
    fields = EVERY["mixture", "choose"].fields
    assert in_labels("Which zone? Say --zone NAME.", fields) == "Which zone? Say “Zone”."
    assert in_labels("Say --nothing-known.", fields) == "Say --nothing-known."


def test_fields_are_called_and_explained_in_words_of_a_page() -> None:
    for question in EVERY.values():
        names = [field.name for field in question.fields]
        assert len(names) == len(set(names)), question.path
        for field in question.fields:
            said = f"{field.label} {field.hint}"
            assert not re.search(r"--[a-z]|\[default|\bm2\b|`|\bJSON\b", said), question.path
            assert len(field.label) > 1
            assert "" not in dict(field.choices)


def test_a_default_that_only_the_help_tells_stands_in_the_field() -> None:
    fields = {field.name: field for field in EVERY["weather", "derive"].fields}
    assert fields["base"].default == "5"
    assert fields["base"].hint == "Lower limit of degree-days, °C."


@pytest.mark.parametrize("words", [("rota",), ("letter",), ("waterproof-page",)])
def test_papers_are_offered_and_never_asked_for_as_a_file(words: tuple[str, ...]) -> None:
    assert EVERY[words].to_file == "to"
    assert not EVERY[words].takes_a_file


def test_commands_that_a_sentence_names_bare_become_links_too() -> None:
    lines = ["More: swardbook week, swardbook fit, swardbook clock.",
             "Workings: swardbook workings fit --zone 'Short court'",
             "More of one zone: swardbook catch-up --zone NAME.",
             "How it was reached: swardbook workings clock --zone NAME",
             "That is why swardbook names no product."]  # fmt: skip
    told = [linked(block.text) for block in blocks_of(lines[:3], METRIC)]
    assert told[0].count("<a href=") == 3
    assert 'ask/workings/?figure=fit&amp;zone=Short+court"' in told[1]
    assert 'ask/catch-up/"' in told[2]
    reached = blocks_of(lines[3:4], METRIC)[0].step
    assert reached is not None
    assert (reached.path, reached.query) == ("workings", "figure=clock")
    assert linked(blocks_of(lines[4:], METRIC)[0].text) == "That is why swardbook names no product."


def test_lines_broken_for_a_terminal_run_on_as_one_paragraph() -> None:
    lines = ["Browntop bent is 20 % of the weight and 75 % of",
             "the seeds (70 % to 84 %, as", "varieties differ).",
             "Chewings fescue  15,200", "Browntop bent  45,000"]  # fmt: skip
    told = [block.text for block in blocks_of(lines, METRIC)]
    assert told[0].endswith("75 % of the seeds (70 % to 84 %, as varieties differ).")
    assert len(told) == 3


def test_a_page_shows_no_keys_of_works() -> None:
    said = blocks_of(["Mind: ask first. The owner decides. [published: hse_services_2014]"], METRIC)
    assert said[0].text.endswith("decides. [published]")


def test_what_cannot_be_drawn_is_answered_without_a_picture(client: Client) -> None:
    for query in ("", "?zone=Short+court&pull=yes"):
        answer = answered(client, f"{reverse('question', args=['compare'])}{query}")
        assert answer.status_code == 200
        assert 'class="answer"' in answer.content.decode()


def test_commands_in_an_answer_become_links_filled_in() -> None:
    step = step_of("swardbook sow watch --zone 'Main court' --frames 3,0,1")
    assert step.path == "sow/watch"
    assert "zone=Main+court" in step.query
    assert step_of("swardbook nothing-such").path == ""
    told = str(linked("Say `swardbook lot show BB-0417` or <b>."))
    assert "/ask/lot/show/?code=BB-0417" in told
    assert "&lt;b&gt;" in told


def test_the_form_of_an_answer_is_kept() -> None:
    rows = Laid(("a", "b"), (("1", "2"),))
    listed = (Marked("fit", "✓", 2), Marked("why", "", 4))
    lines = [Heading("Head"), "", *listed, rows, "Plain.", "Next: swardbook week"]
    made = blocks_of(lines, METRIC)
    assert [each.sort for each in made] == ["heading", "list", "table", "text", "step"]
    assert made[1].lines == (("✓", "fit", 1), ("", "why", 2))
    assert made[4].step is not None
    assert made[4].step.path == "week"


def test_a_paper_comes_as_a_file_to_print(client: Client) -> None:
    answer = client.get(f"{reverse('file-ask', args=['photo/sheet'])}")
    assert answer.status_code == 200
    assert answer.content.startswith(b"%PDF")
    assert "attachment" in answer.headers["Content-Disposition"]


def test_a_file_that_is_sent_is_read_and_not_left_lying(client: Client) -> None:
    from django.core.files.uploadedfile import SimpleUploadedFile

    address = reverse("question", args=["weather/derive"])
    days = [f"{date(2010, 1, n):%Y-%m-%d},{n % 5},{n % 5 + 6},1.0" for n in range(1, 29)]
    held = "date,tmin,tmax,rain\n" + "\n".join(days)
    file = SimpleUploadedFile("../../evil.csv", held.encode(), "text/csv")
    sent = {"csrfmiddlewaretoken": token(client, address), "file": file, "latitude": "52"}
    answer = client.post(address, sent)
    assert answer.status_code == 200, re.sub(r"<[^>]+>", " ", answer.content.decode())
    assert 'class="answer"' in answer.content.decode()


def test_what_is_needed_or_cannot_be_read_is_named_by_its_label(client: Client) -> None:
    needed = client.post(reverse("question", args=["peg/add"]), {
        "csrfmiddlewaretoken": token(client, reverse("question", args=["peg/add"])), "names": "",
    })  # fmt: skip
    assert "is needed." in needed.content.decode()
    assert "argument" not in needed.content.decode()
    read = answered(client, f"{reverse('question', args=['count/plan'])}?zone=Main+court&few=a+lot")
    assert "“So few are fine, plants/m²”: read" in read.content.decode()


def test_the_entry_that_is_put_right_is_told_on_its_page(client: Client) -> None:
    last = the_book().store.whole_diary()[-1]
    page = answered(client, f"{reverse('question', args=['put-right'])}?entry={str(last.id)[:8]}")
    assert f"{last.when.first:%B %Y}" in page.content.decode()
    wrong = answered(client, f"{reverse('question', args=['put-right'])}?entry=ffffffff")
    assert wrong.status_code == 200
