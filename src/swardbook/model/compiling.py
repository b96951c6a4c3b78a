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
_ONE_STEP, _TWO_STEPS = 'fastmath={"contract"}', "fastmath=False"


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
def identity(strict: bool = False) -> str:
    """Fingerprint of the model's text, numba and this machine's instruction set.

    Parameters
    ----------
    strict : bool
        Whether a product and a sum are rounded one after the other, as on any machine; the
        instruction set is then not in it.
    """
    parts = [f"{name}\n{text}" for name, text in sorted(source_files().items())]
    made_for = "any machine" if strict else instruction_set()
    tools = f"numba {version('numba')} llvmlite {version('llvmlite')} {platform.python_version()}"
    return blake2b("\f".join([*parts, made_for, tools]).encode(), digest_size=12).hexdigest()


@cache
def instruction_set() -> str:
    """Name this machine's processor and what it can do."""
    import llvmlite.binding

    features = llvmlite.binding.get_host_cpu_features().flatten()
    return f"{llvmlite.binding.get_host_cpu_name()} {features}"


def load_kernel(folder: Path, progress: Progress | None = None, strict: bool = False) -> Kernel:
    """Get the compiled kernel, compiling it if this text of the model never was, here.

    The loop for the usual weed grasses is made ready at once, others when they are asked for.

    Parameters
    ----------
    folder : Path
        Where compiled code is kept.
    progress : callable, optional
        Told in words when a first compilation starts and ends.
    strict : bool
        Whether each product and sum is rounded by itself, so that bits are those of any machine;
        somewhat slower.
    """
    kernel = Kernel(cache(partial(_ready, folder, progress, strict)), identity(strict))
    kernel.of(USUAL)
    return kernel


@cache
def _load(folder: Path, strict: bool, weeds: int) -> RunBlock:
    path = folder / f"model-{identity(strict)}" / f"kernel_{weeds}.py"
    if not _is_whole(path, strict):
        path.parent.mkdir(parents=True, exist_ok=True)
        draft = path.with_name(f"draft-{weeds}-{os.getpid()}.py")
        draft.write_text(_rounding(kernel_text(weeds), strict), encoding="utf-8")
        os.replace(draft, path)
    name = f"swardbook_kernel_{identity(strict)}_{weeds}"
    spec = importlib.util.spec_from_file_location(name, path)
    assert spec is not None
    assert spec.loader is not None
    module: Any = importlib.util.module_from_spec(spec)
    sys.modules[name] = module
    spec.loader.exec_module(module)
    run: RunBlock = module.run_block
    return run


def _is_whole(path: Path, strict: bool) -> bool:
    """Tell whether a kernel's text is there to its end; a cut of power may leave half of one."""
    try:
        return path.read_text(encoding="utf-8").endswith(_ending(strict))
    except (OSError, UnicodeDecodeError):
        return False


@cache
def _ending(strict: bool) -> str:
    return _rounding(source_files()["kernel_loop.txt"], strict) + "\n"


def _rounding(text: str, strict: bool) -> str:
    """Let a product and a sum be one step, or forbid it: the one freedom the compiler is given."""
    return text.replace(_ONE_STEP, _TWO_STEPS) if strict else text


def _ready(folder: Path, progress: Progress | None, strict: bool, weeds: int) -> RunBlock:
    kept = folder / f"model-{identity(strict)}" / "__pycache__"
    first = not any(kept.glob(f"kernel_{weeds}.run_block-*.nbi"))
    if first and progress is not None:
        progress(FIRST_TIME)
    run = _sound(folder, strict, weeds)
    if first and progress is not None:
        progress(PREPARED)
    return run


@cache
def _sound(folder: Path, strict: bool, weeds: int) -> RunBlock:
    """Try the loop on no day at all; what a killed run left half written is made anew, once."""
    try:
        return _tried(_load(folder, strict, weeds), weeds)
    except OSError:
        raise
    except Exception as slip:
        if "locator" in str(slip):  # the folder cannot be written: nothing to make anew
            raise
        _clear(folder, strict, weeds)
        return _tried(_load(folder, strict, weeds), weeds)


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


def _clear(folder: Path, strict: bool, weeds: int) -> None:
    home = folder / f"model-{identity(strict)}"
    for pattern in (f"kernel_{weeds}.py", f"draft-{weeds}-*.py", f"__pycache__/kernel_{weeds}.*"):
        for path in home.glob(pattern):
            path.unlink(missing_ok=True)
    _load.cache_clear()
    importlib.invalidate_caches()
