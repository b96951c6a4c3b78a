"""The compiled model for a book, with a refusal in words where its folder cannot be written."""

from __future__ import annotations

from collections.abc import Callable

from swardbook.foundation.errors import StorageError
from swardbook.model.compiling import Kernel, load_kernel
from swardbook.settings import Settings


def kernel_of(settings: Settings, tell: Callable[[str], None] = lambda _: None) -> Kernel:
    """Get the compiled model, kept in the folder that the settings name.

    Parameters
    ----------
    settings : Settings
        How this installation is set.
    tell : callable
        Told in words when a first compilation starts and ends.

    Raises
    ------
    StorageError
        If the folder cannot be written or read.
    """
    try:
        return load_kernel(settings.cache, tell, settings.strict)
    except OSError as slip:
        reason = slip.strerror or str(slip)
        raise StorageError(
            f"the folder for the compiled model, {settings.cache}",
            f"{reason}; set SWARDBOOK_CACHE to a folder that can be written",
        ) from slip
    except RuntimeError as slip:
        # numba finds no place for its files only when it reads the module.
        if "locator" not in str(slip):
            raise
        raise StorageError(
            f"the folder for the compiled model, {settings.cache}",
            "it is read-only; set SWARDBOOK_CACHE to a folder that can be written",
        ) from slip
