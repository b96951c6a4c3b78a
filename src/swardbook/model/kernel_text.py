"""The text of the compiled kernel, written out from the one copy of the equations.

numba would turn ``1.0`` into a float64 and every float32 beside it with it, so the text of the
processes and of the day is copied with each number typed as float32; nothing else is changed.
The glue between flat rows and the tuples of numbers is written from their field lists.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from importlib.resources import files
from typing import Any

from swardbook.foundation.kernel_text import HEAD, head_text
from swardbook.model.fixed import fixed_numbers
from swardbook.model.inputs import Drivers, Operations
from swardbook.model.kernel_copy import Scribe
from swardbook.model.observe import Observed
from swardbook.model.parameter_sets import Parameters
from swardbook.model.rows import TIMES, USUAL, nested_in, rows_of
from swardbook.model.state import Gaps, SwardState

LANES = 64
"""Draws that go through the kernel side by side."""
PROCESSES = (
    "germination", "establishment", "cover", "competition", "mowing", "verticutting", "flowering",
    "ripening", "seed_bank", "hand_weeding", "repair", "soil_water", "soil_temperature", "feeding",
    "wear",
)  # fmt: skip
DAY = ("day_zone", "day_sown", "day_heads", "day_weed", "balances", "day", "observe")
"""Modules that put the processes together, each after those it uses."""
TUPLES = ("state", "parameter_sets", "inputs")
"""Modules of tuples only."""


def source_files() -> dict[str, str]:
    """Give the text of every file the kernel is made from, by name, and its fixed numbers."""
    folder = files("swardbook.model")
    names = [f"{name}.py" for name in (*TUPLES, *DAY, "rows", "kernel_text", "kernel_copy")]
    names.append("kernel_loop.txt")
    texts = {name: (folder / name).read_text(encoding="utf-8") for name in names}
    shared = files("swardbook.foundation")
    for name in ("kernel_text.py", HEAD):
        texts[f"foundation/{name}"] = (shared / name).read_text(encoding="utf-8")
    for name in PROCESSES:
        file = f"processes/{name}.py"
        texts[file] = (folder / "processes" / f"{name}.py").read_text(encoding="utf-8")
    texts["fixed numbers"] = repr(fixed_numbers())
    return texts


def kernel_text(weeds: int = USUAL) -> str:
    """Write the whole kernel for so many weed grasses as one Python module."""
    texts = source_files()
    scribe = Scribe(weeds)
    imports = [_import_of(name, texts[f"{name}.py"]) for name in (*TUPLES, *DAY)]
    body = [scribe.module(name, texts[f"processes/{name}.py"]) for name in PROCESSES]
    body += [scribe.module(name, texts[f"{name}.py"]) for name in DAY]
    head, numbers = head_text("\n".join(filter(None, imports))), scribe.typed_numbers()
    return "\n\n".join([head, numbers, *body, _glue(weeds), texts["kernel_loop.txt"]]) + "\n"


def _import_of(module: str, text: str) -> str:
    names = [node.name for node in ast.parse(text).body if isinstance(node, ast.ClassDef)]
    return f"from swardbook.model.{module} import {', '.join(names)}" if names else ""


def _loading(tuples: type[Any], weeds: int, cell: str, counter: Iterator[int]) -> str:
    nested, parts = nested_in(tuples), []
    for name in tuples._fields:
        if name not in nested:
            parts.append(cell.format(row=next(counter)))
        elif name in TIMES:
            times = range(weeds - TIMES[name])
            each = [_loading(nested[name], weeds, cell, counter) for _ in times]
            parts.append(f"({', '.join(each)},)" if each else "()")
        else:
            parts.append(_loading(nested[name], weeds, cell, counter))
    return f"{tuples.__name__}({', '.join(parts)})"


def _function(name: str, arguments: str, lines: list[str]) -> str:
    return f"@inlined\ndef {name}({arguments}):\n" + "\n".join(f"    {line}" for line in lines)


def _glue(weeds: int) -> str:
    """Write loading and storing between flat rows and tuples."""
    rows = {each: rows_of(each, weeds) for each in (SwardState, Parameters, Gaps, Observed)}
    count = {each: len(names) for each, names in rows.items()}
    first = {"state": 0, "parameters": count[SwardState]}
    first["gaps"] = first["parameters"] + count[Parameters]
    lane, day = "block[lane + U({row} * LANES)]", "series[at + U({row})]"
    sizes = {"DRIVERS": len(Drivers._fields), "OPERATIONS": len(Operations._fields)}
    written = [
        f"LANES = {LANES}",
        "\n".join(f"N_{name} = {each}" for name, each in sizes.items()),
        f"N_OBSERVED = {count[Observed]}",
    ]
    for name, tuples in (("state", SwardState), ("parameters", Parameters)):
        counter = iter(range(first[name], first[name] + count[tuples]))
        cells = lane.replace("U({row} * LANES)", "U{row}")
        text = f"return {_loading(tuples, weeds, cells, counter)}"
        written.append(_function(f"load_{name}", "block, lane", [text]))
    for name, each in (("drivers", Drivers), ("operations", Operations)):
        counter = iter(range(len(rows_of(each))))
        cells = day.replace("U({row})", "V{row}")
        text = _loading(each, weeds, cells, counter)
        written.append(_function(f"load_{name}", "series, at", [f"return {text}"]))
    stores = [f"block[lane + U{n}] = s.{row.name}" for n, row in enumerate(rows[SwardState])]
    written.append(_function("store_state", "block, lane, s", stores))
    worst = [
        f"block[lane + U{first['gaps'] + n}] = sticky(block[lane + U{first['gaps'] + n}], g.{name})"
        for n, name in enumerate(Gaps._fields)
    ]
    written.append(_function("store_gaps", "block, lane, g", worst))
    seen = [f"seen[lane + at + U{n}] = o.{row.name}" for n, row in enumerate(rows[Observed])]
    written.append(_function("store_observed", "seen, lane, at, o", seen))
    most_rows = first["gaps"] + count[Gaps]
    units = [f"U{n} = U({n} * LANES)" for n in range(max(most_rows, len(seen)))]
    units += [f"V{n} = U({n})" for n in range(len(Operations._fields))]
    return "\n\n".join([*written[:3], "\n".join(units), *written[3:]])
