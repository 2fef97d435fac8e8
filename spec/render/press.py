"""Many documents set in their formats, each distinct drawing made once."""

from __future__ import annotations

from collections.abc import Iterator

from spec.compose.blocks import Document, Format
from spec.draw.scene import Scene
from spec.render.docx import docx
from spec.render.html import html
from spec.render.pdf import pdf, png
from spec.render.plain import plain
from spec.render.svg import Drawing, draw

_TEXT_WIDTH = {"letter": 171.9, "a4": 170.0}
"""Width in millimeters that a drawing may take on each paper."""


class Press:
    """Sets documents one by one; drawings that come again are not made again.

    One thread: Typst keeps Python's lock while it works, so a second one gains nothing.
    """

    def __init__(self) -> None:
        self._drawings: dict[tuple[Scene, str], Drawing] = {}
        self._pictures: dict[str, bytes] = {}

    def set(self, document: Document) -> Iterator[tuple[Format, bytes]]:
        """Each format of a document, all of whose text must be printable."""
        drawings: dict[str, Drawing] = {}

        def drawn(scene: Scene) -> Drawing:
            key = (scene, document.paper)
            if key not in self._drawings:
                self._drawings[key] = draw(scene, _TEXT_WIDTH[document.paper])
            drawings[self._drawings[key].svg] = self._drawings[key]
            return self._drawings[key]

        def picture(svg: str) -> bytes:
            if svg not in self._pictures:
                self._pictures[svg] = png(drawings[svg])
            return self._pictures[svg]

        data = plain(document, drawn)
        for form in document.formats:
            match form:
                case "pdf":
                    yield form, pdf(data)
                case "docx":
                    yield form, docx(data, picture)
                case "html":
                    yield form, html(data)
