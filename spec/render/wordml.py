"""Pieces of WordprocessingML (ECMA-376 part 1) as XML text: runs, paragraphs, cells, rows, tables.

Children stand in the order of the schema, which word processors insist on. Widths are in
twentieths of a point. Text is escaped here and nowhere else.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from xml.sax.saxutils import escape

from spec.render.measures import HYPHEN, unbreakable
from spec.render.plain import Data

_RULE, _INK = "B9B2A3", "2A2C2B"
_QUOTE = {'"': "&quot;"}


def element(tag: str, **attributes: str) -> str:
    """An empty element with attributes."""
    given = "".join(f' w:{name}="{escape(v, _QUOTE)}"' for name, v in attributes.items())
    return f"<w:{tag}{given}/>"


def inside(tag: str, children: Iterable[str]) -> str:
    """An element around others."""
    return f"<w:{tag}>{''.join(children)}</w:{tag}>"


def runs(sentence: Sequence[Data]) -> str:
    """The runs of a sentence."""
    return "".join(run(part["text"], part["strong"], part["emphasis"]) for part in sentence)


def run(text: str, strong: bool = False, emphasis: bool = False) -> str:
    """Text with its line breaks and tabs; measures are held together."""
    style = "<w:b/>" * strong + "<w:i/>" * emphasis
    words = escape(unbreakable(text))
    for sign, mark in (("\n", "<w:br/>"), ("\t", "<w:tab/>"), (HYPHEN, "<w:noBreakHyphen/>")):
        words = words.replace(sign, f'</w:t>{mark}<w:t xml:space="preserve">')
    about = f"<w:rPr>{style}</w:rPr>" if style else ""
    return f'<w:r>{about}<w:t xml:space="preserve">{words}</w:t></w:r>'


def paragraph(
    content: str,
    style: str,
    *,
    keep: bool = False,
    new_page: bool = False,
    number: int | None = None,
    right: bool = False,
) -> str:
    """A paragraph by the id of its style; `keep` holds it on the page of the next one."""
    properties = [element("pStyle", val=style)]
    if keep:
        properties.append("<w:keepNext/>")
    if new_page:
        properties.append("<w:pageBreakBefore/>")
    if number is not None:
        level = element("ilvl", val="0")
        properties.append(inside("numPr", [level, element("numId", val=str(number))]))
    if right:
        properties.append(element("jc", val="right"))
    return inside("p", [inside("pPr", properties), content])


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
) -> str:
    """A table cell; `line` draws its "top" or a whole "box"."""
    properties = [element("tcW", w=str(width), type="dxa")]
    if line:
        sides = ("top", "left", "bottom", "right") if line == "box" else (line,)
        borders = [element(s, val="single", sz="6", space="0", color=_INK) for s in sides]
        properties.append(inside("tcBorders", borders))
    if fill:
        properties.append(element("shd", val="clear", color="auto", fill=fill))
    content = run(words, strong) if words else ""
    return inside(
        "tc",
        [inside("tcPr", properties), paragraph(content, style, keep=keep, right=right)],
    )


def row(cells: Iterable[str], *, head: bool = False, height: int = 0) -> str:
    """A row that does not split between pages; a head row is repeated on each."""
    properties = ["<w:cantSplit/>"]
    if height:
        properties.append(element("trHeight", val=str(height), hRule="atLeast"))
    if head:
        properties.append("<w:tblHeader/>")
    return inside("tr", [inside("trPr", properties), *cells])


def table(
    rows: Iterable[str], widths: Sequence[int], about: str, *, head: bool = True, ruled: bool = True
) -> str:
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
