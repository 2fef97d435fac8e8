"""A document with every kind of block, and some text that must stay text."""

from __future__ import annotations

from typing import Any

from spec.compose.blocks import (
    Block,
    Bullets,
    Document,
    Facts,
    Format,
    Head,
    Heading,
    Initials,
    PageBreak,
    Paragraph,
    Picture,
    Row,
    Run,
    Sentence,
    SignaturePanel,
    Table,
    say,
)
from spec.draw.scene import Circle, Dimension, Label, Polygon, Polyline, Scene, Shape
from spec.render.fonts import made_printable
from spec.render.press import Press

HOSTILE = (
    '#import "x": *  {{ 7*7 }} {% if %} {_{a}_} <script>alert(1)</script> $x$ *b* _i_ @r \\ & "q"'
)


def rectangle(x: float, y: float, wide: float, high: float) -> tuple[tuple[float, float], ...]:
    return ((x, y), (x + wide, y), (x + wide, y + high), (x, y + high))


def elevation() -> Scene:
    """A wall of 3600 by 2440 mm with a door, racks of bottles, boxes and dimension chains."""
    shapes: list[Shape] = [
        Polygon(rectangle(0, 0, 3600, 2440), "cut", "paper"),
        Polygon(rectangle(150, 0, 900, 2100), "outline", "light"),
        Polygon(rectangle(270, 200, 660, 1780), "thin", "glass"),
        Polyline(((930, 1990), (150 + 900, 1050), (930, 110)), "hidden"),
        Label((600, 1050), "D1\nglass 2 panes", strong=True),
        Polygon(rectangle(1300, 100, 2200, 1900), "outline", "mid"),
    ]
    shapes += [
        Circle((1360 + 104 * column, 170 + 190 * row), 40, "thin", "paper")
        for row in range(9)
        for column in range(20)
    ]
    shapes += [
        Polygon(rectangle(1130, 1080, 70, 115), "outline", "held"),
        Label((1165, 1300), "E4", 2.2),
        Label((2400, 2200), "light strip L2, 24 V", 2.2),
        Polyline(((1300, 2060), (3500, 2060)), "hidden"),
        Label((-60, 1200), "corner as found", 1.0, angle=90),
        Dimension((0, 2440), (150, 2440), "5⅞″", 200),
        Dimension((150, 2440), (1050, 2440), "2′ 11⁷⁄₁₆″", 200),
        Dimension((1050, 2440), (1130, 2440), "3⅛″", 200),
        Dimension((1130, 2440), (1200, 2440), "2¾″", 200),
        Dimension((1200, 2440), (1300, 2440), "3¹⁵⁄₁₆″", 200),
        Dimension((1300, 2440), (3500, 2440), "7′ 2⅝″", 200),
        Dimension((3500, 2440), (3600, 2440), "100", 200),
        Dimension((0, 2440), (3600, 2440), "11′ 9¾″ finished", 420),
        Dimension((3600, 0), (3600, 100), "100", -200),
        Dimension((3600, 100), (3600, 2000), "1900", -200),
        Dimension((3600, 2000), (3600, 2440), "440", -200),
        Dimension((0, 0), (0, 2440), "2440 ±3", 400),
        Dimension((150, 0), (1300, 600), "slope", 60),
    ]
    return Scene(tuple(shapes), 170)


def blocks() -> tuple[Block, ...]:
    rows = tuple(
        Row(
            (
                f"E{n}",
                "receptacle, 20 A" if n % 3 else "dimmer box\nat the door, outside",
                f"{n % 7}′ {n % 12}½″",
                "3′ 6″ (1067 mm)",
                "☐",
            ),
            tone="held" if n % 11 == 5 else "plain",
        )
        for n in range(1, 48)
    )
    return (
        Heading(1, "What this order holds"),
        Paragraph(
            Sentence(
                (
                    Run("Set "),
                    Run("every box", strong=True),
                    Run(" from the datum; "),
                    Run("never", emphasis=True),
                    Run(" from the rough floor. "),
                    Run("Dew point 12.8 °C, ψ 0.06 W/(m K), Δ ≤ 3 mm, ½ × ¾."),
                )
            )
        ),
        Paragraph(
            say("Lock out power before opening the panelboard. Local codes decide."), "caution"
        ),
        Paragraph(
            say("Held for material: the leaf width of D1 is open (client, by 2026-06-01)."), "held"
        ),
        Paragraph(say("As written in the job; conversions in parentheses."), "small"),
        Heading(2, "In the order of work"),
        Bullets(
            (
                say("Walk the room with the lead."),
                say("Mark " + "all heights " * 14 + "."),
                say("Rough in."),
            ),
            "number",
        ),
        Bullets((say("no screws between 2′ and 3′"), say("no boxes in W3")), "dash"),
        Bullets((say("boxes photographed with a tape"), say("sleeves foamed and taped")), "box"),
        Bullets((say("a second list starts at one"), say("two")), "number"),
        Heading(3, "Marks " + HOSTILE),
        Paragraph(say(HOSTILE)),
        Paragraph(say("A name the fonts lack: 中村, and ☃.")),
        Facts(
            "Evaporator RF1",
            (
                Row(("Set point", "55 °F (12.8 °C)")),
                Row(("Capacity", "open"), tone="held"),
                Row(("Noise", "≤ 42 dBA at 3′\nnight ≤ 38 dBA")),
            ),
        ),
        Table(
            "Boxes and plates",
            ("Mark", "What", "From left", "Finished floor to middle", "Done"),
            (*rows, Row(("", "47 boxes", "", "", ""), tone="total")),
            (1, 4, 2, 3, 1),
            frozenset({2, 3}),
        ),
        Heading(2, "Elevation of wall W1"),
        Picture(
            elevation(),
            "Wall W1 seen from inside",
            "Elevation of wall W1: door D1 at left, rack of nine rows at right.",
        ),
        PageBreak(),
        Heading(1, "To sign"),
        SignaturePanel(say("I have read pages 1 to 4 and agree."), ("Client", "Project lead")),
        Initials("Selections", "1a2b 3c4d 5e6f 7a8b"),
        Paragraph(say("End of the order.")),
    )


def document(name: str = "electrical", folder: str = "electrical", held: bool = True) -> Document:
    head = Head(
        job="26-031 Cellar at Alder Lane",
        title="Work order: electrical",
        revision="C",
        day="2026-05-04",
        fingerprint="9f2c 11d0 7ab4 e83e",
        held=("Held for material: 2 decisions open", "Held for build: 5 decisions open")
        if held
        else (),
    )
    return Document(name, folder, "Work order: electrical", "en-US", head, blocks())


def small(name: str, folder: str) -> Document:
    """A short document, for tests that write many packets."""
    whole = document(name, folder, held=False)
    return whole._replace(title=name, head=whole.head._replace(title=name), blocks=whole.blocks[:2])


def pressed(form: Format, **changes: Any) -> bytes:
    """The sample, with changes to its document, in one format."""
    changed = document()._replace(formats=(form,), **changes)
    printed, _ = made_printable(changed)
    ((_, content),) = Press().set(printed)
    return content
