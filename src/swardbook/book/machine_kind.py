"""What a machine is to the model: with the same kind, the same question has the same bits."""

from __future__ import annotations

import platform
from dataclasses import asdict, dataclass
from functools import cache
from hashlib import blake2b
from importlib.metadata import version

from swardbook.book.kept_worth import program
from swardbook.model.compiling import instruction_set

_NAMED = {
    "code": "another text of swardbook",
    "python": "another Python",
    "numpy": "another NumPy",
    "scipy": "another SciPy",
    "numba": "another numba",
    "processor": "a processor that can do other things",
}


@dataclass(frozen=True, slots=True)
class MachineKind:
    """All that the bits of an answer rest on, beside the question.

    Parameters
    ----------
    code : str
        Fingerprint of the whole program and its handbook.
    python, numpy, scipy, numba : str
        Versions.
    processor : str
        The processor and what it can do; ``any`` where the model is told to round alike on all.
    """

    code: str
    python: str
    numpy: str
    scipy: str
    numba: str
    processor: str

    @property
    def mark(self) -> str:
        """One short word for it."""
        whole = "\f".join(asdict(self).values())
        return blake2b(whole.encode(), digest_size=8).hexdigest()

    def unlike(self, other: MachineKind) -> tuple[str, ...]:
        """Say in what another kind is not like this one."""
        ours, theirs = asdict(self), asdict(other)
        return tuple(
            told if name in {"code", "processor"} else f"{told}, {theirs[name]}"
            for name, told in _NAMED.items()
            if ours[name] != theirs[name]
        )


@cache
def machine_kind(strict: bool = False) -> MachineKind:
    """Tell of which kind this machine is.

    Parameters
    ----------
    strict : bool
        Whether the model rounds alike on all processors.
    """
    return MachineKind(
        code=program(),
        python=platform.python_version(),
        numpy=version("numpy"),
        scipy=version("scipy"),
        numba=f"{version('numba')} with llvmlite {version('llvmlite')}",
        processor="any" if strict else instruction_set(),
    )
