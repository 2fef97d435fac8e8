"""Pieces of WordprocessingML (ECMA-376 part 1): runs, cells, rows, tables; no document, no file.

Children stand in the order of the schema, which word processors insist on. Widths are in
twentieths of a point.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from spec.render.plain import Data

MAIN = "http://schemas.openxmlformats.org/wordprocessingml/2006/main"
_SPACE = "{http://www.w3.org/XML/1998/namespace}space"
_RULE, _INK = "B9B2A3", "2A2C2B"


def element(tag: str, **attributes: str) -> Any:
    """An element of the main namespace with attributes of the same."""
    from lxml import etree  # type: ignore[import-untyped]  # it comes without types

    names = {f"{{{MAIN}}}{name}": value for name, value in attributes.items()}
    return etree.Element(f"{{{MAIN}}}{tag}", names, nsmap={"w": MAIN})


def inside(tag: str, children: Sequence[Any]) -> Any:
    """An element around others."""
    outer = element(tag)
    outer.extend(children)
    return outer


def runs(sentence: Sequence[Data]) -> list[Any]:
    """The runs of a sentence."""
    return [run(part["text"], part["strong"], part["emphasis"]) for part in sentence]


def run(text: str, strong: bool = False, emphasis: bool = False) -> Any:
    """Text with its line breaks and tabs."""
    properties = [element(tag) for tag, on in (("b", strong), ("i", emphasis)) if on]
    made = inside("r", [inside("rPr", properties)] if properties else [])
    for index, line in enumerate(text.split("\n")):
        if index:
            made.append(element("br"))
        for place, words in enumerate(line.split("\t")):
            if place:
                made.append(element("tab"))
            piece = element("t")
            piece.set(_SPACE, "preserve")
            piece.text = words
            made.append(piece)
    return made


def paragraph(
    content: Sequence[Any],
    style: str,
    *,
    keep: bool = False,
    new_page: bool = False,
    number: int | None = None,
    right: bool = False,
) -> Any:
    """A paragraph by the id of its style; `keep` holds it on the page of the next one."""
    properties = [element("pStyle", val=style)]
    if keep:
        properties.append(element("keepNext"))
    if new_page:
        properties.append(element("pageBreakBefore"))
    if number is not None:
        level = element("ilvl", val="0")
        properties.append(inside("numPr", [level, element("numId", val=str(number))]))
    if right:
        properties.append(element("jc", val="right"))
    return inside("p", [inside("pPr", properties), *content])


def cell(
    words: str,
    width: int,
    style: str,
    fill: str = "",
    *,
    right: bool = False,
    strong: bool = False,
    line: str = "",
    keep: bool = False,
) -> Any:
    """A table cell; `line` draws its "top" or a whole "box"."""
    properties = [element("tcW", w=str(width), type="dxa")]
    if line:
        sides = ("top", "left", "bottom", "right") if line == "box" else (line,)
        borders = [element(s, val="single", sz="6", space="0", color=_INK) for s in sides]
        properties.append(inside("tcBorders", borders))
    if fill:
        properties.append(element("shd", val="clear", color="auto", fill=fill))
    content = [run(words, strong)] if words else []
    return inside(
        "tc",
        [inside("tcPr", properties), paragraph(content, style, keep=keep, right=right)],
    )


def row(cells: Sequence[Any], *, head: bool = False, height: int = 0) -> Any:
    """A row that does not split between pages; a head row is repeated on each."""
    properties = [element("cantSplit")]
    if height:
        properties.append(element("trHeight", val=str(height), hRule="atLeast"))
    if head:
        properties.append(element("tblHeader"))
    return inside("tr", [inside("trPr", properties), *cells])


def table(
    rows: Sequence[Any], widths: Sequence[int], about: str, *, head: bool = True, ruled: bool = True
) -> Any:
    """A table of fixed column widths; `about` says in words what it holds."""
    line = {"val": "single", "sz": "4", "space": "0", "color": _RULE}
    borders = [element(side, **line) for side in ("top", "bottom", "insideH")]
    margins = [element(side, w="90", type="dxa") for side in ("left", "right")]
    properties = [
        element("tblW", w=str(sum(widths)), type="dxa"),
        *([inside("tblBorders", borders)] if ruled else []),
        element("tblLayout", type="fixed"),
        inside("tblCellMar", margins),
        element("tblLook", val="0020" if head else "0000", firstRow="1" if head else "0"),
        *([element("tblCaption", val=about)] if about else []),
    ]
    grid = [element("gridCol", w=str(width)) for width in widths]
    return inside("tbl", [inside("tblPr", properties), inside("tblGrid", grid), *rows])
