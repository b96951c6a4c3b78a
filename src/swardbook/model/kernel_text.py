"""The text of the compiled kernel, written out from the one copy of the equations.

numba would turn ``1.0`` into a float64 and every float32 beside it with it, so the text of the
processes and of the day is copied with each number typed as float32; nothing else is changed.
The glue between flat rows and the tuples of numbers is written from their field lists.
"""

from __future__ import annotations

import ast
from collections.abc import Iterable, Iterator
from importlib.resources import files
from typing import Any, NamedTuple, get_type_hints

from swardbook.model.fixed import fixed_numbers
from swardbook.model.inputs import Drivers, Operations
from swardbook.model.observe import Observed
from swardbook.model.parameter_sets import Parameters
from swardbook.model.state import Gaps, SwardState

LANES = 64
"""Draws that go through the kernel side by side."""
PROCESSES = (
    "germination", "establishment", "cover", "competition", "mowing", "verticutting", "flowering",
    "ripening", "seed_bank", "hand_weeding", "repair", "soil_water", "soil_temperature", "feeding",
)  # fmt: skip
DAY = ("day_zone", "day_sown", "day_heads", "day_weed", "balances", "day", "observe")
"""Modules that put the processes together, each after those it uses."""
TUPLES = ("state", "parameter_sets", "inputs")
"""Modules of tuples only."""


class Row(NamedTuple):
    """One field of nested tuples, as a path of names."""

    path: tuple[str, ...]

    @property
    def name(self) -> str:
        """The path as one word."""
        return ".".join(self.path)


def rows_of(tuples: type[Any]) -> tuple[Row, ...]:
    """List the numbers in nested tuples, in order."""
    return tuple(Row(path) for path in _paths(tuples))


def flatten(values: Any) -> Iterator[Any]:
    """Yield the numbers in nested tuples, in the order of `rows_of`."""
    for each in values:
        if isinstance(each, tuple):
            yield from flatten(each)
        else:
            yield each


def unflatten(tuples: type[Any], numbers: Iterable[Any]) -> Any:
    """Build nested tuples from their numbers."""
    return _build(tuples, iter(numbers))


def _build(tuples: type[Any], numbers: Iterator[Any]) -> Any:
    nested = _nested(tuples)
    return tuples(
        *(
            _build(nested[name], numbers) if name in nested else next(numbers)
            for name in tuples._fields
        )
    )


_NESTED: dict[type[Any], dict[str, type[Any]]] = {}
"""Which fields of a tuple are tuples themselves; reading hints takes long and is asked often."""


def _nested(tuples: type[Any]) -> dict[str, type[Any]]:
    if tuples not in _NESTED:
        _NESTED[tuples] = {
            name: hint
            for name, hint in get_type_hints(tuples).items()
            if isinstance(hint, type) and issubclass(hint, tuple)
        }
    return _NESTED[tuples]


def _paths(tuples: type[Any]) -> Iterator[tuple[str, ...]]:
    nested = _nested(tuples)
    for name in tuples._fields:
        if name in nested:
            yield from ((name, *rest) for rest in _paths(nested[name]))
        else:
            yield (name,)


def source_files() -> dict[str, str]:
    """Give the text of every file the kernel is made from, by name, and its fixed numbers."""
    folder = files("swardbook.model")
    names = [f"{name}.py" for name in (*TUPLES, *DAY, "kernel_text")]
    names += ["kernel_head.txt", "kernel_loop.txt"]
    texts = {name: (folder / name).read_text(encoding="utf-8") for name in names}
    for name in PROCESSES:
        file = f"processes/{name}.py"
        texts[file] = (folder / "processes" / f"{name}.py").read_text(encoding="utf-8")
    texts["fixed numbers"] = repr(fixed_numbers())
    return texts


def kernel_text() -> str:
    """Write the whole kernel as one Python module."""
    texts = source_files()
    scribe = _Scribe()
    imports = [_import_of(name, texts[f"{name}.py"]) for name in (*TUPLES, *DAY)]
    body = [scribe.module(name, texts[f"processes/{name}.py"]) for name in PROCESSES]
    body += [scribe.module(name, texts[f"{name}.py"]) for name in DAY]
    numbers = "\n".join(f"{name} = F({number!r})" for number, name in scribe.numbers.items())
    head = texts["kernel_head.txt"].replace("# imports", "\n".join(filter(None, imports)))
    return "\n\n".join([head, numbers, *body, _glue(), texts["kernel_loop.txt"]]) + "\n"


def _import_of(module: str, text: str) -> str:
    names = [node.name for node in ast.parse(text).body if isinstance(node, ast.ClassDef)]
    return f"from swardbook.model.{module} import {', '.join(names)}" if names else ""


class _Scribe(ast.NodeTransformer):
    """Copies functions with their numbers typed and their names made unique."""

    def __init__(self) -> None:
        self.numbers: dict[float, str] = {}
        self.known: dict[str, set[str]] = {}
        self.names: dict[str, str] = {}
        self.fixed = fixed_numbers()

    def module(self, name: str, text: str) -> str:
        """Copy the functions of one module."""
        tree = ast.parse(text)
        functions = [node for node in tree.body if isinstance(node, ast.FunctionDef)]
        self.known[name] = {function.name for function in functions}
        self.names = {function.name: f"{name}__{function.name}" for function in functions}
        for node in tree.body:
            if isinstance(node, ast.ImportFrom) and node.module:
                self._imported(node)
        copies = [ast.unparse(ast.fix_missing_locations(self.visit(each))) for each in functions]
        return "\n\n\n".join(f"@inlined\n{copy}" for copy in copies)

    def _imported(self, node: ast.ImportFrom) -> None:
        module = str(node.module).rsplit(".", 1)[-1]
        for alias in node.names:
            if alias.name in self.known.get(module, ()):
                self.names[alias.name] = f"{module}__{alias.name}"

    def visit_FunctionDef(self, node: ast.FunctionDef) -> ast.FunctionDef:
        """Drop docstring and annotations; rename."""
        node.name = self.names[node.name]
        node.returns = None
        for argument in node.args.args:
            argument.annotation = None
        if ast.get_docstring(node) is not None:
            node.body = node.body[1:]
        kept, local = self.names, _local_names(node)
        self.names = {name: to for name, to in kept.items() if name not in local}
        self.generic_visit(node)
        self.names = kept
        return node

    def visit_AnnAssign(self, node: ast.AnnAssign) -> ast.AST:
        """Drop the annotation of a variable."""
        assert node.value is not None
        return ast.Assign([node.target], self.visit(node.value))

    def visit_Attribute(self, node: ast.Attribute) -> ast.AST:
        """Turn ``module.function`` into one name."""
        self.generic_visit(node)
        if isinstance(node.value, ast.Name) and node.attr in self.known.get(node.value.id, ()):
            return ast.Name(f"{node.value.id}__{node.attr}", ast.Load())
        if isinstance(node.value, ast.Name) and node.value.id in self.known:
            return ast.Name(node.attr, ast.Load()) if node.attr[0].isupper() else node
        return node

    def visit_Name(self, node: ast.Name) -> ast.Name:
        """Give a function its unique name, and a fixed number that of its value."""
        if node.id in self.fixed:
            return self._typed(self.fixed[node.id])
        return ast.Name(self.names.get(node.id, node.id), node.ctx)

    def visit_Constant(self, node: ast.Constant) -> ast.AST:
        """Type a number as float32."""
        if not isinstance(node.value, float):
            return node
        return self._typed(node.value)

    def _typed(self, number: float) -> ast.Name:
        return ast.Name(self.numbers.setdefault(number, f"N{len(self.numbers)}"), ast.Load())


def _local_names(function: ast.FunctionDef) -> set[str]:
    stored = {
        node.id
        for node in ast.walk(function)
        if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store)
    }
    return stored | {argument.arg for argument in function.args.args}


def _loading(tuples: type[Any], cell: str, counter: Iterator[int]) -> str:
    nested = _nested(tuples)
    parts = [
        _loading(nested[name], cell, counter) if name in nested else cell.format(row=next(counter))
        for name in tuples._fields
    ]
    return f"{tuples.__name__}({', '.join(parts)})"


def _function(name: str, arguments: str, lines: list[str]) -> str:
    return f"@inlined\ndef {name}({arguments}):\n" + "\n".join(f"    {line}" for line in lines)


def _glue() -> str:
    """Write loading and storing between flat rows and tuples."""
    count = {each: len(rows_of(each)) for each in (SwardState, Parameters, Gaps)}
    first = {"state": 0, "parameters": count[SwardState]}
    first["gaps"] = first["parameters"] + count[Parameters]
    lane, day = "block[lane + U({row} * LANES)]", "series[at + U({row})]"
    sizes = {"DRIVERS": Drivers, "OPERATIONS": Operations, "OBSERVED": Observed}
    written = [
        f"LANES = {LANES}\nU = np.uint64",
        "\n".join(f"N_{name} = {len(rows_of(each))}" for name, each in sizes.items()),
    ]
    for name, tuples in (("state", SwardState), ("parameters", Parameters)):
        counter = iter(range(first[name], first[name] + count[tuples]))
        cells = lane.replace("U({row} * LANES)", "U{row}")
        written.append(
            _function(f"load_{name}", "block, lane", [f"return {_loading(tuples, cells, counter)}"])
        )
    for name, each in (("drivers", Drivers), ("operations", Operations)):
        counter = iter(range(len(rows_of(each))))
        cells = day.replace("U({row})", "V{row}")
        text = _loading(each, cells, counter)
        written.append(_function(f"load_{name}", "series, at", [f"return {text}"]))
    stores = [f"block[lane + U{n}] = s.{row.name}" for n, row in enumerate(rows_of(SwardState))]
    written.append(_function("store_state", "block, lane, s", stores))
    worst = [
        f"block[lane + U{first['gaps'] + n}] = sticky(block[lane + U{first['gaps'] + n}], g.{name})"
        for n, name in enumerate(Gaps._fields)
    ]
    written.append(_function("store_gaps", "block, lane, g", worst))
    seen = [f"seen[lane + at + U{n}] = o.{row.name}" for n, row in enumerate(rows_of(Observed))]
    written.append(_function("store_observed", "seen, lane, at, o", seen))
    rows = first["gaps"] + count[Gaps]
    units = [f"U{n} = U({n} * LANES)" for n in range(max(rows, len(seen)))]
    units += [f"V{n} = U({n})" for n in range(len(rows_of(Operations)))]
    return "\n\n".join([*written[:2], "\n".join(units), *written[2:]])
