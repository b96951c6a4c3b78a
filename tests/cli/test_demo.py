"""`swardbook demo`: from nothing to the morning look, and every next step it names."""

import json
import shlex
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from swardbook.cli.demo import NEXT
from swardbook.cli.main import root


def run(*words: str) -> Result:
    return CliRunner().invoke(root, list(words))


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("SWARDBOOK_HOME", str(tmp_path / "home"))
    monkeypatch.delenv("SWARDBOOK_DATABASE", raising=False)
    return tmp_path / "home"


def test_it_asks_nothing_and_shows_the_morning_look_and_where_its_pages_are(home: Path) -> None:
    result = run("demo", "--serve")
    assert result.exit_code == 0, result.output
    assert "Made-up ground; today is Sat 8 October 2011." in result.stdout
    for words in ("Fennowick Croquet Club", "What stops you today", "Seeding clock",
                  "Where to go next"):  # fmt: skip
        assert words in result.stdout
    assert "export SWARDBOOK_HOME" not in result.stdout, "it is set already"
    assert (home / "book.sqlite3").exists()
    assert "DEMO_SERVE=1 make demo" in result.stdout, "without a terminal nobody could stop it"


def test_in_json_it_is_one_object_and_the_same_again(home: Path) -> None:
    first, again = run("demo", "--json"), run("demo", "--json")
    assert first.exit_code == again.exit_code == 0
    one, two = json.loads(first.stdout), json.loads(again.stdout)
    assert (one.pop("outcome"), two.pop("outcome")) == ("built", "as built")
    assert one == two
    assert one["made_up"] is True
    assert one["today"] == "2011-10-08"
    assert one["home"] == str(home)


def test_without_a_folder_set_it_lives_apart_and_says_how_to_go_on(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("SWARDBOOK_HOME", raising=False)
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "a folder"))
    monkeypatch.setenv("SWARDBOOK_DATABASE", "")
    result = run("demo", "--json")
    assert result.exit_code == 0, result.output
    told = json.loads(result.stdout)
    assert Path(told["home"]).name == "made-up"
    assert told["go_on"][0] == f"export SWARDBOOK_HOME={shlex.quote(told['home'])}"


@pytest.mark.long
def test_what_was_written_in_it_is_kept_and_said(home: Path) -> None:
    run("demo")
    assert run("cut", "--zone", "Main court", "--height", "11", "--boxed").exit_code == 0
    result = run("demo")
    assert "kept as it is" in result.stdout
    assert "--fresh" in result.stdout
    assert "Built." in run("demo", "--fresh").stdout


def test_beside_a_book_of_ones_own_it_takes_a_folder_of_its_own(home: Path) -> None:
    begun = run("begin", "--name", "Ours", "--latitude", "52", "--elevation", "20")
    assert begun.exit_code == 0, begun.output
    before = (home / "book.sqlite3").read_bytes()
    told = json.loads(run("demo", "--json").stdout)
    assert told["home"] == str(home / "made-up")
    assert (home / "book.sqlite3").read_bytes() == before


@pytest.fixture(scope="module")
def built_home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    home = tmp_path_factory.mktemp("made-up")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("SWARDBOOK_HOME", str(home))
        patch.delenv("SWARDBOOK_DATABASE", raising=False)
        assert run("demo").exit_code == 0
    return home


@pytest.mark.parametrize(
    "command",
    [
        pytest.param(each, marks=[pytest.mark.long] if " look-ahead " in each else [])
        for each, _ in NEXT
    ],
)
def test_every_next_step_it_names_works(
    built_home: Path, monkeypatch: pytest.MonkeyPatch, command: str
) -> None:
    monkeypatch.setenv("SWARDBOOK_HOME", str(built_home))
    name, *words = shlex.split(command)
    assert name == "swardbook"
    result = run(*words)
    assert result.exit_code == 0, result.output
    assert "Made-up ground" in result.stdout
