"""A document as PDF by Typst: PDF/A-2a and PDF/UA-1, with the shipped fonts and no others.

The template is templates/pdf/document.typ. Blocks go in as JSON, so nothing that a job says
can be markup.
"""

from __future__ import annotations

import json
from functools import cache
from typing import Any

from spec.files import templates
from spec.render import fonts
from spec.render.plain import Data, noon
from spec.render.svg import Drawing

STANDARDS = ["a-2a", "ua-1"]
PICTURE_PPI = 190
_PICTURE = b"""
#set page(width: auto, height: auto, margin: 0pt)
#set text(font: sys.inputs.font, fallback: false)
#image(bytes(sys.inputs.svg), format: "svg", width: float(sys.inputs.width) * 1mm)
"""


class TypesettingError(Exception):
    """Typst refused or warned: a fault of the template or of a photograph, never of words."""


def pdf(data: Data) -> bytes:
    """The document, as `plain` gives it, as PDF; its time stamp is the job's day."""
    stamp = noon(data["head"]["day"])
    whole = {
        **data,
        "font": fonts.metrics().family,
        "date": [stamp.year, stamp.month, stamp.day],
    }
    template = (templates() / "pdf" / "document.typ").read_bytes()
    return set_type(
        template,
        {"data": json.dumps(whole, ensure_ascii=False)},
        format="pdf",
        pdf_standards=STANDARDS,
        timestamp=stamp,
    )


def png(drawing: Drawing, ppi: float = PICTURE_PPI) -> bytes:
    """A drawing as PNG, for formats that hold no SVG."""
    inputs = {
        "svg": drawing.svg,
        "width": str(drawing.width),
        "font": fonts.metrics().family,
    }
    return set_type(_PICTURE, inputs, format="png", ppi=ppi)


@cache
def _fonts() -> Any:
    import typst

    return typst.Fonts(
        include_system_fonts=False,
        include_embedded_fonts=False,
        font_paths=[str(fonts.folder())],
    )


def set_type(
    source: bytes, inputs: dict[str, str], root: str | None = None, **options: Any
) -> bytes:
    """One run of Typst; a warning (a font or glyph not found, say) counts as an error.

    `root` is the only folder that the source may read from; it sees `inputs` as sys.inputs.
    """
    import typst

    compiler = typst.Compiler(root=root or str(templates() / "pdf"), font_paths=_fonts())
    made: Any
    try:
        made, warnings = compiler.compile_with_warnings(source, sys_inputs=inputs, **options)
    except typst.TypstError as error:
        raise TypesettingError(_said(error)) from error
    if warnings:
        raise TypesettingError("; ".join(_said(warning) for warning in warnings))
    return bytes(made)


def _said(trouble: Any) -> str:
    return " ".join([trouble.message, *trouble.hints])
