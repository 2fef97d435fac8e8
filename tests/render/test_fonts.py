"""The shipped fonts print what the documents need, and the small table says what they print."""

from __future__ import annotations

from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

from spec.render import fonts
from tests.render.sample import document

NEEDED = "½⅛¼⅜⅝¾⅞′″°²³☐☑×–—≤≥±≠≈λψΔθφρε⌀Ø€£§·…“”‘’→←↑↓□₂⁴⁻√−ÄÖÜßéñçŁžБЖΩ"
FACES: tuple[fonts.Face, ...] = ("regular", "bold", "italic")


@pytest.mark.parametrize("face", FACES)
@pytest.mark.parametrize("kind", ["ttf", "woff2"])
def test_the_table_says_what_each_font_holds(face: fonts.Face, kind: str) -> None:
    font = TTFont(fonts.folder() / fonts.file(face, kind).name)  # type: ignore[arg-type]
    units = font["head"].unitsPerEm
    held = {chr(c): font["hmtx"][name][0] / units for c, name in font.getBestCmap().items()}
    assert held == pytest.approx(fonts.metrics().widths[face], abs=0.0005)
    assert font["OS/2"].sCapHeight / units == fonts.metrics().capital_height
    assert font["name"].getDebugName(1) == fonts.metrics().family
    assert font["OS/2"].fsType == 0, "a document may carry the font"


def test_the_signs_of_the_trade_are_there() -> None:
    assert fonts.missing_glyphs(NEEDED) == ()


def test_the_fonts_are_small_and_licensed() -> None:
    files = [path for path in fonts.folder().iterdir() if path.suffix in (".ttf", ".woff2")]
    assert sum(path.stat().st_size for path in files) < 1_500_000
    license_text = (fonts.folder() / "LICENSE-OFL.txt").read_text(encoding="utf-8")
    assert "SIL OPEN FONT LICENSE Version 1.1" in license_text


def test_a_lacking_character_becomes_a_box_with_its_code_and_is_told() -> None:
    printed, missing = fonts.made_printable(document())
    assert missing == {"中", "村", "☃"}
    assert "□U+4E2D□U+6751, and □U+2603" in repr(printed)
    assert not missing & set(repr(printed))


def test_what_needs_no_change_is_not_copied() -> None:
    printed, _ = fonts.made_printable(document())
    again, missing = fonts.made_printable(printed)
    assert again is printed
    assert not missing


@pytest.mark.parametrize(
    "sign", ["\x00", "\x1b", "\x7f", "\ud800", "\ufeff", "\u200b", "\u202e", "😀"]
)
def test_no_control_or_half_character_reaches_a_page(sign: str) -> None:
    assert fonts.printable(f"a{sign}b") == f"a□U+{ord(sign):04X}b"


def test_widths_are_those_of_the_outlines() -> None:
    font = TTFont(Path(fonts.file("bold", "ttf")))
    word = "Elevation 7′ 6½″"
    glyphs = [font.getBestCmap()[ord(c)] for c in word]
    length = sum(font["hmtx"][name][0] for name in glyphs) / font["head"].unitsPerEm
    assert fonts.width(word, 10, "bold") == pytest.approx(10 * length, abs=0.05)
