"""R as a judge of the analyses of trials: `python -m tools.judge_r`.

Where `Rscript` is installed, R analyses the trials in print anew, and sets that only its packages
ship; what it makes of them is held beside our figures and beside those of R that are kept here. The
page `docs/reference/judged-by-r.md` is written from that run. Where R is not installed, our figures
are held beside those that are kept, as far as the sets are at hand, and the page stays as it is.
"""

from __future__ import annotations

import argparse
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

from tools.judge_r_ours import OURS, Figures

ROOT = Path(__file__).parents[1]
SCRIPT = ROOT / "tools" / "judge.R"
TABLES = ROOT / "tests" / "data" / "trials"
KEPT = ROOT / "tools" / "data" / "judged_by_r.tsv"
PAGE = ROOT / "docs" / "reference" / "judged-by-r.md"
EXACT, FITTED, SMALLEST = 1e-8, 1e-4, 1e-7
"""Relative room of what is worked out and of what is searched for, and absolute room of chances."""
SEARCHED = ("component", "reml", "clumping", "range", "nugget", "alike", "warm", "contact",
            "figure", "log-likelihood")  # fmt: skip


@dataclass(frozen=True, slots=True)
class Judged:
    """One figure three ways.

    Parameters
    ----------
    case, figure : str
        What it is.
    ours : float or None
        Ours; None where the set is not at hand.
    judge, kept : float or None
        R's of this run, and R's that is kept; None where there is none.
    """

    case: str
    figure: str
    ours: float | None
    judge: float | None
    kept: float | None

    @property
    def is_met(self) -> bool:
        """Whether all that are known agree."""
        room = FITTED if self.figure.startswith(SEARCHED) else EXACT
        known = [each for each in (self.ours, self.judge, self.kept) if each is not None]
        return all(abs(each - known[-1]) <= max(room * abs(known[-1]), SMALLEST) for each in known)


@dataclass(frozen=True, slots=True)
class Told:
    """What R said: figures by case and name, and versions of what it used."""

    figures: dict[tuple[str, str], float]
    versions: dict[str, str]


def read(text: str) -> Told:
    """Read what the script of R prints."""
    figures: dict[tuple[str, str], float] = {}
    versions: dict[str, str] = {}
    for line in text.splitlines():
        case, figure, told = line.split("\t")
        if case == "version":
            versions[figure] = told
        else:
            figures[case, figure] = float(told)
    return Told(figures, versions)


def ask_r(program: str, sets: Path) -> str:
    """Let R work; it writes the sets that only its packages ship to a folder."""
    asked = [program, str(SCRIPT), str(TABLES), str(sets)]
    return subprocess.run(asked, check=True, capture_output=True, text=True).stdout


def judged(ours: Figures, judge: Told | None, kept: Told) -> list[Judged]:
    """Set the three beside each other, in the order of R."""
    order = list((kept if judge is None else judge).figures)
    order += [key for key in kept.figures if key not in set(order)]
    found = None if judge is None else judge.figures
    return [
        Judged(case, figure, ours.get((case, figure)),
               None if found is None else found.get((case, figure)),
               kept.figures.get((case, figure)))
        for case, figure in order
    ]  # fmt: skip


def our_figures(sets: Path) -> Figures:
    """Work out our figures; cases whose set is not at hand are left out."""
    found: Figures = {}
    for case, work in OURS.items():
        try:
            made = work(TABLES, sets)
        except FileNotFoundError:
            continue
        found |= {(case, figure): each for figure, each in made.items()}
    return found


def page(rows: list[Judged], versions: dict[str, str]) -> str:
    """Write the page."""
    told = ", ".join(f"{name} {each}" for name, each in versions.items())
    met = sum(row.is_met for row in rows)
    lines = [
        "# Judged by R",
        "",
        "<!-- Written by `make judge-r`; nothing here is typed by hand. -->",
        "",
        f"{told}. {met} of {len(rows)} figures agree: to one part in {1 / EXACT:,.0f} where they"
        f" are worked out, in {1 / FITTED:,.0f} where they are searched for, or to {SMALLEST:.7f}."
        " What is *kept* is what R made of the same trials when this was last agreed on; it judges"
        " where R is not installed.",
        "",
        "| case | figure | ours | R | kept | |",
        "|---|---|---|---|---|---|",
    ]
    lines += [
        f"| {row.case} | {row.figure} | {_figure(row.ours)} | {_figure(row.judge)} |"
        f" {_figure(row.kept)} | {'met' if row.is_met else 'not met'} |"
        for row in rows
    ]
    return "\n".join(lines) + "\n"


def _figure(each: float | None) -> str:
    return "-" if each is None else f"{each:.9g}"


def misses(rows: list[Judged]) -> Iterator[str]:
    """Say of each figure that does not agree what it is."""
    for row in rows:
        if not row.is_met:
            yield (f"{row.case}, {row.figure}: ours {_figure(row.ours)}, R {_figure(row.judge)},"
                   f" kept {_figure(row.kept)}")  # fmt: skip


def main(
    find: Callable[[str], str | None] = shutil.which, tell: Callable[[str], None] = print
) -> int:
    """Judge; gives 1 where something does not agree."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--page", type=Path, default=PAGE)
    parser.add_argument("--keep", action="store_true", help="keep what R says from now on")
    asked = parser.parse_args()
    program = find("Rscript")
    with TemporaryDirectory() as folder:
        sets = Path(folder)
        text = None if program is None else ask_r(program, sets)
        if text is not None and asked.keep:
            KEPT.write_text(text, encoding="utf-8")
        judge = None if text is None else read(text)
        rows = judged(our_figures(sets), judge, read(KEPT.read_text(encoding="utf-8")))
    if judge is None:
        tell("R is not installed: our figures are held beside those of R that are kept.")
    else:
        asked.page.write_text(page(rows, judge.versions), encoding="utf-8")
        tell(f"Written: {asked.page}")
    for line in misses(rows):
        tell(line)
    known = [row for row in rows if row.ours is not None]
    tell(
        f"{sum(row.is_met for row in known)} of {len(known)} figures agree;"
        f" {len(rows) - len(known)} are of sets that are not at hand."
    )
    return int(any(not row.is_met for row in rows))


if __name__ == "__main__":
    sys.exit(main())
