"""Copying the equations' text for the kernel: numbers typed, names made unique, weeds written out.

What is said once for each weed grass, as ``tuple(… for w in s.weeds)`` or ``sum(…)``, is written
out as many times as the zone has weed grasses: the kernel has no loop over them.
"""

from __future__ import annotations

import ast
from copy import deepcopy
from functools import reduce

from swardbook.model.fixed import fixed_numbers

_SEVERAL = ("tuple", "sum", "most_of")
"""What may be said once for each weed grass."""


class Scribe(ast.NodeTransformer):
    """Copies functions with their numbers typed and their names made unique."""

    def __init__(self, weeds: int) -> None:
        self.weeds = weeds
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

    def visit_Call(self, node: ast.Call) -> ast.AST:
        """Write out what is said once for each weed grass."""
        words = [each for each in node.args if isinstance(each, ast.GeneratorExp)]
        if not (isinstance(node.func, ast.Name) and node.func.id in _SEVERAL and words):
            self.generic_visit(node)
            return node
        each: list[ast.expr] = [self.visit(x) for x in _written_out(words[0], self.weeds)]
        if node.func.id == "tuple":
            return ast.Tuple(each, ast.Load())
        if node.func.id == "sum":
            return reduce(_added, each)
        return reduce(_larger, each)

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


def _added(one: ast.expr, other: ast.expr) -> ast.expr:
    return ast.BinOp(one, ast.Add(), other)


def _larger(one: ast.expr, other: ast.expr) -> ast.expr:
    return ast.Call(ast.Name("most", ast.Load()), [one, other], [])


def _written_out(words: ast.GeneratorExp, weeds: int) -> list[ast.expr]:
    """Write an expression out for each weed grass of the series it runs through."""
    loop = words.generators[0]
    zipped = isinstance(loop.iter, ast.Call)
    series = loop.iter.args if isinstance(loop.iter, ast.Call) else [loop.iter]
    names = loop.target.elts if isinstance(loop.target, ast.Tuple) else [loop.target]
    assert zipped == isinstance(loop.target, ast.Tuple)
    passed = max(_passed_over(each) for each in series)
    written = []
    for number in range(weeds - passed):
        places = {
            name.id: ast.Subscript(_whole(each), ast.Constant(number + passed), ast.Load())
            for name, each in zip(names, series, strict=True)
            if isinstance(name, ast.Name)
        }
        written.append(_Put(places).visit(deepcopy(words.elt)))
    return written


def _passed_over(series: ast.expr) -> int:
    """Tell how many a slice such as ``weeds[2:]`` passes over."""
    if not (isinstance(series, ast.Subscript) and isinstance(series.slice, ast.Slice)):
        return 0
    lower = series.slice.lower
    assert isinstance(lower, ast.Constant)
    assert isinstance(lower.value, int)
    return lower.value


def _whole(series: ast.expr) -> ast.expr:
    return series.value if isinstance(series, ast.Subscript) else series


class _Put(ast.NodeTransformer):
    """Puts expressions in the places of names."""

    def __init__(self, places: dict[str, ast.Subscript]) -> None:
        self.places = places

    def visit_Name(self, node: ast.Name) -> ast.expr:
        """Put the expression for a name."""
        return deepcopy(self.places[node.id]) if node.id in self.places else node
