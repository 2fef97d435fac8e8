"""A document as DOCX: a frame by docxtpl, the body appended to it afterward.

The frame, templates/docx/frame.docx, holds the styles, the running head and foot; a firm may
restyle it in a word processor. What a job says never is a template: the head's words go in as
escaped values, the body's are appended when the template engine is done. The body is written as
text: thousands of cells built as objects take twenty times as long.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from io import BytesIO
from typing import Any

from spec.files import templates
from spec.render import wordml as ml
from spec.render.archive import packed
from spec.render.omml import omml
from spec.render.plain import Data, noon

EMU_PER_MM = 36000
TWIPS_PER_MM = 1440 / 25.4
_PAPER = {"us-letter": (215.9, 279.4, 22.0), "a4": (210.0, 297.0, 20.0)}
_DECLARATION = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
_BULLETS = {"dash": "ListDash", "number": "ListNumber", "box": "ListBox"}
_TONES = {"plain": "Normal", "caution": "Caution", "held": "Held", "small": "Small"}
_FILLS = {"plain": "", "held": "F9E7DE", "total": "F2EDE2"}
_PINE = "2F5B54"

Picture = Callable[[str], bytes]
"""From SVG text to PNG bytes."""


def docx(data: Data, picture: Picture) -> bytes:
    """The document, as `plain` gives it, as DOCX; `picture` makes a PNG of an SVG."""
    from docxtpl import DocxTemplate

    frame = DocxTemplate(BytesIO(_frame()))
    frame.render(
        {"title": _inert(data["title"]), "head": _inert(data["head"])}, _engine(), autoescape=True
    )
    word = frame.docx
    _page(word, data)
    body = _Body(word, data, picture)
    for block in data["blocks"]:
        body.add(block)
    _properties(word, data)
    return packed(word.part.package, {"word/document.xml": body.whole()})


@cache
def _frame() -> bytes:
    return (templates() / "docx" / "frame.docx").read_bytes()


@cache
def _engine() -> Any:
    from jinja2 import Environment, StrictUndefined

    return Environment(undefined=StrictUndefined, autoescape=True)


def _inert(value: Any) -> Any:
    """A value as XML text in which docxtpl finds no braces to unescape and no line breaks."""
    from markupsafe import Markup, escape

    if isinstance(value, dict):
        return {key: _inert(item) for key, item in value.items()}
    if isinstance(value, list):
        return [_inert(item) for item in value]
    text = str(escape(" ".join(str(value).split())))
    return Markup(text.replace("{", "&#123;").replace("}", "&#125;"))


def _page(word: Any, data: Data) -> None:
    """Paper, margins and language; the head's tab stops end at the text's edge."""
    from docx.oxml.ns import qn
    from docx.shared import Mm

    wide, high, side = _PAPER[data["paper"]]
    section = word.sections[0]
    section.page_width, section.page_height = Mm(wide), Mm(high)
    section.left_margin = section.right_margin = Mm(side)
    for name in ("Header", "Footer"):
        for tab in word.styles[name].element.iter(qn("w:tab")):
            tab.set(qn("w:pos"), str(round((wide - 2 * side) * TWIPS_PER_MM)))
    tag = "-".join(filter(None, (data["lang"], data["region"])))
    for language in word.styles.element.iter(qn("w:lang")):
        language.set(qn("w:val"), tag)


def _properties(word: Any, data: Data) -> None:
    head = data["head"]
    stamp = noon(head["day"]).replace(tzinfo=None)
    core = word.core_properties
    core.title, core.author, core.subject = data["title"][:255], "", head["job"][:255]
    core.created = core.modified = stamp
    core.last_modified_by, core.comments, core.keywords = "", "", ""
    core.revision, core.version = 1, head["revision"][:255]
    core.identifier, core.language = head["fingerprint"][:255], data["lang"]


class _Body:
    """Appends blocks as WordprocessingML (ECMA-376 part 1), styles by name only."""

    def __init__(self, word: Any, data: Data, picture: Picture) -> None:
        wide, _, side = _PAPER[data["paper"]]
        self.word, self.picture = word, picture
        self.twips = round((wide - 2 * side) * TWIPS_PER_MM)
        self.break_before = False
        self.pictures = 0
        self.made: list[str] = []

    def add(self, block: Data) -> None:
        """Append one block."""
        getattr(self, f"_{block['kind']}")(block)

    def whole(self) -> bytes:
        """The main part: what the frame holds, everything appended, and the page's settings."""
        from lxml import etree  # type: ignore[import-untyped]  # it comes without types

        frame: str = etree.tostring(self.word.element, encoding="unicode")
        end = frame.rindex("<w:sectPr")
        return "".join([_DECLARATION, frame[:end], *self.made, frame[end:]]).encode()

    def _heading(self, block: Data) -> None:
        self._paragraph_of(ml.run(block["text"]), f"Heading{block['level']}")

    def _paragraph(self, block: Data) -> None:
        self._paragraph_of(ml.runs(block["sentence"]), _TONES[block["tone"]])

    def _bullets(self, block: Data) -> None:
        number = self._restarted() if block["marks"] == "number" else None
        for item in block["items"]:
            self._paragraph_of(ml.runs(item), _BULLETS[block["marks"]], number=number)

    def _break(self, _: Data) -> None:
        self.break_before = True

    def _table(self, block: Data) -> None:
        if block["caption"]:
            self._paragraph_of(ml.run(block["caption"]), "CaptionAbove")
        total = sum(block["widths"])
        widths = [round(self.twips * share / total) for share in block["widths"]]
        right = set(block["right"])
        rows = [
            ml.row(
                [
                    ml.cell(words, w, "TableHead", _PINE, right=i in right)
                    for i, (words, w) in enumerate(zip(block["columns"], widths, strict=True))
                ],
                head=True,
            )
        ]
        for row in block["rows"]:
            fill, strong = _FILLS[row["tone"]], row["tone"] == "total"
            rows.append(
                ml.row(
                    [
                        ml.cell(words, w, "TableText", fill, right=i in right, strong=strong)
                        for i, (words, w) in enumerate(zip(row["cells"], widths, strict=True))
                    ]
                )
            )
        self._place(ml.table(rows, widths, block["caption"]))

    def _facts(self, block: Data) -> None:
        if block["title"]:
            self._paragraph_of(ml.run(block["title"]), "FactsTitle")
        widths = [round(self.twips / 3.6), round(self.twips * 2.6 / 3.6)]
        rows = [
            ml.row(
                [
                    ml.cell(row["cells"][0], widths[0], "TableLabel", _FILLS[row["tone"]]),
                    ml.cell(
                        "\n".join(row["cells"][1:]), widths[1], "TableText", _FILLS[row["tone"]]
                    ),
                ]
            )
            for row in block["rows"]
        ]
        self._place(ml.table(rows, widths, block["title"], head=False))

    def _formula(self, block: Data) -> None:
        for line in [ml.run(block["words"])] if block["words"] else map(omml, block["lines"]):
            self._paragraph_of(line, "Normal", keep=True)
        if block["remark"]:
            self._paragraph_of(ml.run(block["remark"]), "Small", keep=True)

    def _code(self, block: Data) -> None:
        lines = block["text"].split("\n")
        kept = ["\u00a0" * (len(line) - len(line.lstrip())) + line.lstrip() for line in lines]
        self._paragraph_of(ml.run("\n".join(kept)), "Small")

    def _picture(self, block: Data) -> None:
        from docx.shared import Emu
        from lxml import etree

        content = BytesIO(self.picture(block["svg"]))
        width = Emu(round(block["width"] * EMU_PER_MM))
        inline = self.word.part.new_pic_inline(content, width)
        self.pictures += 1
        inline.docPr.id, inline.docPr.name = self.pictures, f"Picture {self.pictures}"
        inline.docPr.set("descr", block["alt"])
        for side in "TBLR":
            inline.set(f"dist{side}", "0")
        drawing = ml.inside("drawing", [etree.tostring(inline, encoding="unicode")])
        self._paragraph_of(ml.inside("r", [drawing]), "Picture")
        if block["caption"]:
            self._paragraph_of(ml.run(block["caption"]), "Caption")

    def _signatures(self, block: Data) -> None:
        self._paragraph_of(ml.runs(block["sentence"]), "Normal", keep=True)
        widths = [round(self.twips * share) for share in (0.37, 0.03, 0.17, 0.03, 0.4)]
        rows = []
        for signer in block["signers"]:
            labels = (f"{signer}: name", "", "Date", "", "Signature")
            rows.append(
                ml.row([ml.cell("", w, "TableText", keep=True) for w in widths], height=680)
            )
            rows.append(
                ml.row(
                    [
                        ml.cell(words, w, "Small", line="top" if words else "")
                        for words, w in zip(labels, widths, strict=True)
                    ]
                )
            )
        self._place(ml.table(rows, widths, "Signatures", head=False, ruled=False))

    def _initials(self, block: Data) -> None:
        widths = [self.twips - 1500, 1500]
        words = f"Initials for {block['section']}\nfingerprint {block['fingerprint']}"
        cells = [
            ml.cell(words, widths[0], "Small", right=True),
            ml.cell("", widths[1], "TableText", line="box"),
        ]
        row = ml.row(cells, height=570)
        self._place(ml.table([row], widths, "Initials", head=False, ruled=False))

    def _restarted(self) -> int:
        """A numbered list of its own that starts at one."""
        numbering = self.word.part.numbering_part.element
        number = numbering.add_num(2)
        number.add_lvlOverride(0).add_startOverride(1)
        return int(number.numId)

    def _paragraph_of(
        self, content: str, style: str, *, number: int | None = None, keep: bool = False
    ) -> None:
        new_page, self.break_before = self.break_before, False
        self.made.append(ml.paragraph(content, style, keep=keep, new_page=new_page, number=number))

    def _place(self, table: str) -> None:
        if self.break_before:
            self._paragraph_of("", "AfterTable")
        self.made.append(table)
        self._paragraph_of("", "AfterTable")
