"""What documents are made of, before any file format.

Every sentence, row and dimension carries the addresses of the decisions that it
states (`cites`). Text is plain text: nothing in it is markup in any format.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, NamedTuple

if TYPE_CHECKING:
    from spec.draw.scene import Scene


Cites = frozenset[str]
NOTHING: Cites = frozenset()


class Run(NamedTuple):
    """A stretch of text in one style; `link` is a page and anchor that it leads to on a screen."""

    text: str
    strong: bool = False
    emphasis: bool = False
    link: str = ""


class Sentence(NamedTuple):
    """Text of one or more runs, with the addresses that it states."""

    runs: tuple[Run, ...]
    cites: Cites = NOTHING

    @property
    def text(self) -> str:
        """The sentence without its styles."""
        return "".join(run.text for run in self.runs)


def say(text: str, cites: Cites = NOTHING, *, strong: bool = False) -> Sentence:
    """A sentence of one run."""
    return Sentence((Run(text, strong=strong),), cites)


class Heading(NamedTuple):
    """A heading; level 1 opens a chapter, 2 a section, 3 a paragraph group.

    `anchor` is the name under which a link finds it, where one is to.
    """

    level: Literal[1, 2, 3]
    text: str
    anchor: str = ""


class Paragraph(NamedTuple):
    """Running text. `tone` is how it is set, not what it means for the job."""

    sentence: Sentence
    tone: Literal["plain", "caution", "held", "small"] = "plain"


class Bullets(NamedTuple):
    """A list; `marks` says whether items are dashes, numbers or boxes to tick."""

    items: tuple[Sentence, ...]
    marks: Literal["dash", "number", "box"] = "dash"


class Row(NamedTuple):
    """One row of a table. A cell may hold several lines (newline)."""

    cells: tuple[str, ...]
    cites: Cites = NOTHING
    tone: Literal["plain", "held", "total"] = "plain"


class Table(NamedTuple):
    """A table with a repeated head. `widths` are relative; figures are set right-aligned."""

    caption: str
    columns: tuple[str, ...]
    rows: tuple[Row, ...]
    widths: tuple[float, ...] = ()
    right: frozenset[int] = frozenset()


class Facts(NamedTuple):
    """Label and value pairs about one thing: a two-column table without a head."""

    title: str
    rows: tuple[Row, ...]


class Formula(NamedTuple):
    """One case of a formula in the notation of `spec.derive.notation`, with its remark.

    What does not follow the notation, or is nothing but words, is set as text.
    """

    text: str
    cites: Cites = NOTHING


class Code(NamedTuple):
    """Lines of a job file as they are typed, every blank kept."""

    text: str


class Picture(NamedTuple):
    """A drawing with its caption. `alt` says in words what it shows."""

    scene: Scene
    caption: str
    alt: str
    cites: Cites = NOTHING


class Photo(NamedTuple):
    """A photograph, a JPEG or PNG file's content, with its caption; `alt` says what it shows."""

    content: bytes
    caption: str
    alt: str
    cites: Cites = NOTHING
    width_on_paper: float = 85.0


class SignaturePanel(NamedTuple):
    """Lines to sign on: who signs, under what sentence; each gets name, date and signature."""

    sentence: Sentence
    signers: tuple[str, ...]


class Initials(NamedTuple):
    """A box to initial the section above it; `fingerprint` is that section's."""

    section: str
    fingerprint: str


@dataclass(frozen=True, slots=True)
class PageBreak:
    """What follows starts on a new page."""


Block = (
    Heading
    | Paragraph
    | Bullets
    | Table
    | Facts
    | Formula
    | Code
    | Picture
    | Photo
    | SignaturePanel
    | Initials
    | PageBreak
)


class Head(NamedTuple):
    """What stands in the head and foot of every page; `day` is ISO 8601 or says there is none.

    What belongs to no job leaves `day` empty; its `revision` says in words which issue it is.
    """

    job: str
    title: str
    revision: str
    day: str
    fingerprint: str
    held: tuple[str, ...] = ()
    """One line for each gate that is held, printed on every page; empty when all are released."""


Format = Literal["pdf", "docx", "html"]


class Document(NamedTuple):
    """One document: its file stem, its folder in the packet, its head and its blocks.

    `language` is a tag by BCP 47 ("en", "en-US"); `formats` says as what it is written.
    """

    name: str
    folder: str
    title: str
    language: str
    head: Head
    blocks: tuple[Block, ...]
    paper: Literal["letter", "a4"] = "letter"
    formats: tuple[Format, ...] = ("pdf", "docx", "html")


def cites_of(blocks: Sequence[Block]) -> frozenset[str]:
    """Every address that these blocks state."""
    found: set[str] = set()
    for block in blocks:
        for cites in _cites(block):
            found |= cites
    return frozenset(found)


def _cites(block: Block) -> Iterator[frozenset[str]]:
    match block:
        case Paragraph(sentence=sentence) | SignaturePanel(sentence=sentence):
            yield sentence.cites
        case Bullets(items=items):
            for item in items:
                yield item.cites
        case Table(rows=rows) | Facts(rows=rows):
            for row in rows:
                yield row.cites
        case Picture(cites=cites, scene=scene):
            yield cites | scene.cites
        case Photo(cites=cites) | Formula(cites=cites):
            yield cites
        case _:
            return
