"""Copying the text of equations for compiled code: numbers typed, names made unique.

numba would turn ``1.0`` into a float64 and every float32 beside it with it, so the text is copied
with each number typed as float32; nothing else is changed.
"""

from __future__ import annotations

import ast
from importlib.resources import files

HEAD = "kernel_head.txt"
"""The file with what the operations mean once compiled, one for all compiled code."""


class Scribe(ast.NodeTransformer):
    """Copies functions with their numbers typed and their names made unique."""

    def __init__(self) -> None:
        self.numbers: dict[float, str] = {}
        self.known: dict[str, set[str]] = {}
        self.names: dict[str, str] = {}

    def module(self, name: str, text: str) -> str:
        """Copy the functions of one module."""
        tree = ast.parse(text)
        functions = [node for node in tree.body if isinstance(node, ast.FunctionDef)]
        self.known[name] = {function.name for function in functions}
        self.names = {function.name: f"{name}__{function.name}" for function in functions}
        for node in tree.body:
            if isinstance(node, ast.ImportFrom) and node.module:
                self.imported(node)
        copies = [ast.unparse(ast.fix_missing_locations(self.visit(each))) for each in functions]
        return "\n\n\n".join(f"@inlined\n{copy}" for copy in copies)

    def imported(self, node: ast.ImportFrom) -> None:
        """Know the functions that a module takes from one copied before."""
        module = str(node.module).rsplit(".", 1)[-1]
        for alias in node.names:
            if alias.name in self.known.get(module, ()):
                self.names[alias.name] = f"{module}__{alias.name}"

    def typed_numbers(self) -> str:
        """Write the numbers that the copied text names."""
        return "\n".join(f"{name} = F({number!r})" for number, name in self.numbers.items())

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

    def visit_Attribute(self, node: ast.Attribute) -> ast.AST:
        """Turn ``module.function`` into one name."""
        self.generic_visit(node)
        if isinstance(node.value, ast.Name) and node.attr in self.known.get(node.value.id, ()):
            return ast.Name(f"{node.value.id}__{node.attr}", ast.Load())
        return node

    def visit_Name(self, node: ast.Name) -> ast.Name:
        """Give a function its unique name."""
        return ast.Name(self.names.get(node.id, node.id), node.ctx)

    def visit_Constant(self, node: ast.Constant) -> ast.AST:
        """Type a number as float32."""
        if not isinstance(node.value, float):
            return node
        return self.typed(node.value)

    def typed(self, number: float) -> ast.Name:
        """Name a number that is typed at the head of the text."""
        return ast.Name(self.numbers.setdefault(number, f"N{len(self.numbers)}"), ast.Load())


def head_text(imports: str) -> str:
    """Give the head of a compiled text: the operations' compiled meaning, with its imports."""
    head = (files("swardbook.foundation") / HEAD).read_text(encoding="utf-8")
    return head.replace("# imports", imports)


def _local_names(function: ast.FunctionDef) -> set[str]:
    stored = {
        node.id
        for node in ast.walk(function)
        if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store)
    }
    return stored | {argument.arg for argument in function.args.args}
