"""One copy of each equation: an edit changes the compiled result, never a stale one."""

import re
import shutil
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

import swardbook
from swardbook.foundation.kernel_text import head_text
from swardbook.model import compiling, kernel_text
from swardbook.model.kernel_text import PROCESSES
from swardbook.model.rows import flatten, rows_of, unflatten
from swardbook.model.state import SwardState
from tests.support.model import kernel

SOURCE = Path(swardbook.__file__).parent
PROBE = """
import sys
from pathlib import Path
import numpy as np
from swardbook.model.chance import Chance
from swardbook.model.compiling import load_kernel
from swardbook.model.ensemble import run
from swardbook.model.inputs import Drivers
from swardbook.model.operations import no_operations
from swardbook.model.parameters import SownKind, SownKinds, central_parameters
from swardbook.model.start import Start, start_state
parameters = central_parameters(SownKinds((SownKind("perennial ryegrass", 500.0),)), 64)
one = np.ones(3)
drivers = Drivers(12 * one, 2 * one, 2 * one, 15 * one, 120 * one, one, 0 * one, 0 * one)
told = []
kernel = load_kernel(Path(sys.argv[1]), told.append)
out = run(start_state(Start(), parameters), parameters, drivers, no_operations(3), kernel=kernel)
print(kernel.identity, len(told), float(out.final.zone.soil_temperature[0]))
"""


def probe(package: Path, cache: Path) -> tuple[str, int, float]:
    told = subprocess.run(
        [sys.executable, "-c", PROBE, str(cache)],
        capture_output=True, text=True, check=True, env={"PYTHONPATH": str(package)},
    ).stdout.split()  # fmt: skip
    return told[0], int(told[1]), float(told[2])


@pytest.mark.long
@pytest.mark.slow
def test_an_edited_process_is_never_met_by_code_compiled_from_the_old_one(tmp_path: Path) -> None:
    package, cache = tmp_path / "copy", tmp_path / "cache"
    shutil.copytree(SOURCE, package / "swardbook", ignore=shutil.ignore_patterns("__pycache__"))
    name, told, before = probe(package, cache)
    assert told == 2, "a first compilation says so, and says when it is done"
    assert probe(package, cache) == (name, 0, before), "the second time is silent and the same"
    process = package / "swardbook" / "model" / "processes" / "soil_temperature.py"
    text = process.read_text(encoding="utf-8")
    process.write_text(text.replace("lag * (air - soil)", "0.0 * lag * air"), encoding="utf-8")
    edited, told, after = probe(package, cache)
    assert (edited != name, told) == (True, 2)
    assert after == pytest.approx(10.0)
    assert before > 11


def test_no_number_in_the_kernel_is_left_untyped() -> None:
    text = kernel_text.kernel_text()
    body = text[text.index("def germination__potential") : text.index("def load_state")]
    assert not re.search(r"(?<![\w.])\d+\.\d*", body)


def test_every_function_of_every_process_is_in_the_kernel() -> None:
    text = kernel_text.kernel_text()
    for name in PROCESSES:
        source = (SOURCE / "model" / "processes" / f"{name}.py").read_text(encoding="utf-8")
        for function in re.findall(r"^def (\w+)", source, re.MULTILINE):
            assert f"def {name}__{function}(" in text


def test_the_operations_mean_what_they_mean_in_all_compiled_code() -> None:
    text = kernel_text.kernel_text()
    shared = head_text("# imports").split("# imports")
    assert all(part in text for part in shared)
    assert text.count("def exp(") == text.count("def power_of_two(") == text.count("def most(") == 1
    assert {"foundation/kernel_head.txt", "foundation/kernel_text.py"} <= {
        *kernel_text.source_files()
    }


def test_processes_hold_no_loop_and_no_branch() -> None:
    import ast

    for path in (SOURCE / "model" / "processes").glob("*.py"):
        kinds = {type(node) for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))}
        assert not kinds & {ast.For, ast.While, ast.If, ast.IfExp, ast.ListComp}, path.name


def test_flattening_and_building_again_gives_the_same_tuples() -> None:
    numbers = list(range(len(rows_of(SwardState))))
    built = unflatten(SwardState, numbers)
    assert list(flatten(built)) == numbers
    assert rows_of(SwardState)[numbers[-1]].name == "zone.nitrogen_exported"


def test_the_fingerprint_names_text_numba_and_machine_and_stays() -> None:
    assert kernel().identity == compiling.identity()
    assert re.fullmatch(r"[0-9a-f]{24}", compiling.identity())


def test_the_kernels_own_exponential_is_as_right_as_its_text_says_for_any_power() -> None:
    from numba import njit

    own = kernel().of(2).py_func.__globals__["exp"]  # type: ignore[attr-defined]

    @njit
    def fill(powers, out):  # type: ignore[no-untyped-def]
        for place in range(len(powers)):
            out[place] = own(powers[place])

    powers = np.linspace(-80, 80, 160_001, dtype=np.float32)
    got = np.empty_like(powers)
    fill(powers, got)
    apart = np.abs(got.astype(np.float64) / np.exp(powers.astype(np.float64)) - 1)
    assert (apart < 3e-7 + 8e-8 * np.abs(powers)).all()
    assert apart.max() < 4e-6
    assert apart[np.abs(powers) > 40].max() > 1e-6, "so a millionth would not be true"
