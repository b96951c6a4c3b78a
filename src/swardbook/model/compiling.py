"""The compiled kernel: written once for this machine and this text of the model, then reused.

The kernel's text, everything it was made from and the machine are in the name of its folder, so
edited equations can never meet code compiled from the old ones.
"""

from __future__ import annotations

import importlib
import importlib.util
import os
import platform
import sys
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache, partial
from hashlib import blake2b
from importlib.metadata import version
from pathlib import Path
from typing import Any, Protocol

from numpy import float32, zeros
from numpy.typing import NDArray

from swardbook.model.inputs import Drivers, Operations
from swardbook.model.kernel_text import LANES, kernel_text, source_files
from swardbook.model.observe import Observed
from swardbook.model.parameter_sets import Parameters
from swardbook.model.rows import USUAL, rows_of
from swardbook.model.state import Gaps, SwardState

Progress = Callable[[str], None]
FIRST_TIME = "Preparing the model for this machine. This happens once and takes up to a minute."
PREPARED = "The model is ready."


@cache
def block_rows(weeds: int) -> int:
    """Count the rows of a block: state, parameters, worst misses."""
    return sum(len(rows_of(each, weeds)) for each in (SwardState, Parameters, Gaps))


class RunBlock(Protocol):
    """Take one block of lanes through its days, changing it in place."""

    def __call__(
        self,
        block: NDArray[float32],
        drivers: NDArray[float32],
        operations: NDArray[float32],
        seen: NDArray[float32],
        days: int,
        every: int,
        /,
    ) -> None:
        """Run."""


@dataclass(frozen=True, slots=True)
class Kernel:
    """The compiled day loops, and what names them.

    Parameters
    ----------
    of : callable
        Gives the day loop over one block for a zone with so many weed grasses; one that was
        never compiled here is compiled then.
    identity : str
        Fingerprint of model text, numba version and instruction set: with the same one, a run
        has the same bits.
    """

    of: Callable[[int], RunBlock]
    identity: str


@cache
def identity() -> str:
    """Fingerprint of the model's text, numba and this machine's instruction set."""
    import llvmlite.binding

    parts = [f"{name}\n{text}" for name, text in sorted(source_files().items())]
    features = llvmlite.binding.get_host_cpu_features().flatten()
    machine = f"{llvmlite.binding.get_host_cpu_name()} {features}"
    tools = f"numba {version('numba')} llvmlite {version('llvmlite')} {platform.python_version()}"
    return blake2b("\f".join([*parts, machine, tools]).encode(), digest_size=12).hexdigest()


def load_kernel(folder: Path, progress: Progress | None = None) -> Kernel:
    """Get the compiled kernel, compiling it if this text of the model never was, here.

    The loop for the usual weed grasses is made ready at once, others when they are asked for.

    Parameters
    ----------
    folder : Path
        Where compiled code is kept.
    progress : callable, optional
        Told in words when a first compilation starts and ends.
    """
    kernel = Kernel(cache(partial(_ready, folder, progress)), identity())
    kernel.of(USUAL)
    return kernel


@cache
def _load(folder: Path, weeds: int) -> RunBlock:
    path = folder / f"model-{identity()}" / f"kernel_{weeds}.py"
    if not _is_whole(path):
        path.parent.mkdir(parents=True, exist_ok=True)
        draft = path.with_name(f"draft-{weeds}-{os.getpid()}.py")
        draft.write_text(kernel_text(weeds), encoding="utf-8")
        os.replace(draft, path)
    name = f"swardbook_kernel_{identity()}_{weeds}"
    spec = importlib.util.spec_from_file_location(name, path)
    assert spec is not None
    assert spec.loader is not None
    module: Any = importlib.util.module_from_spec(spec)
    sys.modules[name] = module
    spec.loader.exec_module(module)
    run: RunBlock = module.run_block
    return run


def _is_whole(path: Path) -> bool:
    """Tell whether a kernel's text is there to its end; a cut of power may leave half of one."""
    try:
        return path.read_text(encoding="utf-8").endswith(_ending())
    except (OSError, UnicodeDecodeError):
        return False


@cache
def _ending() -> str:
    return source_files()["kernel_loop.txt"] + "\n"


def _ready(folder: Path, progress: Progress | None, weeds: int) -> RunBlock:
    kept = folder / f"model-{identity()}" / "__pycache__"
    first = not any(kept.glob(f"kernel_{weeds}.run_block-*.nbi"))
    if first and progress is not None:
        progress(FIRST_TIME)
    run = _sound(folder, weeds)
    if first and progress is not None:
        progress(PREPARED)
    return run


@cache
def _sound(folder: Path, weeds: int) -> RunBlock:
    """Try the loop on no day at all; what a killed run left half written is made anew, once."""
    try:
        return _tried(_load(folder, weeds), weeds)
    except OSError:
        raise
    except Exception as slip:
        if "locator" in str(slip):  # the folder cannot be written: nothing to make anew
            raise
        _clear(folder, weeds)
        return _tried(_load(folder, weeds), weeds)


def _tried(run: RunBlock, weeds: int) -> RunBlock:
    run(
        zeros(block_rows(weeds) * LANES, float32),
        zeros(len(Drivers._fields), float32),
        zeros(len(Operations._fields), float32),
        zeros(len(rows_of(Observed, weeds)) * LANES, float32),
        0,
        1,
    )
    return run


def _clear(folder: Path, weeds: int) -> None:
    home = folder / f"model-{identity()}"
    for pattern in (f"kernel_{weeds}.py", f"draft-{weeds}-*.py", f"__pycache__/kernel_{weeds}.*"):
        for path in home.glob(pattern):
            path.unlink(missing_ok=True)
    _load.cache_clear()
    importlib.invalidate_caches()
