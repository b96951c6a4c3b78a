"""Numbers alike in every draw: all of them from the handbook, all of them in the kernel's name."""

import ast
from importlib.resources import files

import numpy as np
import pytest

from swardbook.handbook.parameters import parameters
from swardbook.model import fixed, kernel_text
from swardbook.model.drivers import winter_season
from swardbook.model.fixed import fixed_numbers
from swardbook.model.kernel_text import DAY, PROCESSES, source_files

MEANINGLESS = {0.0, 1.0, 1e-9, 1e-30}
"""Nothing, all, and guards against division by nothing."""
ALLOWED = {
    "cover": {1.3333333},  # makes the response to nitrogen 1 at three times the half-way amount
    "competition": {2.0},  # the penalty is stated for half the height
    "establishment": {0.5, 1.5, 2.5, 3.0},  # between the codes of methods of sowing; thirds
    "flowering": {3.331599e-6, 6.968782e-3, 2.841894, 0.8023},  # the published curve, its height
    "germination": {0.01},  # keeps the division away from nothing
    "mowing": {0.5},  # between a cut and none
    "ripening": {2.0},  # days in a bin
}


def literals(module: str) -> set[float]:
    text = (files("swardbook.model") / f"{module}.py").read_text(encoding="utf-8")
    return {
        node.value
        for node in ast.walk(ast.parse(text))
        if isinstance(node, ast.Constant) and isinstance(node.value, float)
    }


@pytest.mark.parametrize("process", PROCESSES)
def test_a_process_holds_no_number_of_practice_or_biology(process: str) -> None:
    assert literals(f"processes/{process}") <= MEANINGLESS | ALLOWED.get(process, set())


@pytest.mark.parametrize("module", ["day", "day_zone", "day_sown", "day_weed"])
def test_the_day_holds_none_either(module: str) -> None:
    assert module in DAY
    assert literals(module) <= MEANINGLESS


def test_every_fixed_number_is_one_of_the_handbook() -> None:
    for name, number in fixed_numbers().items():
        assert parameters()[f"model.fixed.{name.lower()}"].value == number


def test_another_fixed_number_gives_the_kernel_another_text(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    before, text = source_files(), kernel_text.kernel_text()
    monkeypatch.setattr(fixed, "BLADE_HEIGHT", 26.0)
    assert source_files() != before
    assert kernel_text.kernel_text() != text


def test_winter_is_october_to_march() -> None:
    days = np.array([1.0, 90.0, 91.0, 200.0, 273.0, 274.0, 366.0])
    assert list(winter_season(days)) == [1, 1, 0, 0, 0, 1, 1]
