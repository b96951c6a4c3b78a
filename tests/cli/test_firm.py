"""``swardbook firm``: one object each, the same for the same question, and refusals in words."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from swardbook.cli.main import root
from tests.support.firms import YARD, firm_book


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    made = tmp_path_factory.mktemp("firm") / "home"
    firm_book(made).store.close()
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("SWARDBOOK_HOME", str(made))
        patch.delenv("SWARDBOOK_DATABASE", raising=False)
        yield made


def told(line: str, code: int = 0) -> str:
    result = CliRunner().invoke(root, ["firm", *line.split()])
    assert result.exit_code == code, result.output
    return result.output


def asked(line: str) -> dict[str, Any]:
    first, second = (told(f"{line} --json") for _ in range(2))
    assert first == second
    found: dict[str, Any] = json.loads(first)
    return found


def test_a_week_is_one_object_with_every_lawn_once(home: Path) -> None:
    assert home.is_dir()
    found = asked("week")
    lawns = [
        lawn["ground"] for who in found["people"] for day in who["days"] for lawn in day["lawns"]
    ]
    assert lawns
    assert len(lawns) == len({*lawns})
    assert found["yard"] == YARD
    assert [each["name"] for each in asked("week --who bram")["people"]] == ["Bram"]


def test_seed_and_a_lot_are_one_object_each(home: Path) -> None:
    assert home.is_dir()
    [lot] = [each for each in asked("stock")["lots"] if each["code"] == "BB-0100"]
    traced = asked("trace BB-0100")
    assert traced["grams"] == lot["used_g"]
    assert {each["ground"] for each in traced["sown"]} <= {*lot["lawns"]}


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("trace XX-1", "No lot called"),
        ("week --who Zed", "No person called"),
        ("week --to week.pdf", "--who"),
        ("yard 1-lime-walk", "without zones"),
        ("comes 1-lime-walk --between noon", "9:00-15:30"),
        ("together 1-lime-walk 1-lime-walk", "another than the first"),
        ("together 1-lime-walk 1-court-end", "No ground called"),
        ("part 1-lime-walk", "put together"),
        ("template show Zed", "No template called"),
    ],
)
def test_what_cannot_be_is_refused_in_words(home: Path, line: str, says: str) -> None:
    assert home.is_dir()
    assert says in " ".join(told(line, 2).split())
