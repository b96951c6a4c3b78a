"""A notebook typed out: one line for each thing done, begun by its day."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from swardbook.feeds.history_columns import FOUND, KindOf
from swardbook.feeds.history_dates import DITTO, settle_dates
from swardbook.feeds.history_sheet import OldFile, OldRow
from swardbook.feeds.history_words import boxed_of, job_of
from swardbook.foundation.quantities import FACTORS, known_unit

_DATE = re.compile(
    r"\s*(?:(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*\.?,?\s+)?("
    r"\d{4}-\d{1,2}-\d{1,2}"
    r"|\d{1,2}[/.-]\d{1,2}(?:[/.-](?:\d{4}|\d{2}))?(?![\d/])"
    r"|\d{1,2}(?:st|nd|rd|th)?(?: of)?[ -](?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*"
    r"\.?(?:,?[ -]'?(?:\d{4}|\d{2})(?![\d.,/]|\s*(?:mm|cm|in|m2|g|kg|lb|oz|h|hrs?|%|\")\b))?"
    r"|(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\.? \d{1,2}(?:st|nd|rd|th)?"
    r"(?:,? \d{4})?)\s*[:;,.–-]?\s*",
    re.IGNORECASE,
)
_YEAR_LINE = re.compile(r"\W*(?:[a-z]{3,9}\.? )?((?:19|20)\d{2})\W*", re.IGNORECASE)
_QUANTITY = re.compile(
    r"(?<![\w.,/])(\d+ \d+/\d+|\d+/\d+|\d+(?:[.,]\d+)*)\s*"
    r"((?:g|gms?|grams?|kg|kgs|lbs?|oz|ounces?|pounds?)\s*(?:/|per|a|an)\s*"
    r"(?:m2|m²|sqm|(?:1,?000|thousand)?\s*(?:sq\.?|square)\s*(?:ft|feet|yds?|yards?|m|metres?)"
    r"|yd2|yd²|1000ft2|ft2)"
    r"|mm|cm|inch(?:es)?|ins?\b|\"|”|″|m2|m²|sq\.? ?m|hrs?|hours?|h|mins?|minutes|kgs?|lbs?|oz|g)"
    r"(?![\w²])",
    re.IGNORECASE,
)
_OF_UNIT = {"mm": "length", "g/m2": "rate", "g": "used", "m2": "area", "h": "hours"}


@dataclass(frozen=True, slots=True)
class Names:
    """The names that a line may hold.

    Parameters
    ----------
    zones, seeds, places : tuple of str
        Zones, lots with their mixtures, and pegs, plots and squares.
    kind_of : callable
        Gives the key of what is counted; empty for another word.
    kinds : tuple of str
        Words for what is counted.
    """

    zones: tuple[str, ...]
    seeds: tuple[str, ...]
    places: tuple[str, ...]
    kind_of: KindOf
    kinds: tuple[str, ...]


def read_notebook(text: str, name: str, names: Names) -> OldFile:
    """Read a notebook line by line; a line without a day goes with the day above it.

    Parameters
    ----------
    text : str
        The whole file.
    name : str
        The file, for messages.
    names : Names
        Zones, seed, places and kinds to look for.
    """
    rows: list[OldRow] = []
    titles: list[str] = []
    year = ""
    for number, line in enumerate(text.splitlines(), 1):
        if only := _YEAR_LINE.fullmatch(line) or _title(line):
            year = only[1]
            titles.append(line.strip())
        elif any(letter.isalnum() for letter in line):
            row = _read_line(number, line.strip(), names, rows[-1] if rows else None)
            if year and not re.search(r"\d{4}|[/.' -]\d{2}$", row.said.get("date", "")):
                said = {**row.said, "date": _in_year(row.said.get("date", ""), year)}
                row = replace(row, said=said)
            rows.append(row)
    dated, notes = settle_dates([each.said.get("date", "") for each in rows], name)
    whole = []
    for row, (day, guess) in zip(rows, dated, strict=True):
        said = {**row.said, **({"date": day} if day else {})}
        whole.append(replace(row, said=said, guessed=(*row.guessed, *((guess,) if guess else ()))))
    told = ["Read as a notebook, line by line."]
    told += [f"Taken as titles that tell the year: {'; '.join(titles)}."] if titles else []
    return OldFile(name, tuple(whole), (*told, *notes))


def _title(line: str) -> re.Match[str] | None:
    """Find the one year of a line that has no day and no job."""
    years = list(re.finditer(r"\b((?:19|20)\d{2})\b", line))
    return years[0] if len(years) == 1 and not _DATE.match(line) and not job_of(line) else None


def _in_year(date: str, year: str) -> str:
    if re.fullmatch(r"\d{1,2}[/.-]\d{1,2}", date):
        return f"{re.sub('[.-]', '/', date)}/{year}"
    return f"{date} {year}" if date else ""


def _read_line(number: int, line: str, names: Names, above: OldRow | None) -> OldRow:
    said: dict[str, str] = {}
    guessed: list[str] = []
    rest = line
    if found := _DATE.match(line):
        said["date"], rest = found[1], line[found.end() :]
    elif above is not None and "date" in above.said:
        said["date"] = above.said["date"]
        guessed.append("no day on the line: that of the line above")
    mark = re.match(r"\s*(\S+)\s+", rest)
    if mark and mark[1].casefold() in DITTO and above is not None and "zone" in above.said:
        said["zone"], rest = above.said["zone"], rest[mark.end() :]
        guessed.append(f"zone: as in the line above, {said['zone']}")
    for meaning, known in (("zone", names.zones), ("seed", names.seeds), ("place", names.places)):
        name, rest = _taken(rest, known)
        if name:
            said[meaning] = name
    job = job_of(rest)
    if job:
        said["job"] = job
    if (boxed := boxed_of(rest)) is not None:
        said["boxed"] = "yes" if boxed else "no"
    if job in {"", "count"}:  # "sown 30 g/m2" is no count of sown grass
        rest = _take_counts(rest, names, said)
    rest = _take_quantities(rest, said, job)
    if any(letter.isalpha() for letter in rest):
        said["note"] = line
    return OldRow(number, line, said, tuple(guessed))


def _taken(text: str, known: Sequence[str]) -> tuple[str, str]:
    """Find the longest known name in a text, and take it out."""
    for name in sorted(known, key=len, reverse=True):
        found = re.search(rf"(?<!\w){re.escape(name)}(?!\w)", text, re.IGNORECASE) if name else None
        if found:
            return name, f"{text[: found.start()]} {text[found.end() :]}"
    return "", text


def _take_counts(text: str, names: Names, said: dict[str, str]) -> str:
    for kind in sorted(names.kinds, key=len, reverse=True):
        pattern = rf"(?<!\w){re.escape(kind)}\s*[:=]?\s*(\d+(?:[.,]\d+)?\s*%?|<1|tr\b|nil\b|none\b)"
        found = re.search(pattern, text, re.IGNORECASE)
        if found and names.kind_of(kind):
            number = re.sub(r"nil|none", "0", found[1].casefold())
            said.setdefault(FOUND + names.kind_of(kind), number)
            text = f"{text[: found.start()]} {text[found.end() :]}"
    if points := re.search(r"\b(\d+)\s*(?:points?|pts|crossings)\b", text, re.IGNORECASE):
        said["points"] = points[1]
        text = f"{text[: points.start()]} {text[points.end() :]}"
    return text


def _take_quantities(text: str, said: dict[str, str], job: str) -> str:
    kept, end = [], 0
    for found in _QUANTITY.finditer(text):
        unit = known_unit(found[2])
        meaning = _OF_UNIT.get(FACTORS[unit][0], "") if unit else ""
        if meaning == "length":
            meaning = "height" if job in {"cut", ""} else "depth"
        if not meaning or meaning in said:
            continue
        said[meaning] = f"{found[1]} {unit}"
        kept.append(text[end : found.start()])
        end = found.end()
    return " ".join([*kept, text[end:]])
