"""Compiled code kept for this machine: a text in a folder that its fingerprint names.

The text and the machine are in the folder's name, so edited equations can never meet code compiled
from the old ones.
"""

from __future__ import annotations

import importlib
import importlib.util
import os
import platform
import sys
from collections.abc import Callable
from hashlib import blake2b
from importlib.metadata import version
from pathlib import Path
from typing import Any


def fingerprint(text: str) -> str:
    """Name a text, numba and this machine's instruction set by one short word."""
    import llvmlite.binding

    features = llvmlite.binding.get_host_cpu_features().flatten()
    machine = f"{llvmlite.binding.get_host_cpu_name()} {features}"
    tools = f"numba {version('numba')} llvmlite {version('llvmlite')} {platform.python_version()}"
    return blake2b("\f".join([text, machine, tools]).encode(), digest_size=12).hexdigest()


def load_module(folder: Path, name: str, text: str, attempt: Callable[[Any], object]) -> Any:
    """Get the module of a compiled text; what a killed run left half written is made anew, once.

    Parameters
    ----------
    folder : Path
        Where compiled code is kept.
    name : str
        What the code is for; begins the name of its folder.
    text : str
        The whole text.
    attempt : callable
        Given the module, compiles what will be called and tries it on next to nothing.
    """
    mark = fingerprint(text)
    path = folder / f"{name}-{mark}" / "kernel.py"
    module = f"swardbook_{name}_{mark}"
    try:
        loaded = _load(path, module, text)
        attempt(loaded)
    except OSError:
        raise
    except Exception as slip:
        if "locator" in str(slip):  # the folder cannot be written: nothing to make anew
            raise
        for left in (path, *path.parent.glob("__pycache__/*")):
            left.unlink(missing_ok=True)
        importlib.invalidate_caches()
        loaded = _load(path, module, text)
        attempt(loaded)
    return loaded


def _load(path: Path, name: str, text: str) -> Any:
    if not _is_whole(path, text):
        path.parent.mkdir(parents=True, exist_ok=True)
        draft = path.with_name(f"draft-{os.getpid()}.py")
        draft.write_text(text, encoding="utf-8")
        os.replace(draft, path)
    spec = importlib.util.spec_from_file_location(name, path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[name] = module
    spec.loader.exec_module(module)
    return module


def _is_whole(path: Path, text: str) -> bool:
    """Tell whether the text is there to its end; a cut of power may leave half of one."""
    try:
        return path.read_text(encoding="utf-8") == text
    except (OSError, UnicodeDecodeError):
        return False
