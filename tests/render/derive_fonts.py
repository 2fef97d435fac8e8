"""Derive the shipped fonts from Source Sans 3 (npm package `source-sans`, SIL Open Font License).

    npm pack source-sans && tar xzf source-sans-*.tgz
    python tests/render/derive_fonts.py package/TTF templates/fonts

Source Sans carries a reserved font name, so the smaller fonts are called Scantling Sans:
fewer features, no hinting, and three signs of its own: U+2610 and U+2611 are plain boxes, large
enough to tick with a pencil, and the diameter sign U+2300 shows the outline of the slashed O.
`metrics.json` holds what the renderers need to know without a font library: coverage and
advance widths.
"""

from __future__ import annotations

import json
import sys
import unicodedata
from pathlib import Path

from fontTools import subset
from fontTools.pens.transformPen import TransformPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTFont

FAMILY = "Scantling Sans"
FACES = {"Regular": "Regular", "Bold": "Bold", "Italic": "It"}
FEATURES = ["kern", "mark", "mkmk", "ccmp", "locl", "tnum", "lnum"]
ALIASES = {0x2300: 0x00D8}
BOX, TICKED, TICK = 0x2610, 0x2611, 0x2713
UNSEEN = {"Cc", "Cf", "Co", "Cs"}  # controls, invisible formats, private use
EPOCH = 3_860_000_000  # seconds since 1904: any fixed instant keeps the bytes the same


def derive(source: Path, face: str) -> TTFont:
    """Subset and rename one face; the license stays in the name table."""
    font = TTFont(source, recalcTimestamp=False)
    for table in font["cmap"].tables:
        if table.isUnicode():
            for sign, outline in ALIASES.items():
                table.cmap.setdefault(sign, font.getBestCmap()[outline])
    _draw_boxes(font, 85 if face == "Bold" else 60)
    options = subset.Options(
        layout_features=FEATURES,
        hinting=False,
        name_IDs=[0, 1, 2, 3, 4, 5, 6, 13, 14],
        notdef_outline=True,
        recalc_timestamp=False,
        drop_tables=["DSIG", "FFTM", "BASE", "MATH"],
    )
    subsetter = subset.Subsetter(options)
    subsetter.populate(
        unicodes=[c for c in font.getBestCmap() if unicodedata.category(chr(c)) not in UNSEEN]
    )
    subsetter.subset(font)
    version = font["name"].getDebugName(5)
    for number, words in {
        1: FAMILY,
        2: face,
        3: f"{FAMILY} {face}, from Source Sans 3: {version}",
        4: f"{FAMILY} {face}",
        6: f"{FAMILY.replace(' ', '')}-{face}",
    }.items():
        font["name"].setName(words, number, 3, 1, 0x409)
    font["name"].names = [n for n in font["name"].names if n.platformID == 3]
    font["head"].modified = EPOCH
    return font


def _draw_boxes(font: TTFont, stroke: int) -> None:
    """Draw the empty and the ticked box in place of the fancier ones, 740 units square."""
    glyphs, names = font.getGlyphSet(), font.getBestCmap()
    low, high, left = -60, 680, 60
    for code in (BOX, TICKED):
        pen = TTGlyphPen(glyphs)
        for inset, order in ((0, 1), (stroke, -1)):
            x0, y0 = left + inset, low + inset
            x1, y1 = left + high - low - inset, high - inset
            corners = [(x0, y0), (x0, y1), (x1, y1), (x1, y0)][::order]
            pen.moveTo(corners[0])
            for corner in corners[1:]:
                pen.lineTo(corner)
            pen.closePath()
        if code == TICKED:
            wide = font["hmtx"][names[TICK]][0]
            glyphs[names[TICK]].draw(TransformPen(pen, (1, 0, 0, 1, left + 370 - wide / 2, 0)))
        font["glyf"][names[code]] = pen.glyph()
        font["hmtx"][names[code]] = (860, left)


def metrics(faces: dict[str, TTFont]) -> dict[str, object]:
    """Advance widths in thousandths of the letter size, by face, keyed by hexadecimal code."""
    regular = faces["Regular"]
    units = regular["head"].unitsPerEm
    widths = {
        face.lower(): {
            f"{code:04X}": round(1000 * font["hmtx"][glyph][0] / units)
            for code, glyph in sorted(font.getBestCmap().items())
        }
        for face, font in faces.items()
    }
    return {
        "family": FAMILY,
        "capital_height": round(1000 * regular["OS/2"].sCapHeight / units),
        "widths": widths,
    }


def main(source: Path, target: Path) -> None:
    """Write the TTF and WOFF2 files and metrics.json."""
    faces = {face: derive(source / f"SourceSans3-{end}.ttf", face) for face, end in FACES.items()}
    (target / "metrics.json").write_text(
        json.dumps(metrics(faces), separators=(",", ":")) + "\n", encoding="utf-8"
    )
    for face, font in faces.items():
        stem = target / f"ScantlingSans-{face}"
        font.save(stem.with_suffix(".ttf"))
        font.flavor = "woff2"
        font.save(stem.with_suffix(".woff2"))


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
