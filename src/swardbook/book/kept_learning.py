"""Draws that were learned before, kept in the cache under all that they rest on.

A kept answer is the learned one to the last bit; a file that cannot be used is made anew.
"""

from __future__ import annotations

import json
import os
import tempfile
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, fields, is_dataclass
from datetime import date
from hashlib import blake2b
from importlib.metadata import version
from io import BytesIO
from pathlib import Path
from typing import Any

import numpy as np

from swardbook.book.kept_worth import program
from swardbook.evidence.estimates import Interval
from swardbook.foundation.errors import BadInputError
from swardbook.husbandry.codec import from_plain, to_plain
from swardbook.model.chance import Chance
from swardbook.model.expecting import Expected
from swardbook.model.growing import Grow
from swardbook.model.learning import Cloud, Learned, Weighing
from swardbook.model.past import Known, Learn, Story, live_through, lived_on
from swardbook.settings import Settings

MOST_BYTES = 128 * 1024 * 1024
"""Room for what is kept, some twelve zones at 4,096 draws; the longest unused go first."""
READS = (
    "evidence", "foundation", "handbook", "husbandry", "model", "observations", "seed", "weather",
)  # fmt: skip
"""Packages that learning reads; a story that was changed elsewhere is another story."""
Marks = tuple[str, str]
_ARRAYS = ("states", "unbounded", "log_weights")


def learner_of(settings: Settings) -> Learn:
    """Give what learns as `live_through` does, and looks first whether it was learned before.

    Parameters
    ----------
    settings : Settings
        How this installation is set.
    """
    return KeptLearning(settings.cache / "learned").learn


@dataclass(frozen=True, slots=True)
class KeptLearning:
    """A folder of learned draws, one file for each question that was asked.

    Parameters
    ----------
    folder : Path
        Where they are kept; it may be emptied at any time.
    """

    folder: Path

    def learn(self, story: Story, draws: int, chance: Chance, grow: Grow) -> Known:
        """Take the draws through a story; see `live_through`. What was learned before is read.

        Where only days and work came after the last thing seen, the draws that were learned then
        are taken on to today.
        """
        if not story.seen:
            return live_through(story, draws, chance, grow)
        marks = rests_on(story, draws, chance, grow.kernel.identity)
        path = self.folder / f"{marks[0]}.npz"
        found = _read(path, marks, story, draws, chance)
        if found is None:
            known = live_through(story, draws, chance, grow)
            self._keep(path, marks, known)
            return known
        with suppress(OSError):
            os.utime(path)
        known, is_tonight = found
        return known if is_tonight else lived_on(known, story, chance, grow)

    def _keep(self, path: Path, marks: Marks, known: Known) -> None:
        """Keep what was learned; a folder that cannot be written, or is full, is let be."""
        content = _written(marks, known)
        if content is None:
            return
        with suppress(OSError):
            self.folder.mkdir(parents=True, exist_ok=True)
            handle, draft = tempfile.mkstemp(".npz", "draft-", self.folder)
            try:
                with os.fdopen(handle, "wb") as file:
                    file.write(content)
                os.replace(draft, path)
            finally:
                Path(draft).unlink(missing_ok=True)
            self._tidy()

    def _tidy(self) -> None:
        found = [(path.stat(), path) for path in self.folder.glob("*.npz")]
        room = MOST_BYTES
        for held, path in sorted(found, key=lambda each: -each[0].st_mtime_ns):
            room -= held.st_size
            if room < 0:
                path.unlink(missing_ok=True)


def rests_on(story: Story, draws: int, chance: Chance, kernel: str) -> Marks:
    """Fingerprint of all that learning rests on: the question, the program and the machine.

    Parameters
    ----------
    story : Story
        What is known of the zone, with something seen.
    draws : int
        How many draws.
    chance : Chance
        The source of random numbers.
    kernel : str
        Identity of the compiled model.

    Returns
    -------
    tuple of str
        That of what was learned, which reads the story up to the last thing seen; and that of
        the draws as they stand tonight, which reads all of it.
    """
    tools = [f"{name} {version(name)}" for name in ("numpy", "scipy")]
    asked = [draws, list(chance.key), kernel, program(READS), *tools]
    work, last = story.operations, max(each.day for each in story.seen)
    # A count is held against the evening before; of its own day only the pulling is read.
    day = (last - story.first).days
    grown = day + any(each.is_after_work for each in story.seen if each.day == last)
    learned = [
        story.zone, story.latitude, story.kinds, story.start, story.first, story.years, story.seen,
        [each[:grown] for each in story.drivers], [each[:grown] for each in work],
        work.pull_hours[day : day + 1],
    ]  # fmt: skip
    return _mark(_exact(learned), asked), _mark(_exact(story), asked)


def _mark(*whole: object) -> str:
    return blake2b(json.dumps(whole).encode(), digest_size=20).hexdigest()


def _exact(value: object) -> Any:
    """Write a value out so that no two that differ in a bit look the same."""
    if isinstance(value, np.ndarray):
        held = np.ascontiguousarray(value)
        return [held.dtype.str, list(held.shape), blake2b(held.tobytes()).hexdigest()]
    if is_dataclass(value):
        held_fields = {each.name: _exact(getattr(value, each.name)) for each in fields(value)}
        return [type(value).__name__, held_fields]
    if isinstance(value, Mapping):
        return sorted([str(key), _exact(each)] for key, each in value.items())
    if isinstance(value, set | frozenset):
        return sorted(str(each) for each in value)
    if isinstance(value, list | tuple):
        return [_exact(each) for each in value]
    if isinstance(value, float):
        return float(value).hex()
    if isinstance(value, bool | int | None) or type(value) is str:
        return value
    return [type(value).__name__, value.isoformat() if isinstance(value, date) else str(value)]


@dataclass(frozen=True, slots=True)
class _Met:
    """A count against what was expected, without a pair inside."""

    day: date
    found: float
    middle: float
    low: float
    high: float
    unit: str
    places: int
    kind: str

    @classmethod
    def of(cls, met: Expected) -> _Met:
        low, high = met.at80
        return cls(met.day, met.found, met.middle, low, high, met.unit, met.places, met.kind)

    def expected(self) -> Expected:
        at80 = Interval(self.low, self.high)
        return Expected(self.day, self.found, self.middle, at80, self.unit, self.places, self.kind)


@dataclass(frozen=True, slots=True)
class _Rest:
    """What is kept beside the arrays."""

    rests_on: str
    tonight: str
    refusal: str
    weighings: tuple[Weighing, ...]
    expected: tuple[_Met, ...]
    expected_rest: tuple[_Met, ...]


def _written(marks: Marks, known: Known) -> bytes | None:
    """Give the bytes of a file; None for what would not come back as it is."""
    learned = known.learned
    arrays = {name: getattr(learned.cloud, name) for name in _ARRAYS}
    # A sum may differ in its last bit with the order in memory, and a file keeps only these two.
    if not all(each.flags.c_contiguous or each.flags.f_contiguous for each in arrays.values()):
        return None
    met = (tuple(map(_Met.of, each)) for each in (known.expected, known.expected_rest))
    rest = _Rest(*marks, learned.refusal, learned.weighings, *met)
    try:
        text = json.dumps(to_plain(rest), ensure_ascii=False, allow_nan=False)
    except (BadInputError, TypeError, ValueError):
        return None
    file = BytesIO()
    np.savez(file, rest=np.frombuffer(text.encode(), np.uint8), **arrays)
    return file.getvalue()


def _read(
    path: Path, marks: Marks, story: Story, draws: int, chance: Chance
) -> tuple[Known, bool] | None:
    """Read what was learned, and whether it stands as tonight.

    None if it was not kept, or the file is torn, foreign or changed.
    """
    try:
        with np.load(BytesIO(path.read_bytes()), allow_pickle=False) as held:
            plain = json.loads(held["rest"].tobytes())
            arrays = [held[name] for name in _ARRAYS]
        rest = from_plain(_Rest, plain, "what was learned")
    except Exception:  # whatever a broken file brings, learning anew is the answer
        return None
    cloud = Cloud(*arrays)
    unknowns = story.unknowns
    rows = len(cloud.states) - story.memory.rows
    shapes = [(rows + story.memory.rows, draws), (len(unknowns.names), draws), (draws,)]
    fits = [each.shape for each in arrays] == shapes and rows > 0
    if not fits or rest.rests_on != marks[0] or any(each.dtype != np.float64 for each in arrays):
        return None
    is_tonight = rest.tonight == marks[1]
    if rest.refusal and not is_tonight:  # its draws were left on the day of the refusal
        return None
    known = Known(
        unknowns,
        unknowns.draw(draws, chance),
        Learned(cloud, rest.weighings, rest.refusal),
        rows,
        *(tuple(met.expected() for met in each) for each in (rest.expected, rest.expected_rest)),
    )
    return known, is_tonight
