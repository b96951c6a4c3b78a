"""Look through a PDF for what PDF/UA-1 (ISO 14289-1:2014) asks, as far as a program can see it.

Each rule is named by its clause. What takes a person (whether an alternative text is a good one,
whether the order of reading makes sense) is not here; nor is the syntax of PDF itself.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from typing import Any

import pypdf
from pypdf.generic import ArrayObject, ContentStream, DictionaryObject

_SHOWS = {b"Tj", b"TJ", b"'", b'"', b"Do", b"f", b"F", b"f*", b"S", b"s", b"B", b"B*", b"b", b"b*"}
_STANDARD = {
    "/Document", "/Part", "/Art", "/Sect", "/Div", "/BlockQuote", "/Caption", "/TOC", "/TOCI",
    "/Index", "/NonStruct", "/Private", "/P", "/H", "/H1", "/H2", "/H3", "/H4", "/H5", "/H6", "/L",
    "/LI", "/Lbl", "/LBody", "/Table", "/TR", "/TH", "/TD", "/THead", "/TBody", "/TFoot", "/Span",
    "/Quote", "/Note", "/Reference", "/BibEntry", "/Code", "/Link", "/Annot", "/Ruby", "/Warichu",
    "/Figure", "/Formula", "/Form",
}  # fmt: skip


def faults_of(pdf: bytes) -> list[str]:
    """Give every fault, each with its clause; none for a PDF that has what can be seen by program.

    Covered: 5 (identifier), 7.1 (tagged, no suspects, title shown, every mark tagged or an
    artifact, roles mapped), 7.2 (language), 7.3 (alternative text), 7.4.2 (headings in steps),
    7.5 (headers of tables), 7.21.4.1 (fonts embedded), 7.21.7 (letters mapped to Unicode).
    """
    reader = pypdf.PdfReader(io.BytesIO(pdf))
    root: Any = reader.root_object
    told = [*_identified(root), *_document(root)]
    tree = root.get("/StructTreeRoot")
    if tree is None:
        return [*told, "7.1: no structure tree"]
    tree = tree.get_object()
    found = list(_elements(tree.get("/K")))
    told += [*_roles(found, tree), *_figures(found), *_headings(found), *_tables(found)]
    for number, page in enumerate(reader.pages, 1):
        told += [*_marked(page, reader, number), *_fonts(page, number)]
    return told


def alternative_texts(pdf: bytes) -> list[str]:
    """Give the alternative text of every figure, in the order of reading."""
    root: Any = pypdf.PdfReader(io.BytesIO(pdf)).root_object
    every = _elements(root["/StructTreeRoot"].get_object().get("/K"))
    return [str(each.get("/Alt", "")) for each in every if each.get("/S") == "/Figure"]


def _identified(root: Any) -> Iterator[str]:
    held = root.get("/Metadata")
    told = held.get_object().get_data().decode("utf-8") if held is not None else ""
    if not re.search(r"<pdfuaid:part>1</pdfuaid:part>|pdfuaid:part=\"1\"", told):
        yield "5: no identifier of PDF/UA-1 in the metadata"
    if not re.search(r"<dc:title>.*?<rdf:li[^>]*>[^<]+</rdf:li>", told, re.DOTALL):
        yield "7.1: no title in the metadata"


def _document(root: Any) -> Iterator[str]:
    mark = root.get("/MarkInfo")
    mark = mark.get_object() if mark is not None else {}
    if not _is_true(mark.get("/Marked")):
        yield "7.1: not marked as tagged"
    if _is_true(mark.get("/Suspects")):
        yield "7.1: tags are suspect"
    wishes = root.get("/ViewerPreferences")
    if wishes is None or not _is_true(wishes.get_object().get("/DisplayDocTitle")):
        yield "7.1: the title is not shown"
    if not re.fullmatch(r"[a-z]{2,3}(-[A-Za-z0-9]+)*", str(root.get("/Lang", ""))):
        yield "7.2: no language"


def _is_true(held: Any) -> bool:
    """Read a truth value; one of a PDF is no Python one, and false counts as true there."""
    return bool(getattr(held, "value", held))


def _elements(kids: Any) -> Iterator[Any]:
    held = kids.get_object() if hasattr(kids, "get_object") else kids
    if isinstance(held, ArrayObject):
        for each in held:
            yield from _elements(each)
    elif isinstance(held, DictionaryObject) and "/S" in held:
        yield held
        yield from _elements(held.get("/K"))


def _roles(found: list[Any], tree: Any) -> Iterator[str]:
    mapped = tree.get("/RoleMap")
    mapped = mapped.get_object() if mapped is not None else {}
    for name in sorted({str(each["/S"]) for each in found}):
        if name not in _STANDARD and str(mapped.get(name, "")) not in _STANDARD:
            yield f"7.1: {name} is no standard role and not mapped to one"


def _figures(found: list[Any]) -> Iterator[str]:
    for number, each in enumerate((one for one in found if one["/S"] == "/Figure"), 1):
        if not str(each.get("/Alt", "") or each.get("/ActualText", "")).strip():
            yield f"7.3: figure {number} has no alternative text"


def _headings(found: list[Any]) -> Iterator[str]:
    levels = [int(s[2:]) for each in found if re.fullmatch(r"/H[1-6]", s := str(each["/S"]))]
    if not levels:
        yield "7.4.2: no heading"
    for before, after in zip([0, *levels], levels, strict=False):
        if after > before + 1:
            yield f"7.4.2: a heading of level {after} after one of level {before}"


def _tables(found: list[Any]) -> Iterator[str]:
    for number, table in enumerate((one for one in found if one["/S"] == "/Table"), 1):
        cells = list(_elements(table.get("/K")))
        heads = [each for each in cells if each["/S"] == "/TH"]
        if not heads:
            yield f"7.5: table {number} has no header"
        if any("/Scope" not in str(each.get("/A", "")) for each in heads):
            yield f"7.5: a header of table {number} has no scope"


def _marked(page: pypdf.PageObject, reader: pypdf.PdfReader, number: int) -> Iterator[str]:
    held = page.get_contents()
    depth: list[bool] = []
    for operands, operator in ContentStream(held, reader).operations if held is not None else ():
        if operator in {b"BDC", b"BMC"}:
            is_artifact = operands[0] == "/Artifact"
            has_id = operator == b"BDC" and "/MCID" in operands[1]
            depth.append(is_artifact or has_id)
        elif operator == b"EMC":
            depth.pop()
        elif operator in _SHOWS and not any(depth):
            yield f"7.1: page {number} has a mark that is neither tagged nor an artifact"
            return


def _fonts(page: pypdf.PageObject, number: int) -> Iterator[str]:
    resources = page.get("/Resources")
    fonts = resources.get_object().get("/Font") if resources is not None else None
    for name, held in (fonts.get_object() if fonts is not None else {}).items():
        font = held.get_object()
        if "/ToUnicode" not in font:
            yield f"7.21.7: page {number}, font {name} does not say which letters it has"
        kids = font.get("/DescendantFonts")
        inner = kids.get_object()[0].get_object() if kids is not None else font
        about = inner.get("/FontDescriptor")
        keys = about.get_object().keys() if about is not None else ()
        if font.get("/Subtype") != "/Type3" and not {"/FontFile", "/FontFile2", "/FontFile3"} & set(
            keys
        ):
            yield f"7.21.4.1: page {number}, font {name} is not in the file"
