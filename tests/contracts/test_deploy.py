"""What operators are handed starts the program that there is, with what it takes."""

from __future__ import annotations

import configparser
import re
import shlex
from pathlib import Path

import click

from swardbook.cli.serve import command
from swardbook.settings import SETTINGS

ROOT = Path(__file__).parents[2]
UNIT, CONTAINER = ROOT / "deploy/swardbook.service", ROOT / "deploy/Containerfile"


def service() -> configparser.SectionProxy:
    """Read the service's own part of the unit."""
    parser = configparser.ConfigParser(interpolation=None, strict=False)
    parser.optionxform = str  # type: ignore[assignment,method-assign]
    parser.read_string(UNIT.read_text("utf-8"))
    return parser["Service"]


def options_of(words: list[str]) -> dict[str, object]:
    """Read the options of ``serve`` as the program would."""
    context = click.Context(command, info_name="serve")
    command.parse_args(context, words)
    return context.params


def test_the_service_begins_serve_with_options_that_it_takes() -> None:
    program, name, *words = shlex.split(service()["ExecStart"])
    assert (Path(program).name, name) == ("swardbook", "serve")
    taken = options_of(words)
    assert taken["behind_proxy"] is True
    assert taken["browser"] is False


def test_the_container_begins_serve_with_options_that_it_takes() -> None:
    text = CONTAINER.read_text("utf-8").replace("\\\n#", " ")
    found = re.search(r"swardbook serve (--.*)", text)
    assert found is not None
    assert options_of(shlex.split(found.group(1)))["host"] == "0.0.0.0"
    assert "/health" in text


def test_only_settings_that_there_are_are_set() -> None:
    known = {row.environment for row in SETTINGS}
    for text in (UNIT.read_text("utf-8"), CONTAINER.read_text("utf-8")):
        set_here = set(re.findall(r"(SWARDBOOK_\w+)=", text))
        assert set_here
        assert set_here <= known


def test_the_service_writes_into_its_own_folders_alone() -> None:
    own = service()
    assert own["ProtectSystem"] == "strict"
    assert own["ProtectHome"] == own["NoNewPrivileges"] == "true"
    homes = dict(each.split("=") for each in own["Environment"].split())
    assert homes["SWARDBOOK_HOME"] == f"/var/lib/{own['StateDirectory']}"
    assert homes["SWARDBOOK_CACHE"] == f"/var/cache/{own['CacheDirectory']}"


def test_the_container_holds_every_file_that_it_copies() -> None:
    for line in re.findall(r"^COPY (?!--from)(.*) \S+$", CONTAINER.read_text("utf-8"), re.M):
        for name in line.split():
            assert (ROOT / name).exists(), name
