"""The compiled pass over many places, written out from the one text of the equations."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any, NamedTuple, Protocol

import numpy as np
from numpy.typing import NDArray

from swardbook.foundation.compiled import load_module
from swardbook.foundation.kernel_text import Scribe, head_text
from swardbook.weather.day import Constants, Made, Place, Stores, Today

Singles = NDArray[np.float32]
Places = NDArray[np.int32]
LANES = 960
"""Most places that go through the equations side by side.

Long runs suit the memory. A multiple of 64, but no power of two: rows a whole number of 4 KB apart
would push each other out of the first cache.
"""

_COPIES = """
@inlined
def copy_row(block, row, series, day, start, wide):
    for lane in range(wide):
        block[row * U(LANES) + lane] = series[day, start + lane]


@inlined
def copy_in(block, first, rows, start, wide):
    for row in range(U(rows.shape[0])):
        copy_row(block, first + row, rows, row, start, wide)
"""


class RunMany(Protocol):
    """Take every place through its days; fills `stores` and `made`."""

    def __call__(
        self,
        tmin: Singles,
        tmax: Singles,
        water: Singles,
        radiation: Singles,
        humidity: Singles,
        wind: Singles,
        above: Singles,
        latitude: Places,
        number: Places,
        calendar: Places,
        place: Singles,
        stores: Singles,
        constants: Singles,
        made: Singles,
        /,
    ) -> None:
        """Run."""


def kernel_text() -> str:
    """Write the compiled pass as one Python module."""
    scribe, folder = Scribe(), files("swardbook.weather")
    parts = [
        scribe.module(name, (folder / f"{name}.py").read_text(encoding="utf-8"))
        for name in ("equations", "day")
    ]
    tuples = (Today, Place, Stores, Made)
    first = [sum(len(each._fields) for each in tuples[:number]) for number in range(5)]
    names = ("TODAY", "PLACE", "STORE", "MADE")
    rows = [f"FIRST_{name} = {row}" for name, row in zip(names, first, strict=False)]
    sizes = [f"LANES = {LANES}", f"N_MADE = {len(Made._fields)}", f"N_ROWS = {first[4]}", *rows]
    cell, plain = f"block[U({{row}} * {LANES}) + lane]", "constants[U({row})]"
    glue = [
        _load(Today, "block, lane", cell, first[0]),
        _load(Place, "block, lane", cell, first[1]),
        _load(Stores, "block, lane", cell, first[2]),
        _load(Constants, "constants", plain, 0),
        _store(Stores, cell, first[2]),
        _store(Made, cell, first[3]),
    ]
    imports = "from swardbook.weather.day import Constants, Made, Place, Stores, Today"
    loop = (folder / "day_loop.txt").read_text(encoding="utf-8")
    return "\n\n\n".join(
        [head_text(imports), "\n".join(sizes), scribe.typed_numbers(), *parts, *glue, _COPIES, loop]
    )


@cache
def load_derivation(folder: Path) -> RunMany:
    """Get the compiled pass, compiling it if this text of the equations never was, here.

    Parameters
    ----------
    folder : Path
        Where compiled code is kept.
    """
    run: RunMany = load_module(folder, "weather", kernel_text(), _tried).run
    return run


def _load(tuples: type[NamedTuple], arguments: str, cell: str, first: int) -> str:
    fields = tuples._fields
    cells = ", ".join(cell.format(row=first + number) for number in range(len(fields)))
    name = tuples.__name__
    return f"@inlined\ndef load_{name.lower()}({arguments}):\n    return {name}({cells})"


def _store(tuples: type[NamedTuple], cell: str, first: int) -> str:
    fields = tuples._fields
    lines = [
        f"    {cell.format(row=first + number)} = t.{name}" for number, name in enumerate(fields)
    ]
    return f"@inlined\ndef store_{tuples.__name__.lower()}(block, lane, t):\n" + "\n".join(lines)


def _tried(module: Any) -> None:
    """Try the pass on no day at all."""
    none, one = np.zeros((0, 1), np.float32), np.zeros(1, np.int32)
    module.run(
        none, none, none, none, none, none, np.zeros((367, 1), np.float32), one,
        np.zeros((0, 1), np.int32), one, np.zeros((len(Place._fields), 1), np.float32),
        np.zeros((len(Stores._fields), 1), np.float32),
        np.zeros(len(Constants._fields), np.float32),
        np.zeros((len(Made._fields), 0, 1), np.float32),
    )  # fmt: skip
