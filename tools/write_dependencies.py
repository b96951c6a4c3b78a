"""Write `docs/reference/dependencies.md`: what is installed, by whom it may be used, and what for.

What stands there is read from the metadata of the installed packages and from the locks; what each
package is for is told here, or by which package asked for it.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from importlib.metadata import Distribution, PackageNotFoundError, distribution
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[1]
PAGE = ROOT / "docs" / "reference" / "dependencies.md"
FOR = {
    "altair": "charts, described", "argon2-cffi": "passwords, hashed", "build": "making a wheel",
    "click": "the command line", "distributed": "looking ahead on many machines",
    "django": "the records and the pages", "editables": "installing from the clone",
    "granian": "serving the pages", "hatchling": "making a wheel", "numba": "the model, compiled",
    "numpy": "arrays", "opencv-python-headless": "photographs, decoded and straightened",
    "pillow": "what stands in picture files", "platformdirs": "where the book lies",
    "prometheus-client": "figures for operators", "psycopg": "a book on PostgreSQL",
    "psycopg-binary": "a book on PostgreSQL",
    "pyotp": "the second factor", "pysqlite3": "a newer SQLite than the system's",
    "rich": "tables in a terminal", "scipy": "distributions and solvers",
    "segno": "QR codes", "simplejpeg": "photographs, decoded quickly", "typst": "papers as PDF",
    "tzdata": "time zones", "vl-convert-python": "charts, drawn as SVG",
    "whitenoise": "scripts and styles, handed out", "cryptography": "certificates",
}  # fmt: skip
"""What each package that is asked for is for."""
KNOWN = {
    "MIT", "MIT-0", "MIT-CMU", "BSD", "BSD-2-Clause", "BSD-3-Clause", "0BSD", "Apache-2.0", "ISC",
    "PSF-2.0", "HPND", "Zlib", "Unlicense", "MPL-2.0", "LGPL", "LGPL-3.0-only", "CC0-1.0",
    "BSL-1.0", "LLVM-exception",
}  # fmt: skip
"""Licences that may be among those that swardbook runs on; any other has to be looked at."""
WITH_CARE = {
    "MPL-2.0": "changes to its own files are handed on under it; there are none here",
    "LGPL": "installed beside swardbook and imported, never copied into it",
    "LGPL-3.0-only": "installed beside swardbook and imported, never copied into it",
}  # fmt: skip
_PLAIN = {
    "mit license": "MIT", "mit": "MIT", "bsd license": "BSD", "bsd": "BSD", "apache": "Apache-2.0",
    "new bsd license": "BSD-3-Clause", "apache software license": "Apache-2.0",
    "apache license 2.0": "Apache-2.0", "apache 2.0": "Apache-2.0", "apache 2": "Apache-2.0",
    "apache license, version 2.0": "Apache-2.0", "isc license (iscl)": "ISC",
    "bsd-3-clause license": "BSD-3-Clause", "3-clause bsd license": "BSD-3-Clause",
    "bsd 3-clause": "BSD-3-Clause", "bsd 3-clause license": "BSD-3-Clause",
    "python software foundation license": "PSF-2.0",
    "gnu library or lesser general public license (lgpl)": "LGPL",
    "mozilla public license 2.0 (mpl 2.0)": "MPL-2.0", "the unlicense (unlicense)": "Unlicense",
    "historical permission notice and disclaimer (hpnd)": "HPND",
    "zlib/libpng license": "Zlib", "isc license": "ISC",
}  # fmt: skip


ABSENT = "not installed here"


@dataclass(frozen=True, slots=True)
class Package:
    """One package.

    Parameters
    ----------
    name, version : str
        As locked.
    licences : tuple of str
        Its licences, in short; empty where it names none.
    use : str
        What it is for.
    part : str
        ``run``, ``more`` for what extras ask for, or ``test``.
    """

    name: str
    version: str
    licences: tuple[str, ...]
    use: str
    part: str


def locked(lock: str) -> dict[str, str]:
    """Give names and versions of a lock, as this Python takes them."""
    text = (ROOT / "locks" / f"{lock}.txt").read_text(encoding="utf-8")
    found: dict[str, str] = {}
    for name, version in re.findall(r"^([A-Za-z0-9_.\-]+)==([^\s;\\]+)", text, re.MULTILINE):
        found.setdefault(plain(name), version)
    return found


def plain(name: str) -> str:
    """Give a package's name as registries compare them."""
    return re.sub(r"[-_.]+", "-", name).casefold()


@cache
def packages() -> tuple[Package, ...]:
    """List every locked package, by the narrowest use it has."""
    asked, run, every = asked_for(), locked("run"), {**locked("test"), **locked("all")}
    every |= run
    more = _closed(_extras("all", "postgres", "cluster", "sqlite")) - set(run)
    found = []
    for name, version in every.items():
        part = "run" if name in run else "more" if name in more else "test"
        among = set(run) if part == "run" else more if part == "more" else set(every)
        held = _held(name)
        licences = licences_of(held) if held is not None else (ABSENT,)
        use = FOR.get(name, "") or ("tests" if name in asked else "")
        if not use:
            by = sorted(each for each in among if name in _needs(each))
            use = f"needed by {', '.join(by[:3])}" if by else "needed elsewhere"
        found.append(Package(name, version, licences, use, part))
    return tuple(sorted(found, key=lambda each: each.name))


def _extras(*names: str) -> set[str]:
    extras = _project()["optional-dependencies"]
    asked = [each for name in names for each in extras[name]]
    with_parts = {_name(each.replace("[", "-").replace("]", "")) for each in asked if "[" in each}
    return {_name(each) for each in asked} | with_parts


def _closed(names: set[str]) -> set[str]:
    """Give packages with all that they need."""
    found: set[str] = set()
    left = list(names)
    while left:
        name = left.pop()
        if name not in found:
            found.add(name)
            left += _needs(name)
    return found


@cache
def _needs(name: str) -> frozenset[str]:
    held = _held(name)
    requires = (held.requires or ()) if held is not None else ()
    return frozenset(_name(each) for each in requires if "extra ==" not in each)


def _name(asked: str) -> str:
    return plain(re.split(r"[\[<>=;!~ (]", asked)[0])


def _project() -> dict[str, Any]:
    text = (ROOT / "pyproject.toml").read_text(encoding="utf-8")
    found: dict[str, Any] = tomllib.loads(text)["project"]
    return found


def asked_for() -> set[str]:
    """Give the names that the project itself asks for."""
    project = _project()
    every = [*project["dependencies"]]
    for extra in project["optional-dependencies"].values():
        every += extra
    return {_name(each) for each in every}


@cache
def _held(name: str) -> Distribution | None:
    try:
        return distribution(name)
    except PackageNotFoundError:
        return None


def _said(held: Distribution, field: str) -> str:
    return str(held.metadata[field]) if field in held.metadata else ""


def licences_of(held: Distribution) -> tuple[str, ...]:
    """Give a package's licences in short, from the best that it says of itself."""
    told = held.metadata
    expression = _said(held, "License-Expression")
    if expression:
        words = re.split(r"\s+(?:AND|OR|WITH)\s+|[()]", expression)
        return tuple(dict.fromkeys(each.strip() for each in words if each.strip()))
    named = [
        each.rsplit("::", 1)[-1].strip()
        for each in told.get_all("Classifier") or ()
        if each.startswith("License ::") and not each.endswith("OSI Approved")
    ]
    text = _said(held, "License").strip()
    if not named and text:
        named = [text.split("\n")[0]]
    return tuple(dict.fromkeys(_PLAIN.get(each.casefold(), each) for each in named))


def page_of(every: Iterable[Package]) -> str:
    """Write the page."""
    every = tuple(every)
    heads = {
        "run": "What swardbook runs on",
        "more": "For more: PostgreSQL, many machines",
        "test": "For tests alone; nothing of it is handed on",
    }
    lines = [
        "# Dependencies and their licences",
        "",
        "Written by `python -m tools.write_dependencies` from the locks and from what each package"
        " says of itself. swardbook itself is under the",
        "Apache License 2.0. A test holds that every locked package is here and that none that it"
        " runs on has a licence that nobody looked at.",
        "",
    ]
    for part, head in heads.items():
        lines += [
            f"## {head}",
            "",
            "| package | version | licence | what for |",
            "|---|---|---|---|",
        ]
        lines += [
            f"| {each.name} | {each.version} | {', '.join(each.licences) or 'not said'} |"
            f" {each.use} |"
            for each in every
            if each.part == part
        ]
        lines.append("")
    cares = [
        (each.name, licence)
        for each in every
        if each.part != "test"
        for licence in each.licences
        if licence in WITH_CARE
    ]
    lines += ["## With care", ""]
    lines += [f"- {name}, {licence}: {WITH_CARE[licence]}." for name, licence in cares] or ["None."]
    lines += ["", "Files copied into the package, with their licences, are listed in `NOTICE`.", ""]
    return "\n".join(lines)


def main() -> None:
    """Write the page."""
    PAGE.write_text(page_of(packages()), encoding="utf-8")


if __name__ == "__main__":
    main()
