"""A folder of compiled code that a killed run left half written is made anew."""

from pathlib import Path

import pytest

from swardbook.model import compiling
from swardbook.model.kernel_text import kernel_text

SMALL = """from numba import njit


@njit(cache=True)
def run_block(block, drivers, operations, seen, days, every):
    block[0] = 7.0
"""


@pytest.fixture
def small(monkeypatch: pytest.MonkeyPatch) -> None:
    """A kernel that compiles in a moment; what is tried is the keeping, not the model."""
    monkeypatch.setattr(compiling, "kernel_text", lambda _weeds: SMALL)
    monkeypatch.setattr(compiling, "_ending", lambda _strict: "= 7.0\n")
    _forget()


def _forget() -> None:
    compiling._load.cache_clear()
    compiling._sound.cache_clear()


def _kept(folder: Path, pattern: str) -> Path:
    [found] = folder.glob(f"model-*/{pattern}")
    return found


@pytest.mark.parametrize(
    ("pattern", "left"),
    [
        ("kernel_2.py", b""),
        ("kernel_2.py", SMALL[:60].encode()),
        ("kernel_2.py", b"\0\0\0"),
        ("kernel_2.py", SMALL.replace("    block[0] = 7.0", "    pass").encode()),
        ("__pycache__/kernel_2.run_block-*.nbi", b""),
        ("__pycache__/kernel_2.run_block-*.nbi", b"\x80\x04\x95"),
        ("__pycache__/kernel_2.run_block-*.nbc", b"\x80\x04\x95"),
    ],
)
@pytest.mark.usefixtures("small")
def test_half_written_code_is_made_anew(tmp_path: Path, pattern: str, left: bytes) -> None:
    compiling.load_kernel(tmp_path)
    broken = _kept(tmp_path, pattern)
    broken.write_bytes(left)
    _forget()
    said: list[str] = []
    assert compiling.load_kernel(tmp_path, said.append).of(2) is not None
    assert _kept(tmp_path, "kernel_2.py").read_text(encoding="utf-8") == SMALL
    assert _kept(tmp_path, "__pycache__/kernel_2.run_block-*.nbi").stat().st_size > 3
    _forget()


@pytest.mark.usefixtures("small")
def test_a_draft_that_a_killed_run_left_is_in_nobodys_way(tmp_path: Path) -> None:
    home = tmp_path / f"model-{compiling.identity()}"
    home.mkdir()
    (home / "draft-2-99999.py").write_text("half", encoding="utf-8")
    assert compiling.load_kernel(tmp_path).of(2) is not None
    _forget()


@pytest.mark.usefixtures("small")
def test_a_kernel_that_fails_twice_tells_why(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(compiling, "kernel_text", lambda _weeds: "run_block = None\n")
    with pytest.raises(TypeError):
        compiling.load_kernel(tmp_path)
    _forget()


def test_a_whole_kernel_ends_as_its_loop_does() -> None:
    assert kernel_text().endswith(compiling._ending(False))
