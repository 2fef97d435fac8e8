"""Many documents set in their formats, each distinct drawing made once."""

from __future__ import annotations

from collections.abc import Iterator

from spec.compose.blocks import Document, Format, Photo, Picture
from spec.draw.scene import Scene
from spec.render.docx import docx
from spec.render.html import html
from spec.render.pdf import pdf, png
from spec.render.photo import missing_photograph, photograph
from spec.render.plain import plain
from spec.render.svg import Drawing, draw

_TEXT_WIDTH = {"letter": 171.9, "a4": 170.0}
"""Width in millimeters that a drawing may take on each paper."""


class Press:
    """Sets documents one by one; drawings that come again are not made again.

    One thread: Typst keeps Python's lock while it works, so a second one gains nothing.
    `notes` says in words which photographs could not be shown.
    """

    def __init__(self) -> None:
        self.notes: list[str] = []
        self._drawings: dict[tuple[Scene | bytes, float], Drawing] = {}
        self._pictures: dict[str, bytes] = {}

    def set(self, document: Document) -> Iterator[tuple[Format, bytes]]:
        """Each format of a document, all of whose text must be printable."""
        drawings: dict[str, Drawing] = {}

        def drawn(block: Picture | Photo) -> Drawing:
            drawing = self._drawn(block, _TEXT_WIDTH[document.paper])
            drawings[drawing.svg] = drawing
            return drawing

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

    def _drawn(self, block: Picture | Photo, room: float) -> Drawing:
        if isinstance(block, Picture):
            drawing = self._drawings.get((block.scene, room)) or draw(block.scene, room)
            return self._drawings.setdefault((block.scene, room), drawing)
        widest = min(block.width_on_paper, room)
        key = (block.content, widest)
        if key not in self._drawings:
            shown = photograph(block.content, widest)
            if shown is None:
                what = block.caption or block.alt
                self.notes.append(f"The photograph “{what}” cannot be shown: it is no JPEG or PNG.")
            self._drawings[key] = shown or missing_photograph(widest)
        return self._drawings[key]
