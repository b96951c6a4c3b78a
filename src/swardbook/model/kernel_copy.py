"""Copying the equations' text for the kernel: numbers typed, names made unique, weeds written out.

What is said once for each weed grass, as ``tuple(… for w in s.weeds)`` or ``sum(…)``, is written
out as many times as the zone has weed grasses: the kernel has no loop over them.
"""

from __future__ import annotations

import ast
from copy import deepcopy
from functools import reduce

from swardbook.foundation import kernel_text as foundation
from swardbook.model.fixed import fixed_numbers

_SEVERAL = ("tuple", "sum", "most_of")
"""What may be said once for each weed grass."""


class Scribe(foundation.Scribe, ast.NodeTransformer):
    """Copies functions as the model needs it: weeds written out, fixed numbers put in."""

    def __init__(self, weeds: int) -> None:
        super().__init__()
        self.weeds = weeds
        self.fixed = fixed_numbers()

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
        """Turn ``module.function`` into one name, ``module.Tuple`` into that of the tuple."""
        found = super().visit_Attribute(node)
        if (
            isinstance(found, ast.Attribute)
            and isinstance(found.value, ast.Name)
            and found.value.id in self.known
            and found.attr[0].isupper()
        ):
            return ast.Name(found.attr, ast.Load())
        return found

    def visit_Name(self, node: ast.Name) -> ast.Name:
        """Give a function its unique name, and a fixed number that of its value."""
        if node.id in self.fixed:
            return self.typed(self.fixed[node.id])
        return super().visit_Name(node)


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
