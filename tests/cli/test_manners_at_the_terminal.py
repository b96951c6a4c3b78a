"""What a terminal, a pipe or a slip can do to the command line: never a traceback."""

import json
import os
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from swardbook.cli import main as front
from swardbook.cli.main import root
from swardbook.cli.output import shown, table
from swardbook.cli.wrapping import heading, rewrapped, under, width
from tests.cli.conftest import Run

LONG = ["Lime Walk", "annual meadow-grass 20 %, bare 10 %, 4 clumps of Yorkshire fog and more"]


def process(
    home: Path, *arguments: str, **environment: str
) -> "subprocess.CompletedProcess[bytes]":
    return subprocess.run(
        [sys.executable, "-m", "swardbook", *arguments], capture_output=True, check=False,
        env={**os.environ, "SWARDBOOK_HOME": str(home), **environment},
    )  # fmt: skip


@pytest.fixture
def phone(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "44")


@pytest.mark.parametrize(
    "arguments",
    [["zone", "show"], ["diary", "show"], ["morning"], ["week"], ["fit"], ["clock"],
     ["peg", "show"], ["strip", "show"], ["compare"], ["lot", "show", "BB-1"]],
)  # fmt: skip
@pytest.mark.usefixtures("phone")
def test_no_answer_is_wider_than_a_phone(ground: Run, arguments: list[str]) -> None:
    ground("cut", "--zone", "main court", "--height", "5 cm", "--note", "wet " * 40)
    parts = ("-p", "slender creeping red fescue=80", "-p", "browntop bent=20")
    ground("lot", "add", "--code", "BB-1", "--name", "Bobbin", "--weight", "40", *parts)
    told = ground(*arguments, code=None).text
    wide = [line for line in told.splitlines()
            if len(line) > 44 and not line.lstrip().startswith("swardbook ")]  # fmt: skip
    assert told
    assert wide == []


@pytest.mark.usefixtures("phone")
def test_a_table_too_wide_for_a_phone_becomes_lines_and_loses_no_cell() -> None:
    assert table(["zone", "fine there"], [LONG])[0] == "Lime Walk"
    assert re.sub(r"\s+", " ", " ".join(table(["zone", "fine there"], [LONG]))).endswith(LONG[1])
    assert table(["zone", "m²"], [["Lime Walk", "180"]])[0] == "zone       m²"


def test_what_goes_into_a_pipe_is_not_wrapped(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("COLUMNS", raising=False)
    assert width() == 80
    assert shown(["word " * 40]) == ["word " * 40]


@pytest.mark.usefixtures("phone")
def test_a_command_to_copy_stays_in_one_piece() -> None:
    command = "  swardbook put-right 3f2a --set height_of_cut_mm=25 --reason 'typed wrong'"
    assert rewrapped(command) == [command]


@pytest.mark.usefixtures("phone")
def test_a_next_step_too_wide_for_a_phone_stands_whole_on_its_own_line() -> None:
    command = "swardbook zone add NAME --sides 20x12 --use 'family lawn'"
    assert rewrapped(f"Next: {command}") == ["Next:", f"  {command}"]
    assert rewrapped("Next: swardbook week") == ["Next: swardbook week"]


@pytest.mark.parametrize(
    "quantity",
    ["5 %", "1,250 m²", "12.5 mm", "3 g/m²", "8 °C", "14 L/min", "30 mm/h", "26 mol/m²", "4 h",
     "20 min", "± 2", "9 kg", "0.5 in", "18 g N/m²", "450 °C d"],
)  # fmt: skip
@pytest.mark.usefixtures("phone")
def test_a_number_and_its_unit_are_never_on_two_lines(quantity: str) -> None:
    for lead in range(30, 45):
        text = f"{'x' * lead} {quantity}, and so on, in words enough to fill more than a line"
        for lines in (rewrapped(text), under("-", text)):
            assert any(quantity in line for line in lines), lines
            assert all(len(line) <= 44 for line in lines[1:])
            assert " ".join(" ".join(lines).split()).endswith(text[lead:])


@pytest.mark.usefixtures("phone")
def test_a_wrapped_line_hangs_under_its_own_beginning() -> None:
    first, *rest = rewrapped("  ✗ Main court: " + "wet ground " * 8)
    assert first.startswith("  ✗ Main court")
    assert rest
    assert all(line.startswith(("    wet", "    ground")) for line in rest)
    assert len(heading("a" * 60)[1]) == 44


def test_letters_that_steer_a_terminal_are_shown_not_obeyed(ground: Run) -> None:
    note = "a\x1b[31mb\x07\nsecond line"
    ground("cut", "--zone", "main court", "--note", note)
    told = ground("diary", "show").text
    assert "\x1b" not in told
    assert "a␛[31mb␇\n          second line" in told
    assert ground("diary", "show", "--json").json["entries"][0]["note"] == note


@pytest.mark.parametrize(
    "encoding",
    [
        "cp437",
        *(pytest.param(each, marks=pytest.mark.long) for each in ("ascii", "latin-1", "utf-8")),
    ],
)
def test_a_terminal_without_our_marks_gets_plain_ones(
    ground: Run, book_home: Path, encoding: str
) -> None:
    ground("diary", "add", "frost", "--zone", "main court")
    ground("cut", "--zone", "main court", "--note", "“so” ✓")
    for arguments in (["fit", "cut", "--zone", "main court"], ["diary", "show"]):
        told = process(book_home, *arguments, "--on", "8 Oct 2011", PYTHONIOENCODING=encoding)
        assert (told.returncode, told.stderr) == (0, b"")
    asked = process(book_home, "diary", "show", "--json", "--on", "8 Oct 2011",
                    PYTHONIOENCODING=encoding)  # fmt: skip
    read = json.loads(asked.stdout.decode("utf-8" if encoding == "ascii" else encoding))
    assert read["entries"][-1]["note"] == "“so” ✓"


def test_met_and_not_met_stay_apart_in_plain_marks(ground: Run, book_home: Path) -> None:
    ground("diary", "add", "frost", "--zone", "main court")
    fit = ("fit", "cut", "--zone", "main court", "--on", "8 Oct 2011")
    told = process(book_home, *fit, PYTHONIOENCODING="cp437").stdout.decode("cp437")
    assert "x frost: not met" in told
    assert "+ closures: met" in told


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs /dev/full")
def test_an_answer_that_cannot_be_written_is_one_sentence(ground: Run, book_home: Path) -> None:
    ground("cut", "--zone", "main court")
    held = {name: text for name, text in os.environ.items() if name != "PYTHONUNBUFFERED"}
    with Path("/dev/full").open("w") as full:
        done = subprocess.run(
            [sys.executable, "-m", "swardbook", "zone", "show"], stdout=full, check=False,
            stderr=subprocess.PIPE, env={**held, "SWARDBOOK_HOME": str(book_home)},
        )  # fmt: skip
    assert done.returncode == 1
    assert done.stderr.decode().startswith("The answer could not be written out: No space left")
    assert len(done.stderr.splitlines()) == 1


def test_a_reader_who_has_seen_enough_gets_no_traceback(ground: Run, book_home: Path) -> None:
    ground("cut", "--zone", "main court", "--note", "x" * 4000)
    reading = subprocess.Popen(
        [sys.executable, "-m", "swardbook", "diary", "show", "--json"], stdout=subprocess.PIPE,
        stderr=subprocess.PIPE, env={**os.environ, "SWARDBOOK_HOME": str(book_home)},
    )  # fmt: skip
    assert reading.stdout is not None
    assert reading.stderr is not None
    reading.stdout.close()
    assert reading.stderr.read() == b""
    reading.wait()
    reading.stderr.close()


def interrupt(*_: object, **__: object) -> None:
    raise KeyboardInterrupt


def test_ctrl_c_ends_with_130_and_one_line_and_loses_nothing(
    ground: Run, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    ground("cut", "--zone", "main court")
    with monkeypatch.context() as slip:
        slip.setattr("swardbook.cli.keeping.answer", interrupt)
        slip.setattr(sys, "argv", ["swardbook", "cut", "--zone", "short court"])
        with pytest.raises(SystemExit) as ended:
            front.main()
    told = capsys.readouterr()
    assert ended.value.code == 130
    assert told.out == ""
    assert told.err.split("\n") == ["", "Stopped. What was kept before is kept.", ""]
    kept = ground("diary", "show", "--json").json["entries"]
    assert len(kept) == 2


def fail(*_: object, **__: object) -> None:
    raise RuntimeError("a wheel came off")


def test_a_fault_of_the_program_is_one_sentence_that_says_how_to_report_it(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(root, "main", fail)
    monkeypatch.delenv("SWARDBOOK_DEBUG", raising=False)
    monkeypatch.setattr(sys, "argv", ["swardbook", "week"])
    with pytest.raises(SystemExit) as ended:
        front.main()
    told = capsys.readouterr()
    assert ended.value.code == 1
    assert told.out == ""
    assert "RuntimeError: a wheel came off" in told.err
    assert "SWARDBOOK_DEBUG=1" in told.err
    assert len(told.err.splitlines()) == 1


def test_the_whole_fault_is_there_for_who_asks(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(root, "main", fail)
    monkeypatch.setattr(sys, "argv", ["swardbook", "week"])
    monkeypatch.setenv("SWARDBOOK_DEBUG", "1")
    with pytest.raises(RuntimeError, match="a wheel came off"):
        front.main()


@pytest.mark.parametrize(
    ("typed", "offered"),
    [("mow", "cut"), ("undo", "put-right"), ("wek", "week"), ("help", "--help")],
)  # fmt: skip
def test_a_word_that_is_no_command_gets_the_one_meant(run: Run, typed: str, offered: str) -> None:
    assert offered in run(typed, code=2).text


@pytest.mark.parametrize("name", ["SWARDBOOK_DRAWS", "SWARDBOOK_THREADS"])
@pytest.mark.parametrize("held", ["abc", "²", "-1", "1.5", "0"])
def test_a_setting_that_is_no_number_is_refused(
    run: Run, monkeypatch: pytest.MonkeyPatch, name: str, held: str
) -> None:
    monkeypatch.setenv(name, held)
    assert f"{name}: read {held!r}" in run("morning", code=2).text


@pytest.mark.parametrize("day", ["9999-12-31", "0001-01-01", "2400-01-01"])
def test_a_day_outside_any_calendar_of_ours_is_refused(ground: Run, day: str) -> None:
    for arguments in (["morning", "--on", day], ["cut", "--when", day]):
        assert "a year from 1900 to 2199" in ground(*arguments, code=2).text


@pytest.mark.parametrize(
    "question",
    [["zone", "show"], ["peg", "show"], ["strip", "show"], ["lot", "show"], ["count", "show"],
     ["compare"], ["clock"], ["fit"], ["week"], ["morning"], ["diary", "show"], ["diary", "check"],
     ["diary", "kinds"], ["workings"], ["mixture", "-p", "browntop bent=100", "--rate", "8"]],
)  # fmt: skip
def test_the_same_question_gives_the_same_one_object(ground: Run, question: list[str]) -> None:
    ground("cut", "--zone", "main court", "--height", "8")
    ground("count", "add", "--zone", "main court", "--place", "P1", "--found", "bare=2")
    first = ground(*question, "--json").result
    assert first.stdout == ground(*question, "--json").result.stdout
    assert first.stderr == ""
    assert "NaN" not in first.stdout
    assert list(unlike_a_key(json.loads(first.stdout))) == []


def unlike_a_key(held: object) -> Iterator[str]:
    """Keys that are neither lower case with underscores nor the name of a kind counted."""
    if isinstance(held, dict):
        for key, value in held.items():
            is_weed = key.endswith(("meadow-grass", "yorkshire fog"))
            if not is_weed and not re.fullmatch(r"[a-z0-9_]+", key):
                yield key
            yield from unlike_a_key(value)
    if isinstance(held, list):
        for value in held:
            yield from unlike_a_key(value)


def test_a_refusal_leaves_nothing_where_the_object_would_stand(ground: Run) -> None:
    for arguments in (
        ["clock", "--zone", "no"],
        ["cut", "--when", "31 June"],
        ["lot", "check", "x"],
    ):
        told = ground(*arguments, "--json", code=2).result
        assert told.stdout == ""
        assert told.stderr != ""
