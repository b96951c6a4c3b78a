"""Help for somebody who has never seen it: what to type next, on a phone as well."""

from __future__ import annotations

import re
import shlex
from collections.abc import Iterator
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

from swardbook.cli.examples import EXAMPLES
from swardbook.cli.main import root
from tests.cli.conftest import Run
from tests.contracts.test_manners import ARROW, GAME, PROMISE
from tests.support.books import standing_on_made_up_ground

BY_ID = {"unseal", "parked take-in", "put-right"}
"""Examples whose id is only known once there is such an entry."""
NEW_BOOK = {"demo", "begin", "import", "check-up", "copy", "restore", "move-to"}
WANTS_MORE = {"serve", "photo read", "photo sheet", "photo compare", "people add", "people role",
              "people end", "people new-password", "weather fetch",
              "weather normals"}  # fmt: skip
"""Examples that want a browser, photographs, what draws pages, a password, a service or years."""
LONG = {"mixture choose", "mixture compare", "mixture build", "sow when", "look-ahead",
        "programme search", "export", "bring-together"}  # fmt: skip
"""Run line by line elsewhere: by the how-to pages and by tests of their own."""


OF_A_FIRM = {
    "firm yard", "firm person", "firm template keep", "firm template begin", "firm together",
    "firm part",
}  # fmt: skip
OF_PEOPLE = {
    "people withdraw", "people grounds", "people phones", "people second-factor-off",
    "people left-behind", "people forget-name",
}  # fmt: skip
"""Run by the page on letting others in and by tests of their own, where there are people."""
NOT_RUN = BY_ID | LONG | NEW_BOOK | WANTS_MORE | OF_A_FIRM | OF_PEOPLE
EYE_ROLLER = re.compile(
    r"annual, so|dies? in winter|mown? out|broad-?leaved (grass|fog)"
    r"|mow(n|ing)? (close|low|high)\w* (removes|kills|cures)"
    r"|(?<!no )thicker (to be safe|for safety)|(to|on) (the|your) (own )?compost"
    r"|kill the worms|roll(ing)? (it )?flat",
    re.IGNORECASE,
)
"""What nobody who knows turf would say."""


def every_command() -> Iterator[tuple[str, click.Command]]:
    def under(command: click.Command, path: str) -> Iterator[tuple[str, click.Command]]:
        yield path, command
        if isinstance(command, click.Group):
            for name in command.list_commands(click.Context(command)):
                child = command.get_command(click.Context(command), name)
                assert child is not None
                yield from under(child, f"{path} {name}".strip())

    yield from under(root, "")


COMMANDS = dict(every_command())


def told(path: str, columns: int, monkeypatch: pytest.MonkeyPatch) -> str:
    monkeypatch.setenv("COLUMNS", str(columns))
    result = CliRunner().invoke(root, [*path.split(), "--help"], prog_name="swardbook")
    assert result.exit_code == 0
    return result.output


@pytest.mark.parametrize("columns", [44, 80])
@pytest.mark.parametrize("path", COMMANDS)
def test_help_fits_the_screen_and_shows_what_to_type(
    path: str, columns: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    text = told(path, columns, monkeypatch)
    lines = [each for each in text.splitlines() if not each.startswith("  swardbook ")]
    assert [each for each in lines if len(each) > columns] == []
    assert not re.search(r"\w\.\.\.$", text.partition("Commands:")[2], re.MULTILINE)
    does_something = not isinstance(COMMANDS[path], click.Group) or path in EXAMPLES
    if does_something:
        assert f"  swardbook {path}" in text.partition("Example:")[2]


def test_every_example_is_of_a_command() -> None:
    assert set(EXAMPLES) <= set(COMMANDS)


@pytest.mark.parametrize("path", sorted(NOT_RUN))
def test_an_example_that_is_not_run_here_can_be_read(path: str) -> None:
    command = COMMANDS[path]
    for line in EXAMPLES[path]:
        context = command.make_context(path, shlex.split(line))
        assert set(context.params) <= {each.name for each in command.params}
        assert not context.args or isinstance(command, click.Group)


@pytest.mark.long
def test_every_other_example_works_on_the_made_up_ground(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("station.csv").write_text(
        "date,tmin,tmax,rain\n2011-05-01,4,15,0\n2011-05-02,6,17,2\n", encoding="utf-8"
    )
    Path("count.csv").write_text("place,annual meadow-grass,bare\nP1,6,2\n", encoding="utf-8")
    rows = [",".join(f"{(row * column) % 7 + row}" for column in range(12)) for row in range(8)]
    Path("readings.csv").write_text("\n".join(rows), encoding="utf-8")
    Path("lawn-book.csv").write_text(
        "date,job,zone,height\n2011-05-01,cut,Main court,8 mm\n", encoding="utf-8"
    )
    with standing_on_made_up_ground(tmp_path / "book"):
        for path, lines in EXAMPLES.items():
            for line in lines if path not in NOT_RUN else ():
                result = CliRunner().invoke(root, [*path.split(), *shlex.split(line)])
                assert result.exit_code in ({0, 1} if path == "square-up" else {0}), result.output
                for never in (PROMISE, GAME, ARROW, EYE_ROLLER):
                    assert not never.search(" ".join(result.output.split())), result.output


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["cut", "--hours", "abc"], "read 'abc'; understood here: a number."),
        (["refill", "--holes", "2,5"], "read '2,5'; understood here: a whole number of 1 or more."),
        (["count", "add", "--points", "2000"], "a whole number from 1 to 1000."),
    ],
)
def test_a_number_that_cannot_be_read_says_what_can(
    ground: Run, arguments: list[str], words: str
) -> None:
    assert words in " ".join(ground(*arguments, code=2).text.split())


def test_every_number_may_have_a_decimal_comma(ground: Run) -> None:
    told = ground("cut", "--zone", "main court", "--hours", "1,5", "--json").json
    assert told["entry"]["hours"] == 1.5
    tap = ground("survey", "tap", "--seconds", "42,9", "--json").json
    assert tap == ground("survey", "tap", "--seconds", "42.9", "--json").json


NEEDS_A_ZONE = (
    "sow when", "sow watch", "route compare", "feed plan", "water plan", "what-is-wrong",
    "mixture choose", "mixture compare", "mixture build",
)  # fmt: skip


@pytest.mark.parametrize("path", NEEDS_A_ZONE)
def test_a_command_that_needs_a_zone_says_so(path: str, monkeypatch: pytest.MonkeyPatch) -> None:
    text = " ".join(told(path, 80, monkeypatch).split())
    assert "Zone, by name; needed." in text
    assert "none: the whole site" not in text


@pytest.mark.parametrize("path", ["cut plan", "verticut plan", "verticut strips"])
def test_a_zone_that_can_be_guessed_is_needed_where_there_are_several(
    path: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    text = " ".join(told(path, 80, monkeypatch).split())
    assert "needed where there are several" in text


def test_what_holds_for_one_command_is_not_told_of_another(monkeypatch: pytest.MonkeyPatch) -> None:
    assert "none: the whole site" in " ".join(told("survey ph", 80, monkeypatch).split())
    assert "needed without --area" in " ".join(told("materials spoil", 80, monkeypatch).split())
