"""A scene as SVG: the same text for the same scene, to be shown at its size on paper."""

from __future__ import annotations

from dataclasses import dataclass
from xml.sax.saxutils import escape

from spec.draw.scene import Fill, Pen, Scene
from spec.render import fonts
from spec.render.marks import Disk, Mark, Stroke, Words
from spec.render.paper import Sheet, lay_out

INK = "#2a2c2b"
QUIET = "#8b918c"
_PENS: dict[Pen, tuple[float, str, str]] = {
    "outline": (0.4, INK, ""),
    "thin": (0.18, INK, ""),
    "hidden": (0.2, INK, "1.6 1"),
    "dimension": (0.13, "#4d5653", ""),
    "cut": (0.7, INK, ""),
    "quiet": (0.13, QUIET, ""),
    "quiet_hidden": (0.15, QUIET, "1.2 1"),
    "axis": (0.15, INK, "4 0.8 0.6 0.8"),
}
_FILLS: dict[Fill, str] = {
    "none": "none",
    "paper": "#ffffff",
    "light": "#f2ede2",
    "mid": "#d8cdb8",
    "dark": "#8f8069",
    "glass": "#d9e8e6",
    "held": "#f2d3c4",
}


@dataclass(frozen=True, slots=True)
class Drawing:
    """SVG text and its size on paper in millimeters."""

    svg: str
    width: float
    height: float


def draw(scene: Scene, widest: float = 170.0, highest: float = 195.0) -> Drawing:
    """The scene as SVG, at most `widest` by `highest` millimeters on paper."""
    sheet = lay_out(scene, widest, highest)
    width, height = _number(sheet.width), _number(sheet.height)
    body = "\n".join(_mark(mark, sheet) for mark in sheet.marks)
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
        f'viewBox="0 0 {width} {height}" font-family="{fonts.metrics().family}" '
        f'fill="none" stroke-linejoin="round" stroke-linecap="round">\n{body}\n</svg>\n'
    )
    return Drawing(svg, float(width), float(height))


def _mark(mark: Mark, sheet: Sheet) -> str:
    match mark:
        case Stroke():
            points = " ".join(",".join(_point(p, sheet)) for p in mark.points)
            name = "polygon" if mark.closed else "polyline"
            fill = f' fill="{_FILLS[mark.fill]}"' if mark.fill != "none" else ""
            return f'<{name} points="{points}"{fill}{_pen(mark.pen)}/>'
        case Disk():
            x, y = _point(mark.center, sheet)
            fill = f' fill="{_FILLS[mark.fill]}"' if mark.fill != "none" else ""
            return f'<circle cx="{x}" cy="{y}" r="{_number(mark.radius)}"{fill}{_pen(mark.pen)}/>'
        case Words():
            return _words(mark, sheet)


def _words(words: Words, sheet: Sheet) -> str:
    """Text with a halo of paper, so that lines beneath it do not strike it through."""
    x, y = _point(words.at, sheet)
    drop = _number(words.size * fonts.metrics().capital_height / 2)
    turn = f" rotate({_number(-words.angle)})" if words.angle else ""
    weight = ' font-weight="700"' if words.strong else ""
    return (
        f'<text transform="translate({x} {y}){turn}" y="{drop}" '
        f'font-size="{_number(words.size)}" text-anchor="{words.anchor}"{weight} '
        f'fill="{INK}" stroke="#ffffff" stroke-width="0.6" paint-order="stroke">'
        f"{escape(words.text)}</text>"
    )


def _pen(pen: Pen) -> str:
    width, color, dashes = _PENS[pen]
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    return f' stroke="{color}" stroke-width="{_number(width)}"{dashed}'


def _point(point: tuple[float, float], sheet: Sheet) -> tuple[str, str]:
    return _number(point[0] - sheet.low[0]), _number(sheet.high[1] - point[1])


def _number(value: float) -> str:
    """Hundredths of a millimeter, without trailing zeros and without a negative zero."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
