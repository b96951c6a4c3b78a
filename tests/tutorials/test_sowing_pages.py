"""The pages on choosing a mixture and on sowing work as written, on the made-up ground."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.support.books import put_made_up_ground
from tests.tutorials.test_pages import plain, run

HOW_TO = Path(__file__).parents[2] / "docs" / "how-to"
FORECAST = "date,tmin,tmax,rain\n2011-08-11,10,18,0\n2011-08-12,9,17,22\n2011-08-13,8,17,1\n"


def commands(page: str) -> Iterator[tuple[str, list[str]]]:
    """Each command of a page with the words that must stand in its answer."""
    text = (HOW_TO / page).read_text(encoding="utf-8")
    for block in re.findall(r"```console\n(.*?)```", text, re.S):
        command, expected = "", list[str]()
        for line in (each.strip() for each in block.splitlines()):
            if line.startswith("$ "):
                if command:
                    yield command, expected
                command, expected = line.removeprefix("$ "), []
            elif line:
                expected.append(line)
        yield command, expected


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """The made-up ground, with a forecast beside it."""
    place = tmp_path_factory.mktemp("pages")
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(place)
        patch.setenv("SWARDBOOK_HOME", str(place / "book"))
        patch.delenv("SWARDBOOK_DATABASE", raising=False)
        put_made_up_ground(place / "book")
        (place / "forecast.csv").write_text(FORECAST, encoding="utf-8")
        yield place


@pytest.mark.parametrize("page", ["choose-a-mixture.md", "when-to-sow.md"])
def test_every_command_of_the_page_answers_as_the_page_says(home: Path, page: str) -> None:
    ran = 0
    for command, expected in commands(page):
        result = run(command)
        assert result.exit_code == 0, f"{command}\n{result.output}"
        for words in expected:
            assert plain(words) in plain(result.output), f"{command}\n{words}\n{result.output}"
        ran += 1
    assert ran >= 6
