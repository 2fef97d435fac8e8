"""A laid-out formula as Office Math Markup (ECMA-376 part 1, 22.1), one line of it at a time.

Every run is "normal" text: a word processor then sets it in the document's own font, and not in
a font for mathematics that may not be there.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any
from xml.sax.saxutils import escape

from spec.render.fonts import metrics

Part = Mapping[str, Any]
MATH = "http://schemas.openxmlformats.org/officeDocument/2006/math"
_SPACED = {"op": " {} ", "thin": "\u2009"}


def omml(line: Part) -> str:
    """One line of a layout as a left-aligned formula of its own."""
    left = '<m:oMathParaPr><m:jc m:val="left"/></m:oMathParaPr>'
    return f'<m:oMathPara xmlns:m="{MATH}">{left}<m:oMath>{_made(line)}</m:oMath></m:oMathPara>'


def _made(part: Part) -> str:
    made = _OUTER.get(part["is"])
    return made(part) if made else _run(part)


def _run(part: Part) -> str:
    words = escape(_SPACED.get(part["is"], "{}").format(part["text"]))
    slant = "<w:i/>" if part["is"] == "var" else ""
    font = metrics().family
    style = f'<w:rFonts w:ascii="{font}" w:hAnsi="{font}" w:cs="{font}"/>{slant}'
    return (
        f"<m:r><m:rPr><m:nor/></m:rPr><w:rPr>{style}</w:rPr>"
        f'<m:t xml:space="preserve">{words}</m:t></m:r>'
    )


def _two(tag: str, first: str, second: str) -> Callable[[Part], str]:
    return lambda part: (
        f"<m:{tag}><m:{first}>{_made(part['a'])}</m:{first}>"
        f"<m:{second}>{_made(part['b'])}</m:{second}></m:{tag}>"
    )


_OUTER: dict[str, Callable[[Part], str]] = {
    "row": lambda part: "".join(map(_made, part["parts"])),
    "frac": _two("f", "num", "den"),
    "sub": _two("sSub", "e", "sub"),
    "sup": _two("sSup", "e", "sup"),
    "root": lambda part: (
        '<m:rad><m:radPr><m:degHide m:val="1"/></m:radPr><m:deg/>'
        f"<m:e>{_made(part['a'])}</m:e></m:rad>"
    ),
}
