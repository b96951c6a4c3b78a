"""Every package that is locked is known: what for, and under which licence."""

import re

from tools.write_dependencies import ABSENT, KNOWN, PAGE, locked, packages

ON_THE_PAGE = dict(
    re.findall(r"^\| ([a-z0-9-]+) \| ([^ |]+) \|", PAGE.read_text("utf-8"), re.MULTILINE)
)


def test_each_package_that_is_locked_is_on_the_page_with_its_version() -> None:
    for lock in ("run", "all", "test"):
        for name, version in locked(lock).items():
            assert name in ON_THE_PAGE, f"run `python -m tools.write_dependencies`: {name}"
            assert lock != "run" or ON_THE_PAGE[name] == version


def test_nothing_that_it_runs_on_has_a_licence_that_nobody_looked_at() -> None:
    for each in packages():
        if each.part != "test" and each.licences != (ABSENT,):
            assert each.licences, each.name
            assert set(each.licences) <= KNOWN, each


def test_what_each_package_is_for_is_told() -> None:
    for each in packages():
        assert each.part == "test" or each.use not in {"", "needed elsewhere"}, each
