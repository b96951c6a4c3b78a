"""Write the catalogue of texts: every text of the pages, and where it stands.

Run: ``python tools/write_texts.py``. Templates are read by their `translate` tags, views by their
calls of `gettext`, and lists of pages, forms and questions by their titles, labels and hints.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
WEB = ROOT / "src" / "swardbook" / "web"
TEMPLATES = WEB / "templates" / "pages"
CATALOGUE = WEB / "locale" / "en" / "LC_MESSAGES" / "django.po"
MARKS = frozenset({"_", "gettext", "gettext_lazy"})
LISTED: dict[str, dict[str, int | None]] = {
    "Page": {"title": None, "says": None},
    "Form": {"title": 1, "says": 2},
    "Field": {"label": 1, "hint": 2},
}
"""Lists of what pages show by a variable: each text by its name and place in the call."""
WORDS = {
    "asking/titles.py": ("TITLES",),
    "asking/labels.py": ("LABELS", "LABELS_IN"),
    "forms.py": ("_YES_NO", "_BOX"),
}
"""Names of plain lists whose words are shown."""
HEAD = r"""# Every text of the pages; written by tools/write_texts.py.
msgid ""
msgstr ""
"Content-Type: text/plain; charset=UTF-8\n"
"Content-Transfer-Encoding: 8bit\n"
"Language: en\n"
"Plural-Forms: nplurals=2; plural=(n != 1);\n"
"""
Text = tuple[str, str]
"""A text, and its plural or nothing."""
Found = tuple[Text, str]
"""A text, and where it stands."""


def texts() -> dict[Text, list[str]]:
    """Give every text with the files where it stands, in their order."""
    found: dict[Text, list[str]] = {}
    for path in sorted(TEMPLATES.iterdir()):
        for text, where in _of_template(path):
            found.setdefault(text, []).append(where)
    for path in sorted(WEB.rglob("*.py")):
        for text, where in _of_module(path):
            found.setdefault(text, []).append(where)
    return found


def catalogue() -> str:
    """Write the catalogue."""
    parts = [HEAD]
    for (one, more), places in texts().items():
        lines = [f"#: {place}" for place in dict.fromkeys(places)]
        lines.append("#, python-format" if "%(" in one + more else "")
        lines.append(f"msgid {_quoted(one)}")
        lines += [f"msgid_plural {_quoted(more)}", 'msgstr[0] ""', 'msgstr[1] ""'] if more else []
        lines += [] if more else ['msgstr ""']
        parts.append("\n".join(line for line in lines if line) + "\n")
    return "\n".join(parts)


def _as_looked_up(text: str) -> str:
    """Double the per cent signs, as templates do before they look a text up."""
    return text.replace("%", "%%")


def _quoted(text: str) -> str:
    plain = text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n")
    return f'"{plain}"'


def _of_template(path: Path) -> Iterator[Found]:
    """Read the translate tags of a template, as Django itself reads them."""
    from django.template import Engine
    from django.template.base import Node
    from django.templatetags.i18n import BlockTranslateNode, TranslateNode
    from django.utils.translation import trim_whitespace

    builtins = ["django.templatetags.i18n", "django.templatetags.static", "swardbook.web.saying"]
    engine = Engine(dirs=[str(TEMPLATES.parent)], builtins=builtins)
    compiled = engine.from_string(path.read_text(encoding="utf-8"))
    for node in compiled.nodelist.get_nodes_by_type(Node):
        where = f"templates/pages/{path.name}"
        if isinstance(node, TranslateNode):
            told = getattr(node.filter_expression.var, "literal", None)
            if isinstance(told, str):
                yield (_as_looked_up(told), ""), where
        elif isinstance(node, BlockTranslateNode):
            both = [node.render_token_list(node.singular)[0]]
            both += [node.render_token_list(node.plural)[0]] if node.plural else [""]
            if node.trimmed:
                both = [trim_whitespace(each) for each in both]
            yield (both[0], both[1]), where


def _of_module(path: Path) -> Iterator[Found]:
    """Read what a module marks, and the texts of its lists."""
    name = path.relative_to(WEB).as_posix()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call):
            yield from ((text, name) for text in _of_call(node))
        elif isinstance(node, ast.ClassDef) and node.name == "Shelf":
            values = [each.value for each in node.body if isinstance(each, ast.Assign)]
            yield from (((text, ""), name) for each in values for text in _literals(each))
        elif isinstance(node, ast.Assign | ast.AnnAssign) and node.value is not None:
            targets = node.targets if isinstance(node, ast.Assign) else [node.target]
            if any(isinstance(x, ast.Name) and x.id in WORDS.get(name, ()) for x in targets):
                yield from (((_as_looked_up(text), ""), name) for text in _shown(node.value))


def _of_call(call: ast.Call) -> Iterator[Text]:
    called = call.func.id if isinstance(call.func, ast.Name) else ""
    if called in MARKS and call.args:
        yield from ((text, "") for text in _literals(call.args[0]))
    if called == "ngettext":
        one, more = (next(_literals(each), "") for each in call.args[:2])
        yield one, more
    for key, place in LISTED.get(called, {}).items():
        named = [each.value for each in call.keywords if each.arg == key]
        placed = call.args[place : place + 1] if place is not None else []
        listed = [text for each in (*named, *placed) for text in _literals(each) if text]
        yield from ((_as_looked_up(text), "") for text in listed)
    if called == "_same":
        yield from ((text.capitalize(), "") for each in call.args for text in _literals(each))
    if called == "Field":
        chosen = [each.value for each in call.keywords if each.arg == "choices"]
        yield from ((text, "") for each in chosen for text in _shown(each) if text)


def _literals(node: ast.expr) -> Iterator[str]:
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value


def _shown(node: ast.expr) -> Iterator[str]:
    """Give the words of a list: the values of a mapping, the seconds of pairs."""
    if isinstance(node, ast.Dict):
        for each in node.values:
            yield from _literals(each.elts[0] if isinstance(each, ast.Tuple) else each)
    elif isinstance(node, ast.Tuple):
        for each in node.elts:
            if isinstance(each, ast.Tuple) and len(each.elts) == 2:
                yield from _literals(each.elts[1])


def main() -> None:
    """Write it."""
    import django
    from django.conf import settings

    settings.configure(USE_I18N=True)
    django.setup()
    CATALOGUE.parent.mkdir(parents=True, exist_ok=True)
    CATALOGUE.write_text(catalogue(), encoding="utf-8")
    print(f"{len(texts())} texts in {CATALOGUE.relative_to(ROOT)}")


if __name__ == "__main__":
    main()
