"""Long runs of many cases: each result is put on file at once, so that a run can go on later.

The first line of a file names what the results were made with. A file of the same making is gone
on with; one of another making is begun anew. A torn last line is dropped and its case run again.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterable, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor, as_completed
from contextlib import suppress
from functools import cache
from hashlib import blake2b
from pathlib import Path
from typing import Any

from benchmarks._measuring import ROOT

import swardbook
from swardbook.model.compiling import identity

Result = Mapping[str, Any]
RUNS = ROOT / ".cache" / "validation"
PARTS = (
    "foundation", "evidence", "handbook", "observations", "seed", "weather", "husbandry", "review",
    "model", "book/zone_story.py", "book/zone_seen.py", "book/look_ahead.py",
)  # fmt: skip
"""What of the source a result may come from."""


def making_of(*more: str | bytes) -> str:
    """Fingerprint of everything that a result comes from: code, numbers, machine, and `more`."""
    found = blake2b(_source(), digest_size=12)
    for text in more:
        found.update(text if isinstance(text, bytes) else text.encode())
    return found.hexdigest()


@cache
def _source() -> bytes:
    """Fingerprint of the source, as it was when first asked: what is edited later is not run."""
    source = Path(swardbook.__file__).parent
    found = blake2b(identity().encode(), digest_size=12)
    for part in PARTS:
        path = source / part
        files = [path] if path.is_file() else sorted(path.rglob("*"))
        for file in files:
            if file.suffix in {".py", ".csv", ".toml"}:
                found.update(str(file.relative_to(source)).encode())
                found.update(file.read_bytes())
    return found.digest()


def run_cases(
    file: Path,
    making: str,
    cases: Sequence[str],
    work: Callable[[str], Result],
    processes: int = 1,
    tell: Callable[[str], None] = lambda _: None,
) -> dict[str, Result]:
    """Run the cases that are not on file yet; gives all results in the order of the cases.

    Parameters
    ----------
    file : Path
        Where results are kept, a line each.
    making : str
        Fingerprint of what they are made with.
    cases : sequence of str
        Names of the cases; the result of one depends on its name alone.
    work : callable
        Runs one case; with several processes it must be a function of a module.
    processes : int
        How many processes share the cases.
    tell : callable
        Told in words how far it is.
    """
    known = _read(file, making)
    left = [case for case in cases if case not in known]
    tell(f"{len(known)} of {len(cases)} cases are on file, {len(left)} to run")
    if file.exists() and not known:
        file.unlink()
    file.parent.mkdir(parents=True, exist_ok=True)
    # What was read is written out again, so that a torn line never gets another behind it.
    draft = file.with_suffix(".draft")
    lines = [json.dumps({"making": making}), *(_line(case, told) for case, told in known.items())]
    draft.write_text("".join(f"{line}\n" for line in lines), encoding="utf-8")
    draft.replace(file)
    with file.open("a", encoding="utf-8") as out:
        for number, (case, result) in enumerate(_results(left, work, processes), 1):
            out.write(_line(case, result) + "\n")
            out.flush()
            known[case] = result
            if number % 20 == 0 or number == len(left):
                tell(f"{number} of {len(left)} cases run")
    return {case: known[case] for case in cases}


def _results(
    cases: Sequence[str], work: Callable[[str], Result], processes: int
) -> Iterable[tuple[str, Result]]:
    if processes <= 1:
        for case in cases:
            yield case, work(case)
        return
    with ProcessPoolExecutor(processes) as pool:
        waiting = {pool.submit(work, case): case for case in cases}
        for done in as_completed(waiting):
            yield waiting[done], done.result()


def _line(case: str, result: Result) -> str:
    return json.dumps({"case": case, "result": result})


def _read(file: Path, making: str) -> dict[str, Result]:
    found: dict[str, Result] = {}
    if not file.exists():
        return found
    lines = file.read_text(encoding="utf-8").splitlines()
    with suppress(json.JSONDecodeError, KeyError, IndexError):
        if json.loads(lines[0])["making"] != making:
            return found
        for line in lines[1:]:
            row = json.loads(line)
            found[row["case"]] = row["result"]
    return found


def say_so(words: str) -> None:
    """Tell how far a run is."""
    print(words, file=sys.stderr, flush=True)
