"""A document as one HTML file, everything inline, readable without scripts; and the packet's index.

Templates lie in templates/html. All text is escaped; only the drawings, made by `svg`, the
formulas, made by `mathml`, and the style sheet go in as they are.
"""

from __future__ import annotations

import base64
import re
from collections.abc import Mapping, Sequence
from functools import cache
from typing import TYPE_CHECKING, Any

from spec.files import templates
from spec.render import fonts
from spec.render.mathml import mathml
from spec.render.measures import pieces
from spec.render.plain import Data

if TYPE_CHECKING:
    from jinja2 import Environment
    from markupsafe import Markup

_SYLLABLE = re.compile(r"[^._/@-]*[._/@-]+|[^._/@-]+")
_MAY_NEED_CARE = re.compile(r"\d|\S{15}")
CONTENTS_FROM = 5
"""A document with this many headings of the first two levels gets a list of contents."""


def html(data: Data) -> bytes:
    """The document, as `plain` gives it, as one HTML file."""
    blocks = _blocks(data["blocks"])
    page = {
        "title": data["title"],
        "language": "-".join(filter(None, (data["lang"], data["region"]))),
        "paper": data["paper"],
        "head": data["head"],
        "blocks": blocks,
        "contents": _contents(blocks),
        "faces": _faces(italic=_has_emphasis(blocks)),
    }
    return _engine().get_template("document.html").render(page).encode()


def index(about: Any, folders: Sequence[Mapping[str, Any]], others: Sequence[Data]) -> bytes:
    """The packet's first page: every document by folder, its files and what is held."""
    page = {"about": about, "folders": folders, "others": others, "faces": _faces(italic=False)}
    return _engine().get_template("index.html").render(page).encode()


def _blocks(blocks: Sequence[Data]) -> list[Data]:
    """Blocks with anchors on the headings and page breaks turned into marks on what follows."""
    made: list[Data] = []
    new_page, headings = False, 0
    for block in blocks:
        if block["kind"] == "break":
            new_page = True
            continue
        copy = {**block, "new_page": new_page}
        new_page = False
        if block["kind"] == "heading":
            headings += 1
            copy["anchor"] = block["anchor"] or f"part-{headings}"
        made.append(copy)
    return made


def _contents(blocks: Sequence[Data]) -> list[Data]:
    chapters: list[Data] = []
    count = 0
    for block in blocks:
        if block["kind"] != "heading" or block["level"] > 2:
            continue
        count += 1
        entry = {"anchor": block["anchor"], "text": block["text"], "sections": []}
        if block["level"] == 1 or not chapters:
            chapters.append(entry)
        else:
            chapters[-1]["sections"].append(entry)
    return chapters if count >= CONTENTS_FROM else []


def _has_emphasis(blocks: Sequence[Data]) -> bool:
    if any(b["kind"] == "formula" for b in blocks):
        return True
    sentences = [b["sentence"] for b in blocks if "sentence" in b]
    sentences += [item for b in blocks for item in b.get("items", ())]
    return any(run["emphasis"] for sentence in sentences for run in sentence)


@cache
def _faces(*, italic: bool) -> Markup:
    from markupsafe import Markup

    wanted: list[tuple[fonts.Face, str, str]] = [
        ("regular", "400", "normal"),
        ("bold", "700", "normal"),
    ]
    if italic:
        wanted.append(("italic", "400", "italic"))
    rules = []
    for face, weight, style in wanted:
        inline = base64.b64encode(fonts.file(face, "woff2").read_bytes()).decode("ascii")
        rules.append(
            f'@font-face {{ font-family: "{fonts.metrics().family}"; font-weight: {weight}; '
            f"font-style: {style}; "
            f'src: url("data:font/woff2;base64,{inline}") format("woff2"); }}'
        )
    return Markup("\n".join(rules))


@cache
def _engine() -> Environment:
    from jinja2 import Environment, FileSystemLoader, StrictUndefined
    from markupsafe import Markup

    engine = Environment(
        loader=FileSystemLoader(templates() / "html"),
        undefined=StrictUndefined,
        autoescape=True,
        keep_trailing_newline=True,
    )
    engine.filters["css_string"] = lambda text: Markup(_css_string(text))
    engine.filters["drawing"] = Markup
    engine.filters["formula"] = lambda part: Markup(mathml(part))
    engine.filters["held_together"] = _held_together
    return engine


def _held_together(text: str) -> Markup:
    """The text with its measures in one piece each, and long words open to a break at signs."""
    from markupsafe import Markup, escape

    if not _MAY_NEED_CARE.search(text):
        return escape(text)

    def opened(words: str) -> Markup:
        parts = re.split(r"(\S{15,})", words)
        parts[1::2] = [Markup("<wbr>").join(_SYLLABLE.findall(word)) for word in parts[1::2]]
        return Markup("").join(map(escape, parts))

    return Markup("").join(
        Markup('<span class="whole">{}</span>').format(piece) if whole else opened(piece)
        for piece, whole in pieces(text)
    )


def _css_string(text: str) -> str:
    r"""A CSS string in which nothing but letters, digits and spaces stands for itself.

    >>> print(_css_string('a"</style>'))
    "a\22 \3C \2F style\3E "
    """
    return '"' + re.sub(r"[^A-Za-z0-9 ]", lambda sign: f"\\{ord(sign[0]):X} ", text) + '"'
